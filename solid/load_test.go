package solid

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

var alloy = materials.Elastic{YoungsModulus: 70000, Poisson: 0.3, Density: 2700, Yield: 250}

// ringOf is a plate of a thickness, mm, between two radii; the inner may be zero.
func ringOf(t testing.TB, outer, inner, thick float64, chords int) *mesh.Mesh {
	t.Helper()
	round := func(radius, way float64) (p []r2.Vec) {
		for k := range chords {
			sin, cos := math.Sincos(way * 2 * math.Pi * float64(k) / float64(chords))
			p = append(p, r2.Vec{X: radius * cos, Y: radius * sin})
		}
		return
	}
	p := cut.Polygon{Outer: round(outer, 1)}
	if inner > 0 {
		p.Holes = [][]r2.Vec{round(inner, -1)}
	}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{p}, Thickness: thick})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Clamped round plate under uniform pressure: w = q a^4/(64 D) in the middle
// (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, section 16),
// and the edge moment q a^2/8, whose stress is 3/4 q (a/t)^2.
func TestAClampedRoundPlateUnderPressure(t *testing.T) {
	t.Parallel()
	const a, thick, q = 60.0, 2.0, 0.1
	p := Problem{
		Supports: []Support{Clamped(Rim(1))},
		Cases:    []Case{{Name: "pressure", Loads: []Load{{Place: FaceAt(r3.Vec{Z: thick}, r3.Vec{Z: 1}), Pressure: q}}}},
	}
	r := solve(t, ringOf(t, a, 0, thick, 96), alloy, p, Options{Unknowns: 60000})
	d := 70000 * thick * thick * thick / (12 * (1 - 0.3*0.3))
	c := r.Cases[0]
	near(t, "deflection of the middle", c.Deflection, q*a*a*a*a/(64*d), 2)
	if c.Kind != ByDeflection || c.Deflection != c.Largest || math.Abs(c.Measure()*c.Deflection-1) > 1e-12 {
		t.Errorf("a pressure is measured by the largest deflection: %+v", c)
	}
	near(t, "force", -c.Applied[2], q*math.Pi*a*a, 0.2)
}

// Cantilever under an end moment: M L^2/(2 EI) at the end, turned by M L/(EI)
// (Roark's Formulas for Stress and Strain, beams, case 3a).
func TestACantileverUnderAnEndMoment(t *testing.T) {
	const l, wide, thick, m = 120.0, 12.0, 6.0, 500.0
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: l, Y: wide, Z: thick})
	end := EndPlace(mesh.X, true)
	p := Problem{
		Supports: []Support{Clamped(EndPlace(mesh.X, false))},
		Cases: []Case{
			{Name: "bent", Loads: []Load{{Place: end, Moment: r3.Vec{Y: m}}}},
			{Name: "twisted", Loads: []Load{{Place: end, Moment: r3.Vec{X: -m}}}},
		},
	}
	r := solve(t, bar, materials.Elastic{YoungsModulus: 70000, Poisson: 0}, p, Options{Unknowns: 7000})
	ei := 70000 * wide * thick * thick * thick / 12
	bent, twisted := r.Cases[0], r.Cases[1]
	near(t, "turn", bent.Rotation, m*l/ei, 0.3)
	near(t, "angular stiffness", bent.Angular, ei/l, 0.3)
	near(t, "largest deflection", bent.Deflection, m*l*l/(2*ei), 0.3)
	// a couple about y turns x towards -z
	near(t, "reaction", bent.Reactions[0].Moment[1], -m, 0.1)
	near(t, "twist", twisted.Rotation, m*l/(35000*0.229*wide*thick*thick*thick), 1.5)
	if bent.Kind != ByMoment || bent.Stiffness != 0 {
		t.Errorf("a moment alone is measured by rotation: %+v", bent)
	}
}

