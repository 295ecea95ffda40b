package beam

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

// A turned part is off its size by the last digit of its file's coordinates.
func TestAPartAtALimitIsNotBeyondIt(t *testing.T) {
	r := ofPart(t, flatPart(t, 10.000002, box(0, 0, 100, 10.00003)), steel, Setup{Load: mesh.Z})
	if len(r.Warnings) != 0 {
		t.Errorf("span over depth of 10 is warned of: %q", r.Warnings)
	}
	r = ofPart(t, flatPart(t, 10.000002, box(0, 0, 30, 12)), steel, Setup{Load: mesh.Z})
	if r.Stiffness == nil {
		t.Errorf("span over depth of 3 is refused: %s", r.Refused)
	}
}

func TestAShortSpanIsWarnedOf(t *testing.T) {
	r := ofPart(t, flatPart(t, 10, box(0, 0, 80, 20)), steel, Setup{Load: mesh.Z})
	if !strings.Contains(strings.Join(r.Warnings, "\n"), "span over depth is 8, under 10") {
		t.Errorf("warnings %q", r.Warnings)
	}
	slender := ofPart(t, flatPart(t, 8, box(0, 0, 200, 20)), steel, Setup{Load: mesh.Z})
	if len(slender.Warnings) != 0 {
		t.Errorf("a slender bar is warned of: %q", slender.Warnings)
	}
}

// roundEnded is a bar whose low end is half a disc.
func roundEnded() []r2.Vec {
	var outline []r2.Vec
	for i := range 65 {
		a := math.Pi/2 + math.Pi*float64(i)/64
		outline = append(outline, r2.Vec{X: 15 + 15*math.Cos(a), Y: 15 * math.Sin(a)})
	}
	return append(outline, loop(160, -15, 160, 15)...)
}

// Everything that is no beam gets no number, a reason and where to turn to.
func TestWhatIsNoBeamIsRefusedWithTheReason(t *testing.T) {
	apart := mesh.Merge(mesh.Cuboid(r3.Vec{}, r3.Vec{X: 50, Y: 10, Z: 5}), mesh.Cuboid(r3.Vec{X: 60}, r3.Vec{X: 120, Y: 10, Z: 5}))
	edge, err := cut.Extrude(cut.Region{{Outer: loop(0, 0, 50, 0, 50, 10, 0, 10)}, {Outer: loop(50, 10, 100, 10, 100, 20, 50, 20)}},
		mesh.AxisPlane(mesh.Z, 0), 5)
	if err != nil {
		t.Fatal(err)
	}
	// a rod that hangs in a tube by a lip of 0.25 mm
	tube, rod := cut.Region{{Outer: reversed(bore(0, 0, 20)), Holes: [][]r2.Vec{bore(0, 0, 15)}}}, only(reversed(bore(0, 0, 15.5)))
	hung, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: tube, Thickness: 100}, cut.Layer{Region: rod, Thickness: 100})
	if err != nil {
		t.Fatal(err)
	}
	c, s := math.Cos(math.Pi/6), 0.5
	m := 8 * math.Tan(math.Pi/12)
	for _, x := range []struct {
		name string
		part *mesh.Mesh
		s    Setup
		says string
	}{
		{"a stub", flatPart(t, 10, box(0, 0, 25, 10)), Setup{Load: mesh.Y}, "span over depth is 2.5, under 3"},
		{"two lengths", apart, Setup{Load: mesh.Z}, "there is no material at x = 5"},
		{"two bars that touch at an edge", edge, Setup{Load: mesh.Z}, "lie beside each other"},
		{"a rod that hangs in a tube", hung, Setup{Span: mesh.Z, Load: mesh.X}, "lie beside each other"},
		{"a fork", flatPart(t, 8, loop(0, 0, 200, 0, 200, 10, 100, 10, 100, 20, 200, 20, 200, 30, 0, 30)), Setup{Load: mesh.Y}, "separate pieces"},
		{"a bar with a long slot", flatPart(t, 8, box(0, 0, 400, 60), window(150, 28, 350, 32)), Setup{Load: mesh.Y}, "separate pieces"},
		{"a bar with a large hole", flatPart(t, 5, box(0, 0, 150, 20), bore(70, 10, 14)), Setup{Load: mesh.Z}, "cut-outs take 70 % of the section"},
		{"a bar bent by 30 degrees", flatPart(t, 7, loop(0, -8, 80+m, -8, 80+m+70*c, -8+70*s, 80+m+70*c, -8+70*s+16/c, 80-m, 8, 0, 8)),
			Setup{Load: mesh.Y}, "its axis is not straight"},
		{"a round end held", flatPart(t, 8, roundEnded()), Setup{Load: mesh.Z}, "changes abruptly"},
		{"a comb", flatPart(t, 8, comb(20)), Setup{Load: mesh.Y}, "changes abruptly"},
	} {
		r, err := OfPart(x.part, steel, x.s)
		if err != nil {
			t.Errorf("%s: %v", x.name, err)
			continue
		}
		if !strings.Contains(r.Refused, x.says) || !strings.Contains(r.Refused, "use the solid check") || !slices.Contains(r.Warnings, r.Refused) ||
			strings.Contains(r.Refused, "\n") {
			t.Errorf("%s: refused with %q, warned of %q", x.name, r.Refused, r.Warnings)
		}
		for _, v := range []*float64{r.Stiffness, r.Deflection, r.MaxStress, r.SafetyFactor, r.Frequency, r.YieldForce} {
			if v != nil {
				t.Errorf("%s: a number all the same: %+v", x.name, r)
				break
			}
		}
	}
}

