package section

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh/cut"
)

func torsionOf(t checker, r cut.Region) TorsionResult {
	t.Helper()
	res, err := Torsion(r, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	if !(res.JLow <= res.J*(1+1e-9) && res.J <= res.JHigh*(1+1e-9)) || res.Error > defaultTolerance {
		t.Errorf("J %g outside %g to %g, or error %g above the tolerance", res.J, res.JLow, res.JHigh, res.Error)
	}
	return res
}

func only(loops ...[]r2.Vec) cut.Region {
	p := cut.Polygon{Outer: loops[0]}
	for _, h := range loops[1:] {
		p.Holes = append(p.Holes, reversed(h))
	}
	return cut.Region{p}
}

// Timoshenko and Goodier, Theory of Elasticity, table of constants for torsion
// of a rectangular bar: J = beta a b^3 with full sides a >= b. The table has
// three or four digits.
func TestRectanglesTwistAsTabulated(t *testing.T) {
	for ratio, beta := range map[float64]float64{1: 0.1406, 1.5: 0.196, 2: 0.229, 3: 0.263, 4: 0.281, 10: 0.312} {
		res := torsionOf(t, only(box(0, 0, 10*ratio, 10)))
		near(t, "J", res.J, beta*ratio*1e4, 0.003)
		near(t, "closed form", rectangleJ(10, 10*ratio), beta*ratio*1e4, 0.003)
		near(t, "J against the closed form", res.J, rectangleJ(10, 10*ratio), defaultTolerance)
	}
}

// Timoshenko and Goodier: ellipse with semi-axes a, b: pi a^3 b^3/(a^2+b^2);
// equilateral triangle of side a: sqrt 3 a^4/80.
func TestEllipseAndTriangleTwistAsInTheTextbook(t *testing.T) {
	a, b := 20.0, 7.0
	ellipse := make([]r2.Vec, 2000)
	for i := range ellipse {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 2000)
		ellipse[i] = r2.Vec{X: a * c, Y: b * s}
	}
	near(t, "ellipse", torsionOf(t, only(ellipse)).J, math.Pi*math.Pow(a*b, 3)/(a*a+b*b), 1e-3)
	triangle := []r2.Vec{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 5, Y: 5 * math.Sqrt(3)}}
	near(t, "triangle", torsionOf(t, only(triangle)).J, math.Sqrt(3)*1e4/80, defaultTolerance)
}

// Bredt: J = 4 A^2 / (integral ds/t) with A inside the middle line, as the wall
// gets thin. For a round tube pi (D^4-d^4)/32 is exact.
func TestClosedThinTubesFollowBredt(t *testing.T) {
	b, h, wall := 200.0, 100.0, 0.5
	tube := only(box(0, 0, b, h), box(wall, wall, b-wall, h-wall))
	bm, hm := b-wall, h-wall
	near(t, "box", torsionOf(t, tube).J, 2*wall*bm*bm*hm*hm/(bm+hm), 0.003)
	ring := only(ngon(r2.Vec{X: 3, Y: 8}, 100, 500), ngon(r2.Vec{X: 3, Y: 8}, 98, 500))
	near(t, "ring", torsionOf(t, ring).J, math.Pi/2*(1e8-math.Pow(98, 4)), 3e-4)
}

// Open thin walls: J = sum of l t^3/3 along the middle line, here 2 mm in 200.
// The ends take off 0.21 t of length each and the corner adds a little
// (Trayer and March, NACA Report 334), 0.3 % of this angle in all.
func TestAnOpenThinAngleTwistsLikeItsUnrolledStrip(t *testing.T) {
	angle := []r2.Vec{{X: 0, Y: 0}, {X: 200, Y: 0}, {X: 200, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 200}, {X: 0, Y: 200}}
	res := torsionOf(t, only(angle))
	near(t, "J", res.J, (199+199)*8/3., 0.005)
	// the shear centre of an angle is where the middle lines meet, its warping
	// constant t^3 (a^3+b^3)/36 (Young and Budynas, Roark's Formulas, thin angle)
	near(t, "shear centre", res.ShearCentre.X, 1, 0.02)
	near(t, "shear centre", res.ShearCentre.Y, 1, 0.02)
	near(t, "warping constant", res.Warping, 8*2*math.Pow(199, 3)/36, 0.01)
}

