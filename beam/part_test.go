package beam

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

func loop(points ...float64) []r2.Vec {
	var out []r2.Vec
	for i := 0; i < len(points); i += 2 {
		out = append(out, r2.Vec{X: points[i], Y: points[i+1]})
	}
	return out
}

func window(x0, y0, x1, y1 float64) []r2.Vec { return reversed(box(x0, y0, x1, y1)) }

// bore is a round hole of 64 chords, clockwise.
func bore(x, y, d float64) []r2.Vec {
	var out []r2.Vec
	for i := range 64 {
		a := -2 * math.Pi * float64(i) / 64
		out = append(out, r2.Vec{X: x + d/2*math.Cos(a), Y: y + d/2*math.Sin(a)})
	}
	return out
}

// flatPart is an outline in x and y with openings, thick along z.
func flatPart(t checker, thick float64, outer []r2.Vec, holes ...[]r2.Vec) *mesh.Mesh {
	t.Helper()
	m, err := cut.Extrude(cut.Region{{Outer: outer, Holes: holes}}, mesh.AxisPlane(mesh.Z, 0), thick)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func ofPart(t checker, m *mesh.Mesh, e materials.Elastic, s Setup) Result {
	t.Helper()
	r, err := OfPart(m, e, s)
	if err != nil {
		t.Fatal(err)
	}
	if r.Stiffness == nil {
		t.Fatal("refused: " + r.Refused)
	}
	return r
}

func TestAMeshOfABarIsTheBar(t *testing.T) {
	steel := noPoisson // without it a clamp has no hold on the width
	m := flatPart(t, 10, box(0, 0, barLength, 20))
	for _, support := range []Support{Cantilever, SimplySupported, FixedFixed, Propped} {
		for _, load := range []mesh.Axis{mesh.Y, mesh.Z} {
			s := Setup{Support: support, Load: load, Force: 30, AttachedMass: 50}
			part, shape := ofPart(t, m, steel, s), shapeBeam(t, "rect 20x10mm", barLength, steel, s)
			near(t, support.String()+" stiffness", *part.Stiffness, *shape.Stiffness, 1e-6)
			near(t, support.String()+" stress", *part.MaxStress, *shape.MaxStress, 1e-6)
			near(t, support.String()+" frequency", *part.Frequency, *shape.Frequency, 1e-6)
		}
	}
}

func TestHeldAtTheOtherEndAPartIsItsMirrorImage(t *testing.T) {
	m := flatPart(t, 8, loop(0, 0, 200, 8, 200, 22, 0, 30))
	mirrored := flatPart(t, 8, loop(0, 8, 200, 0, 200, 30, 0, 22))
	high := 200.0
	a := ofPart(t, m, steel, Setup{Load: mesh.Z, From: &high, Force: 5})
	b := ofPart(t, mirrored, steel, Setup{Load: mesh.Z, Force: 5})
	near(t, "stiffness", *a.Stiffness, *b.Stiffness, 1e-4)
	if a.From != 200 || a.LoadAt != 0 {
		t.Errorf("held at %g, loaded at %g", a.From, a.LoadAt)
	}
}

// Dimensional analysis: k ~ E L, f ~ sqrt(E/rho)/L, stress ~ F/L^2.
func TestScalingAPartScalesItsAnswers(t *testing.T) {
	base := flatPart(t, 6, box(0, 0, 150, 24), bore(60, 12, 2))
	want := ofPart(t, base, steel, Setup{Load: mesh.Z, Force: 10})
	property.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(0.2, 5).Draw(t, "size")
		stiff := rapid.Float64Range(0.1, 10).Draw(t, "modulus")
		force := rapid.Float64Range(0.5, 20).Draw(t, "force")
		big := &mesh.Mesh{Faces: base.Faces}
		for _, v := range base.Vertices {
			big.Vertices = append(big.Vertices, r3.Scale(size, v))
		}
		e := steel
		e.YoungsModulus *= stiff
		got := ofPart(t, big, e, Setup{Load: mesh.Z, Force: 10 * force})
		near(t, "stiffness", *got.Stiffness, *want.Stiffness*size*stiff, 1e-6)
		near(t, "deflection", *got.Deflection, *want.Deflection*force/(size*stiff), 1e-6)
		near(t, "stress", *got.MaxStress, *want.MaxStress*force/(size*size), 1e-6)
		near(t, "frequency", *got.Frequency, *want.Frequency*math.Sqrt(stiff)/size, 1e-6)
		near(t, "yield force", *got.YieldForce, *want.YieldForce*size*size, 1e-6)
	})
}

func TestMoreMaterialIsStiffer(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.5, 1.8).Draw(t, "diameter")
		more := rapid.Float64Range(1.05, 1.4).Draw(t, "larger by")
		x := rapid.Float64Range(20, 130).Draw(t, "x")
		small := ofPart(t, flatPart(t, 5, box(0, 0, 150, 30), bore(x, 15, d)), steel, Setup{Load: mesh.Z})
		large := ofPart(t, flatPart(t, 5, box(0, 0, 150, 30), bore(x, 15, d*more)), steel, Setup{Load: mesh.Z})
		if *large.Stiffness > *small.Stiffness*1.0005 {
			t.Errorf("a hole of %g mm at %g mm leaves %g N/mm, one of %g mm %g", d*more, x, *large.Stiffness, d, *small.Stiffness)
		}
	})
}