// Bar hanging by one end, accelerated along itself: rho a L^2/(2 E) at the free
// end (Roark, bars under their own weight), rho a L at the held end.
func TestABarUnderItsOwnAcceleration(t *testing.T) {
	const l, side, a = 200.0, 10.0, 5000.0 // m/s2
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: l, Y: side, Z: side})
	e := alloy
	e.Poisson = 0
	mass := e.Density * 1e-6 * l * side * side // g
	p := Problem{
		Supports: []Support{Clamped(EndPlace(mesh.X, false))},
		Cases: []Case{
			{Name: "alone", Acceleration: r3.Vec{X: a}},
			{Name: "with a mass", Acceleration: r3.Vec{X: -a}, Masses: []Mass{{Place: EndPlace(mesh.X, true), Grams: 50}}},
		},
	}
	r := solve(t, bar, e, p, Options{Unknowns: 7000})
	alone, with := r.Cases[0], r.Cases[1]
	// density: kg/m3 times m/s2 is N/m3, 1e-9 N/mm3
	near(t, "own weight", alone.Deflection, e.Density*1e-9*a*l*l/(2*e.YoungsModulus), 0.1)
	near(t, "its reaction", alone.Reaction[0], mass*1e-3*a, 0.01)
	near(t, "with a mass", with.Deflection, (mass/2+50)*1e-3*a*l/(e.YoungsModulus*side*side), 0.1)
	near(t, "its reaction", with.Reaction[0], -(mass+50)*1e-3*a, 0.01)
	if alone.Kind != ByDeflection || alone.Load != 0 || alone.YieldForce != nil {
		t.Errorf("own acceleration is measured by the largest deflection: %+v", alone)
	}
}

// Thick tube under inner pressure: Lame's solution (Timoshenko and Goodier,
// Theory of Elasticity, section 28). The outer wall moves by
// u = 2 p a^2 b/(E (b^2 - a^2)) in plane stress.
func TestLamesThickTubeUnderInnerPressure(t *testing.T) {
	t.Parallel()
	const a, b, p, young = 10.0, 20.0, 30.0, 70000.0
	tube := ringOf(t, b, a, 6, 96)
	problem := Problem{
		// one face held along the axis alone; a ring of points at one end stops the rest
		Supports: []Support{
			{Place: FaceAt(r3.Vec{X: 15}, r3.Vec{Z: -1}), Hold: [3]bool{false, false, true}},
			{Place: Inside(mesh.Box{Min: r3.Vec{X: a - 1, Y: -0.2, Z: -1}, Max: r3.Vec{X: b + 1, Y: 0.2, Z: 7}}), Hold: [3]bool{false, true, false}},
			{Place: Inside(mesh.Box{Min: r3.Vec{X: -0.2, Y: a - 1, Z: -1}, Max: r3.Vec{X: 0.2, Y: b + 1, Z: 7}}), Hold: [3]bool{true, false, false}},
		},
		Cases: []Case{{Name: "pressure", Loads: []Load{{Place: Bore(1), Pressure: p}}}},
	}
	r := solve(t, tube, materials.Elastic{YoungsModulus: young, Poisson: 0.3}, problem, Options{Unknowns: 40000,
		LookAt: []Spot{{At: r3.Vec{X: a * math.Sqrt2 / 2, Y: a * math.Sqrt2 / 2, Z: 3}, Radius: 3}}})
	c := r.Cases[0]
	// at the bore s_t = p (b^2 + a^2)/(b^2 - a^2) and s_r = -p, von Mises
	hoop := p * (b*b + a*a) / (b*b - a*a)
	asked := c.Peaks[len(c.Peaks)-1] // away from what holds the tube
	for _, k := range c.Peaks {
		t.Logf("%.1f: %v, %.4g", k.At, k.Stress, k.Levels)
	}
	near(t, "stress at the bore", asked.Stress.Nominal, math.Sqrt(hoop*hoop+hoop*p+p*p), 7)
	// the bore moves most: u = p a/E ((b^2 + a^2)/(b^2 - a^2) + nu)
	near(t, "the bore", c.Deflection, p*a/young*((b*b+a*a)/(b*b-a*a)+0.3), 1.5)
}

