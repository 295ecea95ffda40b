package section

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/mesh/cut"
)

// box returns an upright rectangle, counter-clockwise.
func box(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// reversed returns the loop run the other way: a hole from an outline.
func reversed(loop []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(loop))
	for i, p := range loop {
		out[len(loop)-1-i] = p
	}
	return out
}

// ngon returns n points on a circle, counter-clockwise.
func ngon(center r2.Vec, radius float64, n int) []r2.Vec {
	out := make([]r2.Vec, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = r2.Add(center, r2.Vec{X: radius * c, Y: radius * s})
	}
	return out
}

// mapped applies f to every point of a region.
func mapped(r cut.Region, f func(r2.Vec) r2.Vec) cut.Region {
	loop := func(in []r2.Vec) []r2.Vec {
		out := make([]r2.Vec, len(in))
		for i, p := range in {
			out[i] = f(p)
		}
		return out
	}
	var out cut.Region
	for _, p := range r {
		q := cut.Polygon{Outer: loop(p.Outer)}
		for _, h := range p.Holes {
			q.Holes = append(q.Holes, loop(h))
		}
		out = append(out, q)
	}
	return out
}

func turned(deg float64, about r2.Vec) func(r2.Vec) r2.Vec {
	return func(p r2.Vec) r2.Vec { return r2.Rotate(p, deg*math.Pi/180, about) }
}

func shifted(by r2.Vec) func(r2.Vec) r2.Vec {
	return func(p r2.Vec) r2.Vec { return r2.Add(p, by) }
}

// near fails unless got is want to within tol times want (or tol when want is 0).
func near(t checker, what string, got, want, tol float64) {
	t.Helper()
	scale := math.Abs(want)
	if scale == 0 {
		scale = 1
	}
	if !(math.Abs(got-want) <= tol*scale) {
		t.Errorf("%s = %.10g, want %.10g (off by %.3g)", what, got, want, (got-want)/scale)
	}
}

func sectionOf(t checker, r cut.Region) Properties {
	t.Helper()
	s, err := Of(r)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// I = b h^3/12 of a rectangle, I = b h^3/36 and the product b^2 h^2/72 of a
// right triangle, the latter negative with the right angle at the lower left
// (any statics book).
func TestRectangleAndRightTriangleHaveTheirTextbookMoments(t *testing.T) {
	s := sectionOf(t, cut.Region{{Outer: box(-3, 5, 37, 9)}})
	near(t, "area", s.Area, 160, 1e-13)
	near(t, "ixx", s.Ixx, 40*64./12, 1e-13)
	near(t, "iyy", s.Iyy, 4*64000./12, 1e-13)
	near(t, "wxx", s.Wxx[0], 40*16./6, 1e-13)
	near(t, "wyy", s.Wyy[1], 4*1600./6, 1e-13)
	near(t, "first radius of gyration", s.RadiusX, 4/math.Sqrt(12), 1e-13)
	near(t, "perimeter", s.Perimeter, 88, 1e-13)
	if s.AngleDeg != 90 || s.Ixy != 0 {
		t.Errorf("angle %v, product %v, want 90 and 0", s.AngleDeg, s.Ixy)
	}

	b, h := 6.0, 9.0
	s = sectionOf(t, cut.Region{{Outer: []r2.Vec{{X: 0, Y: 0}, {X: b, Y: 0}, {X: 0, Y: h}}}})
	near(t, "ixx", s.Ixx, b*h*h*h/36, 1e-13)
	near(t, "iyy", s.Iyy, h*b*b*b/36, 1e-13)
	near(t, "ixy", s.Ixy, -b*b*h*h/72, 1e-13)
	near(t, "wxx above", s.Wxx[0], b*h*h/24, 1e-13)
	near(t, "wxx below", s.Wxx[1], b*h*h/12, 1e-13)
	near(t, "wyy right", s.Wyy[0], h*b*b/24, 1e-13)
}

func TestTheLongSideOfATurnedBarIsThePrincipalAxis(t *testing.T) {
	bar := cut.Region{{Outer: box(-20, -2, 20, 2)}}
	for _, deg := range []float64{-60, -45, -10, 0, 10, 45, 80} {
		s := sectionOf(t, mapped(bar, turned(deg, r2.Vec{X: 3})))
		want := deg + 90 // the larger moment is about the short way across
		if want > 90 {
			want -= 180
		}
		near(t, "angle", s.AngleDeg, want, 1e-10)
	}
	for _, deg := range []float64{0, 17, 90} {
		s := sectionOf(t, mapped(cut.Region{{Outer: box(-5, -5, 5, 5)}}, turned(deg, r2.Vec{})))
		if s.AngleDeg != 0 {
			t.Errorf("a square turned by %v has the principal angle %v, want none", deg, s.AngleDeg)
		}
	}
}

func TestASectionWithoutAreaIsAnError(t *testing.T) {
	for name, r := range map[string]cut.Region{
		"nothing":    nil,
		"two sides":  {{Outer: []r2.Vec{{X: 0, Y: 0}, {X: 1, Y: 1}}}},
		"inside out": {{Outer: reversed(box(0, 0, 1, 1))}},
		"no number":  {{Outer: []r2.Vec{{X: 0, Y: 0}, {X: math.NaN(), Y: 1}, {X: 2, Y: 5}}}},
	} {
		if _, err := Of(r); !errors.Is(err, errEmpty) {
			t.Errorf("%s: error %v, want ErrEmpty", name, err)
		}
	}
}

// plate draws a rectangle with a rectangular hole, anywhere and turned.
func plate(t *rapid.T) cut.Region {
	w := rapid.Float64Range(1, 100).Draw(t, "width")
	h := rapid.Float64Range(1, 100).Draw(t, "height")
	x := rapid.Float64Range(0.1, 0.4).Draw(t, "hole x") * w
	y := rapid.Float64Range(0.1, 0.4).Draw(t, "hole y") * h
	r := cut.Region{{Outer: box(0, 0, w, h), Holes: [][]r2.Vec{reversed(box(x, y, 1.8*x, 2.2*y))}}}
	deg := rapid.Float64Range(-180, 180).Draw(t, "turn")
	by := r2.Vec{X: rapid.Float64Range(-1e3, 1e3).Draw(t, "shift"), Y: 7}
	return mapped(mapped(r, turned(deg, r2.Vec{})), shifted(by))
}

func TestMovingASectionChangesOnlyItsCentroid(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		r := plate(t)
		by := r2.Vec{X: rapid.Float64Range(-1e4, 1e4).Draw(t, "by x"), Y: rapid.Float64Range(-1e4, 1e4).Draw(t, "by y")}
		a, b := sectionOf(t, r), sectionOf(t, mapped(r, shifted(by)))
		near(t, "area", b.Area, a.Area, 1e-8)
		near(t, "ixx", b.Ixx, a.Ixx, 1e-8)
		near(t, "iyy", b.Iyy, a.Iyy, 1e-8)
		near(t, "ixy", b.Ixy/a.I1, a.Ixy/a.I1, 1e-8)
		near(t, "shift of the centroid", r2.Norm(r2.Sub(r2.Sub(b.Centroid, a.Centroid), by)), 0, 1e-8)
	})
}