func TestBadSetupsAreRefusedInOneLine(t *testing.T) {
	m := flatPart(t, 8, box(0, 0, 200, 20))
	far, start := 300.0, 0.0
	for name, c := range map[string]struct {
		e materials.Elastic
		s Setup
	}{
		"load along the span":  {steel, Setup{}},
		"no stiffness":         {materials.Elastic{}, Setup{Load: mesh.Z}},
		"load outside":         {steel, Setup{Load: mesh.Z, At: &far}},
		"load at the clamp":    {steel, Setup{Load: mesh.Z, At: &start}},
		"supports coincide":    {steel, Setup{Load: mesh.Z, From: &start, To: &start}},
		"load at a support":    {steel, Setup{Load: mesh.Z, Support: SimplySupported, At: &start}},
		"buckles":              {steel, Setup{Load: mesh.Z, Loads: []Load{{Kind: AxialForce, Value: -1e9}}}},
		"no such support":      {steel, Setup{Load: mesh.Z, Support: 9}},
		"sideways on the span": {steel, Setup{Load: mesh.Z, Loads: []Load{{Kind: PointForce, Value: 1, Along: mesh.X}}}},
	} {
		_, err := OfPart(m, c.e, c.s)
		if err == nil || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A cantilever of two depths: M = F (L-x), V = F, E I jumps once.
func TestTheCurveShowsBothSidesOfAStep(t *testing.T) {
	m := flatPart(t, 8, loop(0, 0, 200, 0, 200, 10, 80, 10, 80, 20, 0, 20))
	r := ofPart(t, m, steel, Setup{Load: mesh.Y, Force: 10})
	jumps := 0
	for i, p := range r.Curve {
		near(t, "shear", *p.Shear, 10, 1e-6)
		if abs(abs(*p.Moment)-10*(200-p.At)) > 1e-3 {
			t.Errorf("moment %g at %g", *p.Moment, p.At)
		}
		if i > 0 && p.At == r.Curve[i-1].At {
			jumps++
			near(t, "at", p.At, 80, 1e-9)
			near(t, "ratio of EI", r.Curve[i-1].EI/p.EI, 8, 1e-9)
		}
		if i > 0 && *p.Deflection < *r.Curve[i-1].Deflection {
			t.Errorf("the beam comes back at %g", p.At)
		}
	}
	if jumps != 1 {
		t.Errorf("%d jumps", jumps)
	}
	near(t, "tip", *r.Curve[len(r.Curve)-1].Deflection, *r.Deflection, 1e-9)
}

func TestWithoutALoadTheYieldForceIsGiven(t *testing.T) {
	m := flatPart(t, 5, box(0, 0, 200, 20))
	r := ofPart(t, m, steel, Setup{Load: mesh.Z})
	if r.Load != nil || r.MaxStress != nil || r.Deflection != nil || r.SafetyFactor != nil {
		t.Errorf("stress without a load: %+v", r)
	}
	near(t, "yield force", *r.YieldForce, 235*20*25/6.0/200, 1e-4) // F L/W = yield
}

// Whatever the part, the answer is finite numbers, a refusal or one line of
// error.
func TestAnyPartGetsAnAnswerOrAReason(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		length := rapid.Float64Range(1, 500).Draw(t, "length")
		var low, high []r2.Vec
		n := rapid.IntRange(2, 7).Draw(t, "corners")
		for i := range n {
			x := length * float64(i) / float64(n-1)
			y := rapid.Float64Range(0, 30).Draw(t, "y")
			low = append(low, r2.Vec{X: x, Y: y})
			high = append([]r2.Vec{{X: x, Y: y + rapid.Float64Range(0.5, 40).Draw(t, "height")}}, high...)
		}
		m := flatPart(t, rapid.Float64Range(0.1, 60).Draw(t, "thick"), append(low, high...))
		s := Setup{
			Load:         mesh.Axis(rapid.IntRange(1, 2).Draw(t, "load")),
			Support:      Support(rapid.IntRange(0, 3).Draw(t, "support")),
			Force:        rapid.Float64Range(-100, 100).Draw(t, "force"),
			AttachedMass: rapid.Float64Range(0, 1e4).Draw(t, "mass"),
			OwnWeight:    rapid.Bool().Draw(t, "weight"),
			Loads: []Load{
				{Kind: Torque, Value: rapid.Float64Range(-1e3, 1e3).Draw(t, "torque")},
				{Kind: Couple, Value: rapid.Float64Range(-1e3, 1e3).Draw(t, "couple"), Along: mesh.Y},
			},
		}
		r, err := OfPart(m, steel, s)
		if err != nil || r.Refused != "" {
			return
		}
		for name, v := range map[string]*float64{"stiffness": r.Stiffness, "deflection": r.Deflection,
			"stress": r.MaxStress, "frequency": r.Frequency, "yield force": r.YieldForce, "twist": r.Twist} {
			if v == nil && name == "frequency" {
				continue // a steep stub has no mode along the load
			}
			if v == nil || math.IsNaN(*v) || math.IsInf(*v, 0) {
				t.Errorf("%s: %v", name, v)
			}
		}
		if !(*r.Stiffness > 0) || r.Frequency != nil && !(*r.Frequency > 0) || r.MethodError.Low > 0 || r.MethodError.High < 0 {
			t.Errorf("stiffness %g, frequency %v, error %+v", *r.Stiffness, r.Frequency, r.MethodError)
		}
	})
}
