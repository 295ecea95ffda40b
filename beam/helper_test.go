package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/section"
	"swapworth/mesh/cut"
)

// checker is what the checks need of *testing.T and *rapid.T.
type checker interface {
	Helper()
	Errorf(format string, args ...any)
	Fatal(args ...any)
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

// only is a region of one outline and its holes, all counter-clockwise.
func only(loops ...[]r2.Vec) cut.Region {
	p := cut.Polygon{Outer: loops[0]}
	for _, h := range loops[1:] {
		p.Holes = append(p.Holes, reversed(h))
	}
	return cut.Region{p}
}

func shapeOf(t checker, text string) section.Shape {
	t.Helper()
	s, err := section.ParseShape(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func torsionOf(t checker, r cut.Region) section.TorsionResult {
	t.Helper()
	res, err := section.Torsion(r, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	return res
}