func TestTurningASectionKeepsItsPrincipalMoments(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		r := plate(t)
		deg := rapid.Float64Range(-90, 90).Draw(t, "angle")
		a, b := sectionOf(t, r), sectionOf(t, mapped(r, turned(deg, r2.Vec{X: 1})))
		near(t, "i1", b.I1, a.I1, 1e-9)
		near(t, "i2", b.I2, a.I2, 1e-7)
		if a.I1-a.I2 > 1e-3*a.I1 {
			turn := math.Remainder(b.AngleDeg-a.AngleDeg-deg, 180)
			near(t, "turn of the axis", turn, 0, 1e-5)
		}
	})
}

func TestMomentsGrowWithTheFourthPowerOfTheSize(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		r := plate(t)
		k := rapid.Float64Range(0.01, 100).Draw(t, "factor")
		a := sectionOf(t, r)
		b := sectionOf(t, mapped(r, func(p r2.Vec) r2.Vec { return r2.Scale(k, p) }))
		near(t, "area", b.Area, a.Area*k*k, 1e-9)
		near(t, "ixx", b.Ixx, a.Ixx*k*k*k*k, 1e-8)
		near(t, "wyy", b.Wyy[0], a.Wyy[0]*k*k*k, 1e-8)
	})
}

// Steiner: the moment of a whole is the sum of its parts' moments and of area
// times distance squared.
func TestASectionCutInTwoAddsUp(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(1, 100).Draw(t, "width")
		h := rapid.Float64Range(1, 100).Draw(t, "height")
		at := rapid.Float64Range(0.05, 0.95).Draw(t, "cut") * w
		place := turned(rapid.Float64Range(-180, 180).Draw(t, "turn"), r2.Vec{X: 5})
		left := mapped(cut.Region{{Outer: box(0, 0, at, h)}}, place)
		right := mapped(cut.Region{{Outer: box(at, 0, w, h)}}, place)
		whole := sectionOf(t, mapped(cut.Region{{Outer: box(0, 0, w, h)}}, place))
		a, b := sectionOf(t, left), sectionOf(t, right)
		both := sectionOf(t, append(left, right...))
		near(t, "area", a.Area+b.Area, whole.Area, 1e-12)
		about := func(s Properties) float64 {
			d := s.Centroid.Y - whole.Centroid.Y
			return s.Ixx + s.Area*d*d
		}
		near(t, "ixx", about(a)+about(b), whole.Ixx, 1e-11)
		near(t, "ixx of the pair", both.Ixx, whole.Ixx, 1e-11)
		if both.Outlines != 2 {
			t.Errorf("%d outlines, want 2", both.Outlines)
		}
	})
}
