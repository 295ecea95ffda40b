package mesh

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// allCrossings tries every pair of faces.
func allCrossings(m *Mesh) (list []Intersection) {
	c := crosser{m, EdgesOf(m).Opposite}
	for f := range m.Faces {
		for g := range f {
			if at, ok := c.crossing(int32(g), int32(f)); ok {
				list = append(list, Intersection{at, [2]int{g, f}})
			}
		}
	}
	slices.SortFunc(list, func(a, b Intersection) int { return slices.Compare(a.Faces[:], b.Faces[:]) })
	return list
}

// Crumpled balls pass through themselves in many ways, around one corner too.
func TestTheTreeFindsWhatEveryPairOfFacesTells(t *testing.T) {
	random := rand.New(rand.NewPCG(8, 8))
	crossed := 0
	for _, crumple := range []float64{0, 0.05, 0.1, 0.2, 0.4, 0.8} {
		for range 4 {
			n := 6 + random.IntN(10)
			var corners []r3.Vec
			point := map[[2]int]r3.Vec{}
			at := func(i, j int) r3.Vec {
				i, j = i%n, j%n
				p, ok := point[[2]int{i, j}]
				if !ok {
					p = r3.Add(ringPoint(i, j, n), r3.Scale(crumple*20, r3.Vec{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()}))
					point[[2]int{i, j}] = p
				}
				return p
			}
			for i := range n {
				for j := range n {
					corners = append(corners, at(i, j), at(i+1, j), at(i+1, j+1), at(i, j), at(i+1, j+1), at(i, j+1))
				}
			}
			m := Weld(corners)
			want := allCrossings(m)
			list, total := Intersections(m)
			crossed += total
			if total != len(want) || !slices.EqualFunc(list, want[:min(len(want), maxPlaces)], func(a, b Intersection) bool { return a.Faces == b.Faces }) {
				t.Errorf("crumpled by %g: %d pairs found, want %d", crumple, total, len(want))
			}
		}
	}
	if crossed < 1000 {
		t.Errorf("only %d crossings were tried", crossed)
	}
}

func TestARingIsPlainWhereItIsSeenWholeAndGoesRoundOnce(t *testing.T) {
	fan := func(points ...r3.Vec) *Mesh { // about the origin, closed by a point below
		m := &Mesh{Vertices: append([]r3.Vec{{}}, points...)}
		for i := range points {
			m.Faces = append(m.Faces, [3]int32{0, int32(i + 1), int32((i+1)%len(points) + 1)})
		}
		return m
	}
	around := func(n, rounds int, height float64) (list []r3.Vec) {
		for i := range n {
			a := 2 * math.Pi * float64(rounds) * float64(i) / float64(n)
			list = append(list, r3.Vec{X: math.Cos(a), Y: math.Sin(a), Z: height})
		}
		return list
	}
	for _, c := range []struct {
		name string
		m    *Mesh
		want bool
	}{
		{"flat", fan(around(6, 1, 0)...), true},
		{"the tip of a pyramid", fan(around(4, 1, -1)...), true},
		{"a needle", fan(around(5, 1, -5000)...), false}, // too steep to tell
		{"twice round", fan(around(7, 2, -0.1)...), false},
		{"folded over", fan(r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{X: 0.5, Y: 0.4, Z: 0.1}, r3.Vec{X: -1, Y: -1}), false},
	} {
		got := plainCorners(c.m, EdgesOf(c.m).Opposite)
		if got[0] != c.want || got[1] || got[2] {
			t.Errorf("%s: %v, want %v at the hub alone", c.name, got, c.want)
		}
	}
}