func TestALoadCaseWithNothingToDoIsRefusedByName(t *testing.T) {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 60, Y: 10, Z: 5})
	low, high := Clamped(EndPlace(mesh.X, false)), EndPlace(mesh.X, true)
	for name, c := range map[string]struct {
		p    Problem
		e    materials.Elastic
		want string
	}{
		"no load":              {Problem{Supports: []Support{low}, Cases: []Case{{Name: "jerk", Loads: []Load{{Place: high}}}}}, alloy, `"jerk" has nothing that loads`},
		"no hold":              {Problem{Cases: []Case{{Name: "jerk", Loads: []Load{{Place: high, Pressure: 1}}}}}, alloy, `nothing holds the part in load case "jerk"`},
		"held where loaded":    {Problem{Supports: []Support{low}, Cases: []Case{{Name: "jerk", Loads: []Load{{Place: low.Place, Moment: r3.Vec{X: 1}}}}}}, alloy, "which is held"},
		"pressure inside":      {Problem{Supports: []Support{low}, Cases: []Case{{Name: "jerk", Loads: []Load{{Place: Section(mesh.X, 30), Pressure: 1}}}}}, alloy, "acts on a surface"},
		"no density":           {Problem{Supports: []Support{low}, Cases: []Case{{Name: "jerk", Acceleration: r3.Vec{X: 1}}}}, materials.Elastic{YoungsModulus: 1}, "density"},
		"infinite":             {Problem{Supports: []Support{low}, Cases: []Case{{Name: "jerk", Loads: []Load{{Place: high, Moment: r3.Vec{X: math.Inf(1)}}}}}}, alloy, "finite"},
		"weightless passenger": {Problem{Supports: []Support{low}, Cases: []Case{{Name: "jerk", Acceleration: r3.Vec{X: 1}, Masses: []Mass{{Place: high}}}}}, alloy, "a mass of 0 g"},
		"no such rim":          {Problem{Supports: []Support{Clamped(Rim(1))}, Cases: []Case{{Name: "jerk", Acceleration: r3.Vec{X: 1}}}}, alloy, "rim:1: the part has 0 outer round walls"},
	} {
		_, err := Check(t.Context(), bar, c.e, c.p, Options{Unknowns: 2000, Grids: 2})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, expected %q", name, err, c.want)
		}
	}
}

func TestCasesWithSupportsOfTheirOwnStandInTheirOrder(t *testing.T) {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 60, Y: 10, Z: 5})
	low, high := EndPlace(mesh.X, false), EndPlace(mesh.X, true)
	one := func(name string, hold, load Place, f r3.Vec) Case {
		return Case{Name: name, Supports: []Support{Clamped(hold)}, Loads: []Load{{Place: load, Force: f}}}
	}
	p := Problem{Cases: []Case{
		one("a", low, high, r3.Vec{Z: 5}), one("b", high, low, r3.Vec{Z: 10}), one("c", low, high, r3.Vec{Y: 20}),
	}}
	opt := Options{Unknowns: 3000, Grids: 2}
	r := solve(t, bar, alloy, p, opt)
	var names string
	for _, c := range r.Cases {
		names += c.Name
	}
	if names != "abc" || r.Cases[0].Reaction[2] > -4.9 || r.Cases[1].Reaction[2] > -9.9 || r.Cases[2].Reaction[1] > -19.9 {
		t.Errorf("cases out of order: %+v", r.Cases)
	}
	near(t, "moment of the hold", r.Cases[0].Reactions[0].Moment[1], 5*60, 0.1)
	near(t, "held at the other end", r.Cases[1].Stiffness, r.Cases[0].Stiffness, 0.1)
}

// A moment about y turns x towards -z: it does work on a force along -z at the end.
func TestAMomentTurnsTheRightWayAndAForceLeads(t *testing.T) {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 60, Y: 10, Z: 5})
	end := EndPlace(mesh.X, true)
	p := Problem{Supports: []Support{Clamped(EndPlace(mesh.X, false))}}
	for _, c := range []struct {
		name          string
		force, moment r3.Vec
	}{
		{"with y", r3.Vec{Z: -1e-3}, r3.Vec{Y: 500}}, {"against y", r3.Vec{Z: 1e-3}, r3.Vec{Y: 500}}, {"with z", r3.Vec{Y: 1e-3}, r3.Vec{Z: 500}},
	} {
		p.Cases = append(p.Cases, Case{Name: c.name, Loads: []Load{{Place: end, Force: c.force, Moment: c.moment}}})
	}
	r := solve(t, bar, alloy, p, Options{Unknowns: 3000, Grids: 2})
	if r.Cases[0].Kind != ByForce || r.Cases[1].Kind != ByDeflection || r.Cases[2].Kind != ByForce {
		t.Errorf("kinds %s, %s, %s", r.Cases[0].Kind, r.Cases[1].Kind, r.Cases[2].Kind)
	}
}

