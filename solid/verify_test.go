package solid

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// near reports a value that is further from the wanted one than percent.
func near(t *testing.T, what string, got, want, percent float64) {
	t.Helper()
	off := 100 * (got/want - 1)
	t.Logf("%s: %.5g, want %.5g (%+.2f %%)", what, got, want, off)
	if !(math.Abs(off) <= percent) {
		t.Errorf("%s: %.5g, want %.5g within %g %%", what, got, want, percent)
	}
}

func solve(t *testing.T, m *mesh.Mesh, e materials.Elastic, p Problem, o Options) Result {
	t.Helper()
	if testing.Short() && o.Unknowns > 7000 {
		t.Skip("large: runs without -short")
	}
	r, err := Check(context.Background(), m, e, p, o)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range r.Cases {
		if c.Imbalance > 1e-3 { // the solver stops at 3e-6 of the energy norm
			t.Errorf("case %s: forces out of balance by %.1e of the load", c.Name, c.Imbalance)
		}
	}
	t.Logf("%d unknowns, %d iterations, %.2f s", r.Unknowns, r.Iterations, r.Seconds)
	return r
}

// MacNeal and Harder (Finite Elements in Analysis and Design 1, 1985), straight
// beam: displacement of the tip under unit loads.
func TestStraightBeamOfMacNealAndHarder(t *testing.T) {
	beam := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 6, Y: 0.2, Z: 0.1})
	p, err := EndProblem(beam, mesh.X, mesh.X, "cantilever", 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, axis := range []mesh.Axis{mesh.Y, mesh.Z} {
		one, err := EndProblem(beam, mesh.X, axis, "cantilever", 1)
		if err != nil {
			t.Fatal(err)
		}
		p.Cases = append(p.Cases, one.Cases...)
	}
	r := solve(t, beam, materials.Elastic{YoungsModulus: 1e7, Poisson: 0.3}, p, Options{Unknowns: 20000})
	near(t, "extension", r.Cases[0].Deflection, 3.0e-5, 2)
	near(t, "in-plane shear", r.Cases[1].Deflection, 0.1081, 2)
	near(t, "out-of-plane shear", r.Cases[2].Deflection, 0.4321, 2)
}

// The same beam twisted by a couple at its end: Saint-Venant's theta = T L/(G J)
// with J = 0.229 a b^3 for sides 2:1 (Timoshenko and Goodier, Theory of
// Elasticity). A couple of forces of F each over the last 0.02 of the beam, so
// that T theta = f.u = (2F)^2/k.
func TestStraightBeamTwistsAsSaintVenantSays(t *testing.T) {
	const long, wide, thick, force, strip = 6.0, 0.2, 0.1, 1.0, 0.02
	beam := mesh.Cuboid(r3.Vec{}, r3.Vec{X: long, Y: wide, Z: thick})
	edge := func(y float64) Place {
		return Inside(mesh.Box{Min: r3.Vec{X: long - strip, Y: y}, Max: r3.Vec{X: long, Y: y + strip, Z: thick}})
	}
	p := Problem{
		Supports: []Support{Clamped(EndPlace(mesh.X, false))},
		Cases:    []Case{{Name: "twist", Loads: []Load{{Place: edge(0), Force: r3.Vec{Z: -force}}, {Place: edge(wide - strip), Force: r3.Vec{Z: force}}}}},
	}
	r := solve(t, beam, materials.Elastic{YoungsModulus: 1e7, Poisson: 0.3}, p, Options{Unknowns: 20000})
	torque := force * (wide - strip)
	shear := 1e7 / 2.6
	want := torque * (long - strip/2) / (shear * 0.229 * wide * thick * thick * thick)
	near(t, "twist", 4*force*force/r.Stiffness/torque, want, 2)
}

// Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells: square plates
// under uniform load, deflection of the middle in q a^4/D.
func TestSquarePlatesUnderUniformLoad(t *testing.T) {
	t.Parallel()
	const side, thick, q = 100.0, 2.0, 0.01
	plate := mesh.Cuboid(r3.Vec{}, r3.Vec{X: side, Y: side, Z: thick})
	e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.3}
	unit := q * side * side * side * side * 12 * (1 - 0.3*0.3) / (70000 * thick * thick * thick)
	edges := func(acrossX, acrossY [3]bool) (s []Support) {
		for _, high := range []bool{false, true} {
			s = append(s, Support{EndPlace(mesh.X, high), acrossX}, Support{EndPlace(mesh.Y, high), acrossY})
		}
		return
	}
	top := []Case{{Name: "pressure", Loads: []Load{{Place: EndPlace(mesh.Z, true), Force: r3.Vec{Z: -q * side * side}}}}}
	for _, c := range []struct {
		name string
		hold []Support
		want float64
	}{
		{"simply supported", edges([3]bool{false, true, true}, [3]bool{true, false, true}), 0.00406},
		{"clamped", edges(held, held), 0.00126},
	} {
		r := solve(t, plate, e, Problem{Supports: c.hold, Cases: top}, Options{Unknowns: 30000})
		near(t, c.name, r.Cases[0].Largest, c.want*unit, 3)
	}
}

// round returns a regular polygon of n corners, counter-clockwise.
func round(cx, cy, radius float64, n int) (p []r2.Vec) {
	for i := range n {
		t := 2 * math.Pi * float64(i) / float64(n)
		p = append(p, r2.Vec{X: cx + radius*math.Cos(t), Y: cy + radius*math.Sin(t)})
	}
	return
}

// reversed returns a loop run the other way, as a hole.
func reversed(p []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(p))
	for i, v := range p {
		out[len(p)-1-i] = v
	}
	return out
}

func extruded(t *testing.T, outer []r2.Vec, a mesh.Axis, from, to float64, holes ...[]r2.Vec) *mesh.Mesh {
	t.Helper()
	m, err := cut.Extrude(cut.Region{{Outer: outer, Holes: holes}}, mesh.AxisPlane(a, from), to-from)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Kirsch (1898): a small hole in a wide plate under tension trebles the stress;
// for a plate 7.5 times as wide as the hole Howland's series gives 3.05 on the
// gross section (Roark's Formulas for Stress and Strain, table 17.1, from
// memory: 3 - 3.14 d/D + 3.667 (d/D)^2 - 1.527 (d/D)^3 on the net section).
func TestHoleTreblesTheStress(t *testing.T) {
	const width, long, thick, d = 60.0, 90.0, 2.0, 8.0
	outer := []r2.Vec{{X: 0, Y: 0}, {X: long, Y: 0}, {X: long, Y: width}, {X: 0, Y: width}}
	plate := extruded(t, outer, mesh.Z, 0, thick, reversed(round(long/2, width/2, d/2, 64)))
	p, err := EndProblem(plate, mesh.X, mesh.X, "cantilever", width*thick)
	if err != nil {
		t.Fatal(err)
	}
	r := solve(t, plate, materials.Elastic{YoungsModulus: 70000, Poisson: 0.33}, p, Options{Unknowns: 40000})
	x := d / width
	want := (3 - 3.14*x + 3.667*x*x - 1.527*x*x*x) / (1 - x)
	near(t, "stress at the hole", r.Cases[0].AwayStress, want, 10)
	at := r.Cases[0].StressAt
	if math.Abs(at[0]-long/2) > 1 || math.Abs(math.Abs(at[1]-width/2)-d/2) > 1 {
		t.Errorf("largest stress at %.1f, want beside the hole", at)
	}
}

// The first bending frequency of a uniform cantilever is
// 1.8751^2/(2 pi) sqrt(EI/(rho A L^4)) (Roark, table of natural frequencies).
func TestCantileverRingsAtItsBeamFrequency(t *testing.T) {
	const long, wide, thick = 150.0, 9.0, 6.0
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: long, Y: wide, Z: thick})
	e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33, Density: 2700}
	p, err := EndProblem(bar, mesh.X, mesh.Z, "cantilever", 1)
	if err != nil {
		t.Fatal(err)
	}
	r := solve(t, bar, e, p, Options{Unknowns: 20000, Modes: 2})
	speed := math.Sqrt(70000e6 / 2700 / 12) // m/s, times the depth gives sqrt(EI/rho A)
	beam := func(depth float64) float64 {
		return 1.8751 * 1.8751 / (2 * math.Pi) * speed * depth * 1e-3 / (long * long * 1e-6)
	}
	near(t, "across the thickness", r.Frequencies[0], beam(thick), 2)
	near(t, "across the width", r.Frequencies[1], beam(wide), 2)

	// a heavy mass at the tip: f = sqrt(k/(M + 0.2357 m))/(2 pi) (Rayleigh,
	// 33/140 of the bar's mass)
	p.AttachedMass = 200
	r = solve(t, bar, e, p, Options{Unknowns: 10000, Modes: 1})
	mass := 200 + 33.0/140*2700e-6*long*wide*thick
	near(t, "with 200 g at the tip", *r.Frequency, 1e3*math.Sqrt(r.Stiffness/mass)/(2*math.Pi), 2)
}

