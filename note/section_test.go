package note

import (
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam/section"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/note/render"
	"swapworth/quantity"
)

func namedSection(t *testing.T, text string) SectionReport {
	t.Helper()
	shape, err := section.ParseShape(text)
	if err != nil {
		t.Fatal(err)
	}
	r := SectionReport{Section: shape.String(), Region: shape.Region()}
	if r.Report, err = shape.Report(0.3); err != nil {
		t.Fatal(err)
	}
	return r
}

// rows returns the second cell of every table row by its first.
func rows(doc render.Document) map[string]string {
	out := map[string]string{}
	for _, b := range doc.Blocks {
		if table, ok := b.(render.Table); ok {
			for _, r := range table.Rows {
				out[r[0]] = r[1]
			}
		}
	}
	return out
}

func TestASectionIsLaidOutWithTheNamesOfItsAxes(t *testing.T) {
	block := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	region, err := cut.Section(block, mesh.AxisPlane(mesh.Y, 4))
	if err != nil {
		t.Fatal(err)
	}
	r := SectionReport{File: "block.stl", Cut: AxisCut(mesh.Y, 4), Region: region}
	if r.Report, err = section.NewReport(region, 0.3); err != nil {
		t.Fatal(err)
	}
	doc := r.Document()
	if doc.Lead[0].Text != "block.stl cut at y = 4 mm: one piece without holes." {
		t.Errorf("lead %q", doc.Lead[0].Text)
	}
	got := rows(doc)
	for name, want := range map[string]string{
		"size along z and x, mm":                         "5 x 100",
		"second moment of area about z, mm4":             "416667", // 5 100^3/12
		"second moment of area about x, mm4":             "1041.67",
		"section modulus about z, +x side, mm3":          "8333.33",
		"centroid (z, x), mm":                            "2.5, 50",
		"axis of the largest, from z towards x, degrees": "0.00",
		"shear centre (z, x), mm":                        "2.5, 50",
	} {
		if got[name] != want {
			t.Errorf("%s: %q, want %q", name, got[name], want)
		}
	}
}

func TestARoundHasNoWarpingAndNoProduct(t *testing.T) {
	got := rows(namedSection(t, "tube 20x2").Document())
	if got["warping constant, mm6"] != "0" || got["product of area, mm4"] != "0" {
		t.Errorf("warping %q, product %q", got["warping constant, mm6"], got["product of area, mm4"])
	}
}

func TestWhatWasNotSolvedIsADash(t *testing.T) {
	r := namedSection(t, "rect 40x4")
	r.J, r.ShearArea, r.ShearCentre, r.Warping = nil, nil, nil, nil
	got := rows(r.Document())
	for _, name := range []string{"torsion constant, mm4", "shear area along x, mm2", "shear centre (x, y), mm", "warping constant, mm6"} {
		if got[name] != missing {
			t.Errorf("%s: %q, want %q", name, got[name], missing)
		}
	}
}

func TestTheFigureOfASectionSaysWhatItShows(t *testing.T) {
	doc := namedSection(t, "I 200x100x5.6x8.5 r12").Document()
	f := doc.Blocks[len(doc.Blocks)-1].(render.Later)(quantity.Metric)[0].(render.Picture)
	if !strings.Contains(f.Alt, "100 x 200 mm") || f.Draw == nil {
		t.Errorf("last block %+v", doc.Blocks[len(doc.Blocks)-1])
	}
}