func TestAPartPulledOffItsSeatIsSaid(t *testing.T) {
	block := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 40, Y: 20, Z: 10})
	seat, top := FaceAt(r3.Vec{X: 20, Y: 10}, r3.Vec{Z: -1}), FaceAt(r3.Vec{X: 20, Y: 10, Z: 10}, r3.Vec{Z: 1})
	for _, c := range []struct {
		force r3.Vec
		said  bool
	}{{r3.Vec{Z: 30}, true}, {r3.Vec{Z: -30}, false}, {r3.Vec{X: 3, Z: -30}, false}, {r3.Vec{X: 30}, true}} {
		p := Problem{Supports: []Support{Clamped(seat)}, Cases: []Case{{Name: "pull", Loads: []Load{{Place: top, Force: c.force}}}}}
		r := solve(t, block, alloy, p, Options{Unknowns: 3000, Grids: 2})
		if said := strings.Contains(strings.Join(r.Warnings, "\n"), "is pulled off its seat at face:20,10,0"); said != c.said {
			t.Errorf("%v: pull %.3g N, said %v", c.force, r.Cases[0].Reactions[0].Pull, said)
		}
	}
}

func TestWhatACaseHasNotIsNullInJSON(t *testing.T) {
	c := CaseResult{Name: "a", Load: 3, forward: 2}
	c.setKind(ByForce)
	text, err := json.Marshal([]any{c, Grid{}})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"stiffness_n_per_mm":1.5`, `"stiffness_nmm_per_rad":null`, `"rotation_rad":null`, `"stiffness_n_per_mm":null`, `"deflection_mm":2`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
}

// Bolt group by the elastic method for a stiff plate (Shigley, Mechanical
// Engineering Design, section 8-12, from memory): each bolt takes an equal share
// of the force and M r/(sum of r^2) across its radius. The load acts in the middle
// of four, where symmetry makes the method exact but for the moments that the
// holds take themselves; loads at one side go to the nearest bolts instead, since
// the holds here are stiff and the plate is not.
func TestABoltGroupTakesItsLoadByTheElasticMethod(t *testing.T) {
	const half, force, moment = 30.0, 400.0, 20000.0
	plate := cut.Polygon{Outer: []r2.Vec{{X: -45, Y: -45}, {X: 45, Y: -45}, {X: 45, Y: 45}, {X: -45, Y: 45}}}
	for _, c := range [][3]float64{{-half, -half, 2.5}, {-half, half, 2.5}, {half, -half, 2.5}, {half, half, 2.5}, {0, 0, 8}} {
		var hole []r2.Vec
		for k := range 32 {
			sin, cos := math.Sincos(-2 * math.Pi * float64(k) / 32)
			hole = append(hole, r2.Vec{X: c[0] + c[2]*cos, Y: c[1] + c[2]*sin})
		}
		plate.Holes = append(plate.Holes, hole)
	}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{plate}, Thickness: 12})
	if err != nil {
		t.Fatal(err)
	}
	// numbered by x, then y: the middle one is the third
	p := Problem{Cases: []Case{{Name: "both", Loads: []Load{{Place: Bore(3), Force: r3.Vec{Y: force}, Moment: r3.Vec{Z: moment}}}}}}
	for _, n := range []int{1, 2, 4, 5} {
		p.Supports = append(p.Supports, Clamped(Bore(n)))
	}
	r := solve(t, m, alloy, p, Options{Unknowns: 30000})
	var sum, turn float64
	share := moment / (4 * 2 * half * half) // N along x and y for a mm of radius
	for n, h := range r.Cases[0].Reactions {
		x, y := h.Centre[0], h.Centre[1]
		sum += h.Force[1]
		turn += h.Moment[2] + x*h.Force[1] - y*h.Force[0]
		near(t, fmt.Sprintf("hold %d along y", n+1), -h.Force[1], force/4+share*x, 6)
	}
	near(t, "sum of forces", -sum, force, 0.01)
	near(t, "sum of moments", -turn, moment, 0.1)
}