// Cowper, J. Appl. Mech. 33 (1966) 335: 10(1+v)/(12+11v) for a rectangle of any
// proportions, 6(1+v)/(7+6v) for a round, 2(1+v)/(4+3v) for a thin round tube,
// and for a thin-walled square tube 20(1+v)/(48+39v).
func TestShearAreasAreCowpers(t *testing.T) {
	for _, v := range []float64{0, 0.3, 0.5} {
		for name, c := range map[string]struct {
			r    cut.Region
			want float64
			tol  float64
		}{
			"square":      {only(box(0, 0, 10, 10)), 10 * (1 + v) / (12 + 11*v), 1e-6},
			"wide":        {only(box(0, 0, 200, 2)), 10 * (1 + v) / (12 + 11*v), 1e-5},
			"round":       {only(ngon(r2.Vec{}, 10, 1000)), 6 * (1 + v) / (7 + 6*v), 1e-4},
			"thin ring":   {only(ngon(r2.Vec{}, 100, 1000), ngon(r2.Vec{}, 99.5, 1000)), 2 * (1 + v) / (4 + 3*v), 1e-3},
			"thin square": {only(box(0, 0, 100, 100), box(0.2, 0.2, 99.8, 99.8)), 20 * (1 + v) / (48 + 39*v), 5e-3},
		} {
			res, err := Torsion(c.r, v)
			if err != nil {
				t.Fatal(err)
			}
			area := c.r.Area()
			near(t, name+" first", res.ShearArea[0]/area, c.want, c.tol)
			near(t, name+" second", res.ShearArea[1]/area, c.want, c.tol)
			quick, err := shearAreas(c.r, v, defaultTolerance)
			if err != nil {
				t.Fatal(err)
			}
			near(t, name+" alone", quick[0], res.ShearArea[0], 1e-3)
		}
	}
	near(t, "tube in closed form, solid", cowperTube(0.3, 0), 6*1.3/(7+6*0.3), 1e-12)
	near(t, "tube in closed form, thin", cowperTube(0.3, 1), 2*1.3/(4+3*0.3), 1e-12)
}

// A channel of thin wall t, web h and flanges b between middle lines: the shear
// centre lies 3 b^2/(h + 6 b) behind the web's middle line, and the warping
// constant is t b^3 h^2 (2h+3b)/(12 (h+6b)) (Roark's Formulas, channel with
// flanges and web of one thickness).
func TestAThinChannelHasItsShearCentreBehindTheWeb(t *testing.T) {
	ch := shapeOf(t, "channel 101x50.5x1x1")
	res := torsionOf(t, ch.Region())
	b, h := 50.0, 100.0
	near(t, "distance behind the web", 0.5-res.ShearCentre.X, 3*b*b/(h+6*b), 0.01)
	near(t, "height", res.ShearCentre.Y, 50.5, 1e-4)
	near(t, "warping constant", res.Warping, b*b*b*h*h*(2*h+3*b)/(12*(h+6*b)), 0.01)
}

// EN 10365, from memory: torsion constants in cm4. The tables' values come from
// a fitted formula, hence the 5 %.
func TestRolledSectionsTwistAsTabulated(t *testing.T) {
	for name, it := range map[string]float64{"IPE 200": 6.98, "IPE 100": 1.20, "HEA 100": 5.24} {
		near(t, name, torsionOf(t, shapeOf(t, name).Region()).J/1e4, it, 0.05)
	}
}

// An I bent sideways curls more than it shears: Cowper's mean deflection is no
// measure of shear there, and without Poisson's effect the two flanges carry
// the force like two flat bars, 5/6 of their area.
func TestAnISidewaysShearsInItsFlanges(t *testing.T) {
	s := shapeOf(t, "I 200x20x0.2x2")
	res := torsionOf(t, s.Region())
	near(t, "shear area sideways", res.ShearArea[0], 2*20*2*5/6., 0.01)
	if res.PlainShear != [2]bool{true, false} {
		t.Errorf("plain %v, want sideways only", res.PlainShear)
	}
}

func TestUprightBarsTakeTheShortWay(t *testing.T) {
	apart := append(only(box(0, 0, 20, 5)), only(box(30, 0, 34, 50))...)
	touching := append(only(box(0, 0, 20, 5)), only(box(20, 0, 34, 50))...)
	turned45 := mapped(only(box(0, 0, 20, 5)), turned(45, r2.Vec{}))
	withHole := only(box(0, 0, 20, 5), box(5, 1, 10, 4))
	for name, c := range map[string]struct {
		r     cut.Region
		short bool
	}{"apart": {apart, true}, "touching": {touching, false}, "turned": {turned45, false}, "with a hole": {withHole, false}} {
		if _, ok := uprightBars(c.r); ok != c.short {
			t.Errorf("%s: short way %v, want %v", name, ok, c.short)
		}
		a, err := shearAreas(c.r, 0.3, 1e-4)
		if err != nil {
			t.Fatal(err)
		}
		full := torsionOf(t, c.r)
		near(t, name, a[0], full.ShearArea[0], 1e-3)
		near(t, name, a[1], full.ShearArea[1], 1e-3)
	}
}

