package solid

import (
	"context"
	"errors"
	"math"
	"runtime"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"swapworth/materials"
	"swapworth/mesh"
)

var aluminium = materials.Elastic{YoungsModulus: 70000, Poisson: 0.33, Yield: 240, Density: 2700}

func bar(long, wide, thick float64) *mesh.Mesh {
	return mesh.Cuboid(r3.Vec{}, r3.Vec{X: long, Y: wide, Z: thick})
}

func TestBadInputIsRefusedInOneLineThatSaysWhatToDo(t *testing.T) {
	good := bar(100, 20, 5)
	open := &mesh.Mesh{Vertices: good.Vertices, Faces: good.Faces[1:]}
	inside := &mesh.Mesh{Vertices: good.Vertices}
	for _, f := range good.Faces {
		inside.Faces = append(inside.Faces, [3]int32{f[0], f[2], f[1]})
	}
	usual, err := EndProblem(good, mesh.X, mesh.Z, "cantilever", 100)
	if err != nil {
		t.Fatal(err)
	}
	at := func(hold, load Place) Problem {
		return Problem{Supports: []Support{Clamped(hold)}, Cases: []Case{{Name: "z", Loads: []Load{{Place: load, Force: r3.Vec{Z: 1}}}}}}
	}
	low, high := EndPlace(mesh.X, false), EndPlace(mesh.X, true)
	for _, c := range []struct {
		name, says string
		m          *mesh.Mesh
		e          materials.Elastic
		p          Problem
		o          Options
	}{
		{"open mesh", "not closed (3 open edges)", open, aluminium, usual, Options{}},
		{"inside out", "encloses no volume", inside, aluminium, usual, Options{}},
		{"no modulus", "Young's modulus", good, materials.Elastic{Poisson: 0.3}, usual, Options{}},
		{"rubber", "Poisson's ratio 0.5", good, materials.Elastic{YoungsModulus: 1, Poisson: 0.5}, usual, Options{}},
		{"nothing held", "nothing holds", good, aluminium, Problem{Cases: usual.Cases}, Options{}},
		{"nothing loaded", "nothing loads", good, aluminium, Problem{Supports: usual.Supports}, Options{}},
		{"no force", "nothing that loads", good, aluminium, Problem{Supports: usual.Supports, Cases: []Case{{Name: "z", Loads: []Load{{Place: high}}}}}, Options{}},
		{"load where it is held", "end:low, which is held", good, aluminium, at(low, low), Options{}},
		{"load within what is held", "nothing moves", good, aluminium,
			at(Inside(mesh.Box{Max: r3.Vec{X: 50, Y: 20, Z: 5}}), Inside(mesh.Box{Max: r3.Vec{X: 10, Y: 20, Z: 5}})), Options{Unknowns: 3000}},
		{"missing hole", "the part has 0 holes", good, aluminium, at(Bolted(1, 0), high), Options{}},
		{"far point", "mm away", good, aluminium, at(FaceAt(r3.Vec{X: 500}, r3.Vec{}), high), Options{}},
		{"no such direction", "no face looks that way", good, aluminium, at(FaceAt(r3.Vec{}, r3.Vec{X: 1, Y: 1}), high), Options{}},
		{"empty box", "no material in box", good, aluminium, at(Inside(mesh.Box{Min: r3.Vec{X: -9, Y: -9, Z: -9}, Max: r3.Vec{X: -5, Y: -5, Z: -5}}), high), Options{}},
		{"section beside the part", "lies outside the part", good, aluminium, at(low, Section(mesh.X, 300)), Options{}},
		{"free to turn", "held against every rigid motion", good, aluminium,
			Problem{Supports: []Support{{low, [3]bool{true, false, false}}}, Cases: usual.Cases}, Options{Unknowns: 3000}},
		{"free to slide", "held against every rigid motion", good, aluminium,
			Problem{Supports: []Support{{low, [3]bool{true, false, true}}}, Cases: usual.Cases}, Options{Unknowns: 30000}},
		{"little memory", "of memory", good, aluminium, usual, Options{Unknowns: 3_000_000, Memory: 100e6}},
	} {
		_, err := Check(context.Background(), c.m, c.e, c.p, c.o)
		switch {
		case err == nil:
			t.Errorf("%s: no error", c.name)
		case !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n"):
			t.Errorf("%s: %q does not say %q in one line", c.name, err, c.says)
		}
	}
}

func TestACheckStopsWhenItIsCancelled(t *testing.T) {
	m := bar(100, 20, 5)
	p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 1)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	opt := Options{Unknowns: 20000, Progress: func(float64) { cancel() }}
	if _, err := Check(ctx, m, aluminium, p, opt); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want context.Canceled", err)
	}
}