// comb is a bar 10 deep with teeth as deep again.
func comb(teeth int) []r2.Vec {
	out := []r2.Vec{{}, {X: 200}}
	pitch := 200 / float64(teeth)
	for i := teeth - 1; i >= 0; i-- {
		x := float64(i) * pitch
		out = append(out, loop(x+pitch, 10, x+pitch*0.75, 10, x+pitch*0.75, 20, x+pitch*0.25, 20, x+pitch*0.25, 10)...)
	}
	return append(out, r2.Vec{Y: 10})
}

// What lies beyond the load or outside the supports only weighs.
func TestTheOverhangMayBeAnything(t *testing.T) {
	m := flatPart(t, 8, box(0, 0, 260, 20), bore(230, 10, 14))
	r := ofPart(t, m, steel, Setup{Load: mesh.Z, At: at(200)})
	plain := ofPart(t, flatPart(t, 8, box(0, 0, 200, 20)), steel, Setup{Load: mesh.Z})
	near(t, "stiffness", *r.Stiffness, *plain.Stiffness, 1e-6)
	if !(*r.Frequency < *plain.Frequency) {
		t.Errorf("%g Hz with an overhang, %g without", *r.Frequency, *plain.Frequency)
	}
}

// Clean steps, gentle changes and small holes are beams.
func TestWhatIsABeamByDesignIsTaken(t *testing.T) {
	for name, x := range map[string]struct {
		part *mesh.Mesh
		s    Setup
	}{
		"a taper":            {flatPart(t, 5, loop(0, 0, 200, 9, 200, 11, 0, 20)), Setup{Load: mesh.Z}},
		"a step":             {flatPart(t, 8, loop(0, 0, 200, 0, 200, 12, 80, 12, 80, 24, 0, 24)), Setup{Load: mesh.Y}},
		"a hole of 8 %":      {flatPart(t, 5, box(0, 0, 150, 40), bore(70, 20, 3.2)), Setup{Load: mesh.Z}},
		"a chamfered end":    {flatPart(t, 8, loop(1, 0, 199, 0, 200, 1, 200, 19, 199, 20, 1, 20, 0, 19, 0, 1)), Setup{Load: mesh.Y}},
		"a round end beyond": {flatPart(t, 8, roundEnded()), Setup{Load: mesh.Z, From: at(20)}},
		"a bar 1:10 askew":   {flatPart(t, 8, loop(0, 0, 200, 20, 200, 40, 0, 20)), Setup{Load: mesh.Y}},
	} {
		if r := ofPart(t, x.part, steel, x.s); !(-r.MethodError.Low < 0.15 && r.MethodError.High < 0.15) {
			t.Errorf("%s: error %+v", name, *r.MethodError)
		}
	}
}

// The root of a bar in a half-space turns as 0.442 of its depth more would
// (O'Donnell); behind a hole the two idle triangles are twice its area (Kirsch).
func TestStressSpreadsAsTheSourcesSay(t *testing.T) {
	// with I(x) of an even depth h + 2 s x, the flexibility beyond the step is
	// h/(4 s) of the bar's own
	near(t, "root of a bar, in depths", 1/(4*stepSpread), 0.442, 1e-3)
	near(t, "idle triangles over the hole", 2*(1/holeSpread)/math.Pi, 2, 1e-12)
}

// (1+t^2)^2 is how much softer a strut at the tangent t is along the span: a
// bar that leans by t along the load and keeps the I of its cuts has
// 3 E I/L^3 (1+t^2)^-2. The bound is that, with nothing left over.
func TestALeaningBarIsBoundedByItself(t *testing.T) {
	const length, depth, thick, lean = 400.0, 12.0, 12.0, 0.15
	bar := flatPart(t, thick, loop(0, 0, length, lean*length, length, lean*length+depth, 0, depth))
	r := ofPart(t, bar, noPoisson, Setup{Load: mesh.Y})
	near(t, "own error", r.MethodError.Own, 1-1/math.Pow(1+lean*lean, 2), 0.01)
}
