// Command generate writes the demo parts: STL files, and demo.json with their
// volumes and centroids in closed form. Run it from the project's root:
//
//	go run ./testdata/generate
//
// It writes the same bytes every time.
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"log"
	"os"
	"path/filepath"

	"gonum.org/v1/gonum/spatial/r3"
	"swapworth/mesh"
)

func main() {
	log.SetFlags(0)
	to := flag.String("to", "testdata", "write into `FOLDER`")
	flag.Parse()
	if err := generate(*to); err != nil {
		log.Fatal("generate: ", err)
	}
}

// entry is what demo.json says of a sound part.
type entry struct {
	File  string `json:"file"`
	What  string `json:"what"`
	Drawn solid  `json:"drawn"` // the polyhedron in the file
	Round solid  `json:"round"` // with true circles
}

// damaged is what demo.json says of a file that is wrong in one way.
type damaged struct {
	File string `json:"file"`
	What string `json:"what"`
}

func generate(folder string) error {
	if err := os.MkdirAll(filepath.Join(folder, "broken"), 0o755); err != nil {
		return err
	}
	var listing struct {
		Parts  []entry   `json:"parts"`
		Broken []damaged `json:"broken"`
	}
	for _, p := range []part{armOld(), armNew(), plateOld(), plateNew()} {
		m, err := p.mesh()
		if err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
		e := entry{File: p.name + ".stl", What: p.what,
			Drawn: p.solid(func(s shape) moment { return s.drawn }),
			Round: p.solid(func(s shape) moment { return s.round })}
		if err := mesh.WriteFile(filepath.Join(folder, e.File), m, true); err != nil {
			return err
		}
		listing.Parts = append(listing.Parts, e)
		if p.name != "arm_old" {
			continue
		}
		e.File = "arm_old_ascii.stl"
		e.What += ", as text"
		if err := os.WriteFile(filepath.Join(folder, e.File), asText(m, "arm old"), 0o644); err != nil {
			return err
		}
		listing.Parts = append(listing.Parts, e)
		if listing.Broken, err = breakArm(folder, m); err != nil {
			return err
		}
	}
	text, err := json.MarshalIndent(listing, "", "  ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "demo.json"), append(text, '\n'), 0o644)
}

// breakArm writes the arm with one thing wrong a file.
func breakArm(folder string, arm *mesh.Mesh) ([]damaged, error) {
	var list []damaged
	write := func(name, what string, m *mesh.Mesh) error {
		list = append(list, damaged{"broken/" + name, what})
		return mesh.WriteFile(filepath.Join(folder, "broken", name), m, true)
	}
	onHub := func(v r3.Vec) bool { return v.Z == 14 }
	for _, b := range []struct {
		name, what string
		mesh       *mesh.Mesh
	}{
		{"arm_open.stl", "the ring on top of the hub is missing", withoutFaces(arm, onHub)},
		{"arm_inside_out.stl", "every face looks inwards", turnedInsideOut(arm)},
		{"arm_inch.stl", "drawn in inches", scaled(arm, 1/25.4)},
		{"arm_metre.stl", "drawn in metres", scaled(arm, 1e-3)},
	} {
		if err := write(b.name, b.what, b.mesh); err != nil {
			return nil, err
		}
	}
	whole, err := os.ReadFile(filepath.Join(folder, "broken", "arm_inside_out.stl"))
	if err != nil {
		return nil, err
	}
	list = append(list, damaged{"broken/arm_cut_short.stl", "the file ends in the middle of a triangle"})
	short := whole[:84+50*100+17]
	return list, os.WriteFile(filepath.Join(folder, "broken", "arm_cut_short.stl"), short, 0o644)
}

// asText writes a mesh in the text form of STL.
func asText(m *mesh.Mesh, name string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "solid %s\n", name)
	for f := range m.Faces {
		a, p, q := m.Triangle(f)
		n := r3.Unit(r3.Cross(r3.Sub(p, a), r3.Sub(q, a)))
		fmt.Fprintf(&b, "  facet normal %.6g %.6g %.6g\n    outer loop\n", n.X, n.Y, n.Z)
		for _, v := range []r3.Vec{a, p, q} {
			fmt.Fprintf(&b, "      vertex %.9g %.9g %.9g\n", float32(v.X), float32(v.Y), float32(v.Z))
		}
		b.WriteString("    endloop\n  endfacet\n")
	}
	fmt.Fprintf(&b, "endsolid %s\n", name)
	return b.Bytes()
}