func TestProgressRisesToOne(t *testing.T) {
	m := bar(100, 20, 5)
	p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 1)
	if err != nil {
		t.Fatal(err)
	}
	last := 0.0
	opt := Options{Unknowns: 5000, Peaks: true, Spare: true, Progress: func(share float64) {
		if share < last {
			t.Errorf("progress fell from %g to %g", last, share)
		}
		last = share
	}}
	if _, err := Check(context.Background(), m, aluminium, p, opt); err != nil {
		t.Fatal(err)
	}
	if math.Abs(last-1) > 1e-9 {
		t.Errorf("progress ended at %g", last)
	}
}

func TestTheNumberOfCoresChangesNothing(t *testing.T) {
	m, _ := loadReference(t, "carriage_new")
	p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 100)
	if err != nil {
		t.Fatal(err)
	}
	var got []Result
	for _, cores := range []int{1, 2} {
		before := runtime.GOMAXPROCS(cores)
		r := solve(t, m, aluminium, p, Options{Unknowns: 7000, Modes: 1})
		runtime.GOMAXPROCS(before)
		got = append(got, r)
	}
	a, b := got[0], got[1]
	if a.Stiffness != b.Stiffness || a.MaxStress != b.MaxStress || *a.Frequency != *b.Frequency {
		t.Errorf("one core %v %v %v, two cores %v %v %v",
			a.Stiffness, a.MaxStress, *a.Frequency, b.Stiffness, b.MaxStress, *b.Frequency)
	}
}

// Neither where a part lies nor which axis is its longest may matter.
func TestPlaceAndNamesOfAxesDoNotMatter(t *testing.T) {
	m, _ := loadReference(t, "ribbed")
	stiffness := func(m *mesh.Mesh, span, load mesh.Axis) float64 {
		p, err := EndProblem(m, span, load, "cantilever", 100)
		if err != nil {
			t.Fatal(err)
		}
		return solve(t, m, aluminium, p, Options{Unknowns: 8000}).Stiffness
	}
	want := stiffness(m, mesh.X, mesh.Z)
	far := m.Transformed(mesh.Translation(r3.Vec{X: 4096, Y: -2048, Z: 1024}))
	near(t, "far from the origin", stiffness(far, mesh.X, mesh.Z), want, 1e-6)
	turned := &mesh.Mesh{Faces: m.Faces} // x, y, z become y, z, x
	for _, v := range m.Vertices {
		turned.Vertices = append(turned.Vertices, r3.Vec{X: v.Z, Y: v.X, Z: v.Y})
	}
	near(t, "with other axes", stiffness(turned, mesh.Y, mesh.X), want, 1e-6)
}

