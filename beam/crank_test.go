package beam

import (
	"math"
	"testing"

	"swapworth/mesh"
)

// A bar that leans by the tangent t bends like the longer and thinner bar it is:
// 3 E I/L^3 (1+t^2)^-2 with the I of its cuts, along the lean and across it.
func TestALeaningBarIsTheLongerBarItIs(t *testing.T) {
	const length, depth, thick, lean = 400.0, 12.0, 12.0, 0.5
	bar := flatPart(t, thick, loop(0, 0, length, lean*length, length, lean*length+depth, 0, depth))
	along := flatPart(t, thick, loop(0, 0, depth, 0, lean*length+depth, length, lean*length, length))
	i := depth * math.Pow(thick, 3) / 12
	want := 3 * steel.YoungsModulus * i / math.Pow(length, 3) / math.Pow(1+lean*lean, 2)
	for _, x := range []struct {
		part *mesh.Mesh
		s    Setup
	}{
		{bar, Setup{Load: mesh.Y}}, {bar, Setup{Load: mesh.Z}},
		{along, Setup{Span: mesh.Y, Load: mesh.X}}, {along, Setup{Span: mesh.Y, Load: mesh.Z}},
	} {
		r := ofPart(t, x.part, steel, x.s)
		near(t, "stiffness along "+x.s.Load.String(), *r.Stiffness, want, 0.015*want)
	}
}

// Quadratic tetrahedra (GetFEM 5.4, ends as in testdata/reference/README.md, E
// 70 000, v 0.33) of a flat bar bent by 30 degrees in its plane and of a ladder
// give, in N/mm, the values below.
func TestBentBarsAndLaddersBendLikeTheSolid(t *testing.T) {
	c, s := math.Cos(math.Pi/6), 0.5
	m := 8 * math.Tan(math.Pi/12)
	bent := flatPart(t, 7, loop(0, -8, 80+m, -8, 80+m+70*c, -8+70*s, 80+m+70*c, -8+70*s+16/c, 80-m, 8, 0, 8))
	ladder := flatPart(t, 6, box(0, 0, 170, 50), reversed(box(12, 6, 46, 44)), reversed(box(52, 6, 86, 44)),
		reversed(box(92, 6, 126, 44)), reversed(box(132, 6, 166, 44)))
	for _, x := range []struct {
		name    string
		part    *mesh.Mesh
		load    mesh.Axis
		support Support
		solid   float64
		band    float64
	}{
		{"bent bar", bent, mesh.Y, Cantilever, 170.0, 0.02},
		{"bent bar", bent, mesh.Z, Cantilever, 29.27, 0.03},
		{"bent bar", bent, mesh.Z, FixedFixed, 1650, 0.04},
		{"ladder, 106 % too stiff by legs alone", ladder, mesh.Y, Cantilever, 241.9, 0.22},
	} {
		r := ofPart(t, x.part, referenceElastic, Setup{Load: x.load, Support: x.support})
		near(t, x.name+" along "+x.load.String(), *r.Stiffness, x.solid, x.band*x.solid)
		if off := x.solid / *r.Stiffness - 1; off < r.MethodError.Low || off > r.MethodError.High {
			t.Errorf("%s along %s: the solid is %+.1f %% off, stated %+v", x.name, x.load, 100*off, r.MethodError)
		}
	}
}
