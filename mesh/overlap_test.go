package mesh

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
)

func moved(m *Mesh, by r3.Vec) *Mesh {
	out := &Mesh{Faces: m.Faces}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, r3.Add(v, by))
	}
	return out
}

func TestSpaceThatShellsShareIsCountedOnce(t *testing.T) {
	for _, c := range []struct {
		name     string
		m        *Mesh
		overlaps int
		twice    float64
	}{
		{"beside each other", Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 30})), 0, 0},
		{"touching", Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 10})), 0, 0},
		{"touching in part", Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 10, Y: 3, Z: 2})), 0, 0},
		{"corner in corner", Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 6, Y: 7, Z: 8})), 1, 4 * 3 * 2},
		{"corner in corner, edges through the middle of sides", Merge(box(0, 10), box(5.5, 17)), 1, 4.5 * 4.5 * 4.5},
		{"crossed, flush above and below", Merge(box(0, 10), Cuboid(r3.Vec{X: -5, Y: 3}, r3.Vec{X: 15, Y: 7, Z: 10})), 1, 400},
		{"flush on four sides", Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 6})), 1, 400},
		{"one inside the other", Merge(box(0, 10), box(3, 5)), 1, 8},
		{"three, one after the other", Merge(box(0, 10), moved(box(0, 10), r3.Vec{X: 8}), moved(box(0, 10), r3.Vec{X: 16})), 2, 400},
		{"three at one place", Merge(box(0, 10), box(1, 9), box(2, 8)), 3, 512 + 216},
		{"rod through a block", Merge(box(0, 10), Cuboid(r3.Vec{X: -5, Y: 4, Z: 4}, r3.Vec{X: 15, Y: 5, Z: 6})), 1, 20},
		{"body in a cavity", Merge(box(0, 10), box(2, 8).turned(), box(4, 6)), 0, 0},
		{"two cavities", Merge(box(0, 10), box(1, 3).turned(), box(6, 8).turned()), 0, 0},
	} {
		r := Check(c.m)
		if !r.Closed || len(r.Overlaps) != c.overlaps {
			t.Errorf("%s: closed %v, overlaps %+v, want %d", c.name, r.Closed, r.Overlaps, c.overlaps)
			continue
		}
		if math.Abs(r.Twice.Volume-c.twice) > r.TwiceErrorMM3+1e-9 || r.TwiceErrorMM3 > 0.03*c.twice {
			t.Errorf("%s: %g mm3 counted twice, give or take %g, want %g", c.name, r.Twice.Volume, r.TwiceErrorMM3, c.twice)
		}
		for _, o := range r.Overlaps {
			a, b := r.Shells[o.Shells[0]].Box, r.Shells[o.Shells[1]].Box
			room := r3.Vec{X: 1e-3, Y: 1e-3, Z: 1e-3}
			if s := sharedBox(a, b); !boxtree.Meet(Box{Min: r3.Sub(s.Min, room), Max: r3.Add(s.Max, room)}, Box{Min: o.At, Max: o.At}) {
				t.Errorf("%s: the place %v is not in both shells", c.name, o.At)
			}
		}
	}
}

func TestACavityThatReachesOutOfItsBodyIsReported(t *testing.T) {
	r := Check(Merge(box(0, 10), moved(box(0, 4).turned(), r3.Vec{X: 8, Y: 3.1, Z: 3.3})))
	if len(r.Overlaps) != 1 || !r.Shells[1].Cavity {
		t.Errorf("%+v, want a cavity that overlaps the wall", r)
	}
}