// A slab askew to the axes, clamped and loaded on faces named by a point and a
// direction, is as stiff as one along the axes. The grid turns with it; with a
// load on a box, which lies along the axes, it cannot, and cuts the slab askew.
func TestATiltedSlabIsAsStiffAsAStraightOne(t *testing.T) {
	t.Parallel()
	m, ref := loadReference(t, "slab")
	turn := mesh.Translation(r3.Vec{X: 30, Y: 5, Z: 7}).Compose(mesh.RotationAbout(r3.Vec{X: 0.3, Y: 1, Z: 0.5}, 0.4))
	face := func(x, nx float64) Place {
		return FaceAt(turn.Apply(r3.Vec{X: x, Y: 10, Z: 2.5}), turn.Turn(r3.Vec{X: nx}))
	}
	tilted := m.Transformed(turn)
	all := tilted.Bounds()
	all.Max.Z -= 0.01
	push := turn.Turn(r3.Vec{Z: 100})
	for _, c := range []struct {
		name    string
		load    Place
		turned  bool
		want    float64 // N/mm
		percent float64
	}{
		{"pushed at its end", face(100, 1), true, ref.Case.K["z_fine"], 0.5},
		// a cantilever under its own weight gives F^2/(f.u) = 20 EI/L^3, 20/3 of that at the end
		{"pushed all over", Inside(all), false, ref.Case.K["z_fine"] * 20 / 3, 4},
	} {
		p := Problem{
			Supports: []Support{Clamped(face(0, -1))},
			Cases:    []Case{{Name: c.name, Loads: []Load{{Place: c.load, Force: push}}}},
		}
		body, err := NewBody(tilted)
		if err != nil {
			t.Fatal(err)
		}
		set, err := body.newCheck(aluminium, p, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if set.f.turned != c.turned {
			t.Errorf("%s: the grid is turned: %v, want %v", c.name, set.f.turned, c.turned)
		}
		r := solve(t, tilted, aluminium, p, Options{Unknowns: 32000})
		near(t, c.name, r.Stiffness, c.want, c.percent)
	}
}

func TestSeveralLoadCasesGiveWhatEachGivesAlone(t *testing.T) {
	m, _ := loadReference(t, "slab")
	opt := Options{Unknowns: 8000}
	var both Problem
	var alone []float64
	for i, axis := range []mesh.Axis{mesh.Z, mesh.Y} {
		p, err := EndProblem(m, mesh.X, axis, "cantilever", 100)
		if err != nil {
			t.Fatal(err)
		}
		alone = append(alone, solve(t, m, aluminium, p, opt).Stiffness)
		if i == 0 {
			both = p
		} else {
			both.Cases = append(both.Cases, p.Cases...)
		}
	}
	r := solve(t, m, aluminium, both, opt)
	for i, want := range alone {
		if r.Cases[i].Stiffness != want {
			t.Errorf("case %d: %g together, %g alone", i, r.Cases[i].Stiffness, want)
		}
	}
	if got := r.Cases[0].Reaction; math.Abs(got[2]+100) > 1e-2 || math.Abs(got[0])+math.Abs(got[1]) > 1e-2 {
		t.Errorf("reaction %v, want -100 N along z", got)
	}
}

// A part with a rounded end has no flat face there; the last twentieth of it
// stands in, and the result says so.
func TestARoundedEndIsHeldByItsLastTwentieth(t *testing.T) {
	disc := round(0, 0, 20, 48)
	turned := make([]r2.Vec, len(disc)) // by half a chord: one stands across the span
	for i, v := range disc {
		turned[i] = r2.Rotate(v, math.Pi/48, r2.Vec{})
	}
	for _, outline := range [][]r2.Vec{disc, turned} {
		m := extruded(t, outline, mesh.Z, 0, 4)
		p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 1)
		if err != nil {
			t.Fatal(err)
		}
		p.Cases = append(p.Cases, p.Cases[0]) // whose end is the same
		r := solve(t, m, aluminium, p, Options{Unknowns: 5000})
		all := strings.Join(r.Warnings, " ")
		if !strings.Contains(all, "no flat face at end:low and end:high along x") || strings.Count(all, "no flat face") != 1 {
			t.Errorf("warnings %q do not tell once of both missing faces", r.Warnings)
		}
	}
}

// 48 E I/L^3 of a simply supported beam (Roark's Formulas for Stress and Strain),
// L between the middles of what stands in for the ends: held along their whole
// length they would not turn, and the bar would come out almost four times as
// stiff.
func TestARoundEndOnASupportTurns(t *testing.T) {
	const long, wide, thick = 200.0, 10.0, 6.0
	var outline []r2.Vec
	for i := range 49 {
		a := math.Pi * (float64(i)/48 - 0.5)
		outline = append(outline, r2.Vec{X: long - wide/2 + wide/2*math.Cos(a), Y: wide / 2 * math.Sin(a)})
	}
	for i := range 49 {
		a := math.Pi * (float64(i)/48 + 0.5)
		outline = append(outline, r2.Vec{X: wide/2 + wide/2*math.Cos(a), Y: wide / 2 * math.Sin(a)})
	}
	m := extruded(t, outline, mesh.Z, 0, thick)
	p, err := EndProblem(m, mesh.X, mesh.Z, "simply-supported", 1)
	if err != nil {
		t.Fatal(err)
	}
	r := solve(t, m, aluminium, p, Options{Unknowns: 20000})
	between := long * 0.95
	inertia := wide * thick * thick * thick / 12
	near(t, "stiffness", r.Stiffness, 48*aluminium.YoungsModulus*inertia/(between*between*between), 2)
}

func TestThePeakAtAClampIsCalledGridDependent(t *testing.T) {
	m, _ := loadReference(t, "slab")
	p, err := EndProblem(m, mesh.X, mesh.Z, "cantilever", 10)
	if err != nil {
		t.Fatal(err)
	}
	r := solve(t, m, aluminium, p, Options{Unknowns: 20000})
	if c := r.Cases[0]; !c.GridBound || c.StressAt[0] > 2 {
		t.Errorf("peak at %.1f, grid-dependent %v: want it at the clamp and flagged", c.StressAt, c.GridBound)
	}
	// nominal bending stress away from the clamp: M c/I a coarse cell from it
	edge := r.Grids[0].Edge[0]
	nominal := 10 * (100 - edge) * 6 / (20 * 25)
	near(t, "stress away from the clamp", r.Cases[0].AwayStress, nominal, 3)
}
