package mesh_test

import (
	"bytes"
	"context"
	"fmt"
	"strings"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

func ExampleLoad() {
	part, err := mesh.Load("../testdata/reference/tube.stl", mesh.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d triangles, closed: %v, %.0f mm3\n", part.Triangles, part.Report.Closed, part.Mesh.SignedVolume())
	// Output: 352 triangles, closed: true, 36800 mm3
}

func ExampleLoad_missing() {
	_, err := mesh.Load("lost.stl", mesh.Options{})
	fmt.Println(err)
	// Output: lost.stl: there is no such file: check the name and the folder
}

// A file in inches gives a mesh in millimetres.
func ExampleLoadFrom() {
	text := `solid plate
		facet normal 0 0 -1 outer loop vertex 0 0 0 vertex 0 1 0 vertex 1 0 0 endloop endfacet
		facet normal 0 -1 0 outer loop vertex 0 0 0 vertex 1 0 0 vertex 0 0 1 endloop endfacet
		facet normal -1 0 0 outer loop vertex 0 0 0 vertex 0 0 1 vertex 0 1 0 endloop endfacet
		facet normal 1 1 1 outer loop vertex 1 0 0 vertex 0 1 0 vertex 0 0 1 endloop endfacet
		endsolid plate`
	part, err := mesh.LoadFrom(strings.NewReader(text), "corner.stl", mesh.Options{Unit: mesh.Inch})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f mm3\n", part.Mesh.SignedVolume()) // 25.4^3 / 6
	// Output: 2731.177 mm3
}

func ExampleStreamFrom() {
	var file bytes.Buffer
	if err := mesh.Write(&file, mesh.Cuboid(r3.Vec{}, r3.Vec{X: 120, Y: 70, Z: 5})); err != nil {
		fmt.Println(err)
		return
	}
	s, err := mesh.StreamFrom(context.Background(), &file, "plate.stl", mesh.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(s.Triangles, s.Balanced, s.VolumeMM3, s.AreaMM2)
	// Output: 12 true 42000 18700
}

// A box without its lid has one gap of four edges.
func ExampleCheck() {
	box := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 40, Y: 30, Z: 20})
	open := &mesh.Mesh{Vertices: box.Vertices}
	for f, face := range box.Faces {
		if a, b, c := box.Triangle(f); min(a.Z, b.Z, c.Z) < 20 {
			open.Faces = append(open.Faces, face)
		}
	}
	r := mesh.Check(open)
	fmt.Println(r.Closed, r.OpenEdges, r.Gaps[0].Edges, r.Gaps[0].At)
	// Output: false 4 4 {20 15 20}
}

func ExampleIntersections() {
	block := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10})
	rod := mesh.Cuboid(r3.Vec{X: -5, Y: 4, Z: 4.5}, r3.Vec{X: 15, Y: 5, Z: 6})
	_, pairs := mesh.Intersections(mesh.Merge(block, rod))
	fmt.Println(pairs > 0)
	// Output: true
}
