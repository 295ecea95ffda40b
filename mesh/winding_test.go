package mesh

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestCycledAxesComeBack(t *testing.T) {
	g := newLineGrid(Box{Min: r3.Vec{X: 1, Y: 2, Z: 3}, Max: r3.Vec{X: 4, Y: 6, Z: 8}}, 0)
	for axis := range 3 {
		g.axis = axis
		v := r3.Vec{X: 1, Y: 2, Z: 3}
		c := cycled(v, axis)
		g.feet[0] = [2]float64{c.X, c.Y}
		if got := g.place(0, c.Z); got != v {
			t.Errorf("axis %d: %v came back as %v", axis, v, got)
		}
	}
}

// The volumes of unions of boxes, by hand.
func TestLinesTellHowOftenSpaceIsWoundAround(t *testing.T) {
	for _, c := range []struct {
		name               string
		m                  *Mesh
		once, body, inward float64
	}{
		{"a box", box(0, 10), 1000, 1000, 0},
		{"a box with a cavity", Merge(box(0, 10), box(2, 8).turned()), 784, 784, 0},
		{"two boxes that share space", Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 4})), 800, 1400, 0},
		{"a cavity that reaches out", Merge(box(0, 10), moved(box(0, 10).turned(), r3.Vec{X: 4})), 400, 400, 400},
		{"a box inside out", box(0, 10).turned(), 0, 0, 1000},
	} {
		w := windingOf(c.m)
		for _, v := range [][2]float64{{w.once, c.once}, {w.body, c.body}, {w.inward, c.inward}} {
			if math.Abs(v[0]-v[1]) > 0.02*1000 {
				t.Errorf("%s: %+v, want once %g, body %g, inward %g", c.name, w, c.once, c.body, c.inward)
				break
			}
		}
	}
}