// Round bar and round tube: tip stiffness of a shear-flexible beam with Cowper's
// coefficients (J. Appl. Mech. 33, 1966). The clamp holds the end's contraction
// back, which makes the solid a little stiffer.
func TestRoundBarsBendLikeBeams(t *testing.T) {
	t.Parallel()
	e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33}
	const long, radius = 200.0, 10.0
	g := 70000 / 2.66
	for _, c := range []struct {
		name  string
		inner float64
	}{{"bar", 0}, {"tube", 8}} {
		var holes [][]r2.Vec
		if c.inner > 0 {
			holes = append(holes, reversed(round(3, -2, c.inner, 96)))
		}
		m := extruded(t, round(3, -2, radius, 96), mesh.Y, 5, 5+long, holes...)
		p, err := EndProblem(m, mesh.Y, mesh.X, "cantilever", 10)
		if err != nil {
			t.Fatal(err)
		}
		r := solve(t, m, e, p, Options{Unknowns: 30000})
		inertia := math.Pi / 4 * (math.Pow(radius, 4) - math.Pow(c.inner, 4))
		area := math.Pi * (radius*radius - c.inner*c.inner)
		ratio := c.inner / radius
		s := (1 + ratio*ratio) * (1 + ratio*ratio)
		shear := 6 * 1.33 * s / ((7+6*0.33)*s + (20+12*0.33)*ratio*ratio)
		want := 1 / (long*long*long/(3*70000*inertia) + long/(shear*g*area))
		near(t, c.name, r.Stiffness, want, 2)
	}
}

// The usual supports against beam theory: 48 EI/L^3, 192 EI/L^3, 768/7 EI/L^3
// for a force in the middle (Roark, beam tables).
func TestUsualSupportsOfASlenderBar(t *testing.T) {
	t.Parallel()
	const long, depth, wide = 300.0, 8.0, 10.0
	bar := mesh.Cuboid(r3.Vec{X: -40}, r3.Vec{X: long - 40, Y: wide, Z: depth})
	e := materials.Elastic{YoungsModulus: 210000, Poisson: 0.3}
	ei := 210000 * wide * depth * depth * depth / 12
	for _, c := range []struct {
		support string
		factor  float64
	}{{"simply-supported", 48}, {"fixed-fixed", 192}, {"propped", 768.0 / 7}} {
		p, err := EndProblem(bar, mesh.X, mesh.Z, c.support, -50)
		if err != nil {
			t.Fatal(err)
		}
		r := solve(t, bar, e, p, Options{Unknowns: 20000})
		near(t, c.support, r.Stiffness, c.factor*ei/(long*long*long), 3)
	}
}
