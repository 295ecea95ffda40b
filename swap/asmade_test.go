package swap

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// loaded is a mesh as if it had been read from a file.
func loaded(t *testing.T, m *mesh.Mesh, err error) *mesh.Loaded {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	return &mesh.Loaded{Path: "part.stl", Mesh: m, Triangles: len(m.Faces), Report: mesh.Check(m)}
}

func rect(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func ngon(n int, x, y, r float64) []r2.Vec {
	out := make([]r2.Vec, n)
	for k := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		out[k] = r2.Vec{X: x + r*cos, Y: y + r*sin}
	}
	return out
}

// pierced is a region with holes, all outlines counter-clockwise.
func pierced(outer []r2.Vec, holes ...[]r2.Vec) cut.Region {
	p := cut.Polygon{Outer: outer}
	for _, h := range holes {
		h = slices.Clone(h)
		slices.Reverse(h)
		p.Holes = append(p.Holes, h)
	}
	return cut.Region{p}
}

func TestADepartureThatTheMeshDoesNotAllowIsARowThatSaysWhy(t *testing.T) {
	aluminium := material(t, "6082-T6")
	round, err := cut.Extrude(cut.Region{{Outer: ngon(48, 0, 0, 8)}}, mesh.AxisPlane(mesh.X, 0), 120)
	c := Case{
		Old: Side{Loaded: bar(120, 20, 20), Material: aluminium}, New: Side{Loaded: loaded(t, round, err), Material: aluminium},
		Limits: DefaultLimits(), Loading: Loading{Method: ByBeam},
	}
	drawn := decide(t, c)
	c.Making.NotFaced = []NotFaced{{Side: r3.Vec{Z: 1}, Stock: 18, Name: "+z"}}
	r := decide(t, c)
	if len(r.AsMade) != 2 || !r.AsMade[0].Used || r.AsMade[1].Used {
		t.Fatalf("rows %+v, want the part as drawn, used, and one that says why", r.AsMade)
	}
	row := r.AsMade[1]
	if row.Volume != nil || row.Mass != nil || len(row.Notes) != 1 || !strings.Contains(row.Notes[0], "no level face on its +z side") {
		t.Errorf("row %+v", row)
	}
	if !strings.Contains(strings.Join(r.Warnings, "\n"), "no level face on its +z side") {
		t.Errorf("warnings %q", r.Warnings)
	}
	// 2 mm of stock over the bar's shadow of 120 x 16 may be there
	most := 2. * 120 * 16 * aluminium.Density.High * 1e-6
	if got := r.New.Mass.High - drawn.New.Mass.High; got < most || got > 1.05*most { // and sizes as milled
		t.Errorf("the mass may be %g g more, want %g", got, most)
	}
}

func TestTheErrorOfARowHoldsWhatFlatFacesHide(t *testing.T) {
	aluminium := material(t, "6082-T6")
	plate, err := cut.Extrude(pierced(rect(0, 0, 120, 60), ngon(12, 60, 30, 20)), mesh.AxisPlane(mesh.Z, 0), 4)
	c := Case{
		Old: Side{Loaded: bar(120, 60, 5), Material: aluminium}, New: Side{Loaded: loaded(t, plate, err), Material: aluminium},
		Limits: DefaultLimits(), Loading: Loading{Method: ByBeam},
	}
	c.Making.NotFaced = []NotFaced{{Side: r3.Vec{Z: 1}, Stock: 5, Name: "+z"}}
	row := decide(t, c).AsMade[1]
	exact := 5 * (120*60 - math.Pi*400)
	if off := math.Abs(*row.Volume - exact); off > *row.VolumeError || *row.VolumeError > 2*off {
		t.Errorf("%g mm3 +- %g, exactly %g", *row.Volume, *row.VolumeError, exact)
	}
}

// An origin error of 0.2 mm shifts the second side by 0.4 mm along x and along y:
// its pocket, and the blind hole that a pin of the machine goes into.
func TestAnOriginErrorIsARowForEachAxisOfTheTable(t *testing.T) {
	aluminium := material(t, "6082-T6")
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0),
		cut.Layer{Thickness: 4, Region: pierced(rect(0, 0, 120, 60), rect(5, 12, 45, 48), ngon(48, 100, 30, 4))}, // opens downwards
		cut.Layer{Thickness: 2, Region: pierced(rect(0, 0, 120, 60))},
		cut.Layer{Thickness: 6, Region: pierced(rect(0, 0, 120, 60), rect(10, 8, 90, 52))})
	part := loaded(t, m, err)
	c := Case{Old: Side{Loaded: part, Material: aluminium}, New: Side{Loaded: part, Material: aluminium}, Limits: DefaultLimits(), Loading: Loading{Method: ByBeam}}
	c.Making.OriginError = 0.2
	r := decide(t, c)
	if len(r.AsMade) != 3 {
		t.Fatalf("%d rows, want the part as drawn and one for each axis", len(r.AsMade))
	}
	for k, want := range []struct{ name, wall string }{
		{"sides out of register by 0.4 mm along -x", "thinnest wall between the sides 4.6 mm, drawn with 5 mm"},
		{"sides out of register by 0.4 mm along ", "thinnest wall between the sides"},
	} {
		row := r.AsMade[k+1]
		notes := strings.Join(row.Notes, "\n")
		if !strings.HasPrefix(row.Name, want.name) || row.Used || math.Abs(*row.ChangePercent) > 1e-6 {
			t.Errorf("row %+v", row)
		}
		for _, text := range []string{"1 pocket and 1 hole of the second side land 0.4 mm off", want.wall, "does not bolt on", "moved by 0.4 mm"} {
			if !strings.Contains(notes, text) {
				t.Errorf("%s: notes %q say nothing of %q", row.Name, notes, text)
			}
		}
	}
}