func TestOverlappingOutlinesAreToldApart(t *testing.T) {
	r := append(only(box(0, 0, 10, 10)), only(box(5, 0, 15, 10))...)
	got, err := NewReport(r, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "J", *got.J, rectangleJ(15, 10), 1e-3)
	if len(got.Warnings) != 2 || !strings.Contains(got.Warnings[1], "50 mm2 twice") {
		t.Errorf("warnings %q", got.Warnings)
	}
}

func TestSeparatePiecesAddUp(t *testing.T) {
	one := torsionOf(t, only(box(0, 0, 20, 5)))
	two := torsionOf(t, append(only(box(0, 0, 20, 5)), only(box(0, 30, 20, 35))...))
	near(t, "J", two.J, 2*one.J, 1e-3)
	near(t, "shear area", two.ShearArea[0], 2*one.ShearArea[0], 1e-3)
	if two.Pieces != 2 || !math.IsNaN(two.ShearCentre.X) || !math.IsNaN(two.Warping) {
		t.Errorf("%d pieces, shear centre %v, warping %v; want 2 and no common values", two.Pieces, two.ShearCentre, two.Warping)
	}
}

func TestTorsionDoesNotChangeWithPlaceTurnOrSize(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	for range 15 {
		w, h := 1+99*rng.Float64(), 1+99*rng.Float64()
		x, y := (0.1+0.3*rng.Float64())*w, (0.1+0.3*rng.Float64())*h
		r := only(box(0, 0, w, h), box(x, y, 1.8*x, 2.2*y))
		turn, by := rng.Float64(), r2.Vec{X: 1e3 * rng.Float64(), Y: -300}
		move := func(p r2.Vec) r2.Vec { return r2.Add(r2.Rotate(p, turn, r2.Vec{}), by) }
		a, b := torsionOf(t, r), torsionOf(t, mapped(r, move))
		near(t, "J", b.J, a.J, 2*defaultTolerance)
		near(t, "shear centre", r2.Norm(r2.Sub(b.ShearCentre, move(a.ShearCentre)))/math.Sqrt(r.Area()), 0, 2e-3)
		near(t, "warping", b.Warping, a.Warping, 5e-3)
		k := math.Exp(4 * rng.NormFloat64())
		c := torsionOf(t, mapped(r, func(p r2.Vec) r2.Vec { return r2.Scale(k, p) }))
		near(t, "J of the scaled section", c.J, a.J*k*k*k*k, 2*defaultTolerance)
		near(t, "shear area of the scaled section", c.ShearArea[1], a.ShearArea[1]*k*k, 2*defaultTolerance)
		near(t, "warping of the scaled section", c.Warping, a.Warping*math.Pow(k, 6), 5e-3)
	}
}

func TestWallsTooThinForTheGridAreRefused(t *testing.T) {
	r := only(box(0, 0, 1000, 1000), box(0.01, 0.01, 999.99, 999.99))
	if _, err := Torsion(r, 0.3); err == nil || !strings.Contains(err.Error(), "too thin") {
		t.Errorf("error %v, want one about thin walls", err)
	}
	got, err := NewReport(r, 0.3)
	if err != nil || got.J != nil || len(got.Warnings) != 1 {
		t.Errorf("%+v, %v; want area and moments without J", got, err)
	}
}

func TestTorsionOfNothingIsAnError(t *testing.T) {
	for name, r := range map[string]cut.Region{
		"nothing": nil, "inside out": {{Outer: reversed(box(0, 0, 1, 1))}},
		"no number": only([]r2.Vec{{X: 0, Y: 0}, {X: math.NaN(), Y: 1}, {X: 1, Y: 0}}),
	} {
		if _, err := Torsion(r, 0.3); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	for _, v := range []float64{-0.1, 0.6, math.NaN()} {
		if _, err := Torsion(only(box(0, 0, 1, 1)), v); err == nil {
			t.Errorf("Poisson's ratio %v: no error", v)
		}
	}
}

func TestTheClosedFormsOfBarsAgreeWithTheSolver(t *testing.T) {
	for _, text := range []string{"rect 40x4", "square 10", "round 12", "tube 20x2", "tube 30x12"} {
		shape := shapeOf(t, text)
		closed, err := shape.Torsion(0.3)
		if err != nil {
			t.Fatal(err)
		}
		solved := torsionOf(t, shape.Region())
		near(t, text+" J", solved.J, closed.J, 1e-3)
		near(t, text+" shear area", solved.ShearArea[0], closed.ShearArea[0], 1e-3)
		near(t, text+" shear area", solved.ShearArea[1], closed.ShearArea[1], 1e-3)
		near(t, text+" shear centre", solved.ShearCentre.X, closed.ShearCentre.X, 1e-4)
		near(t, text+" warping", solved.Warping/closed.J/closed.J, closed.Warping/closed.J/closed.J, 1e-3)
	}
}
