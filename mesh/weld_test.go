package mesh

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestWeldJoinsEqualCornersInTheOrderOfTheirAppearance(t *testing.T) {
	minus := math.Copysign(0, -1)
	m := Weld([]r3.Vec{
		{X: 0}, {X: 1}, {Y: 1},
		{X: 1}, {X: minus, Y: minus, Z: minus}, {Z: 1},
		{X: 9}, // no face of its own
	})
	if want := [][3]int32{{0, 1, 2}, {1, 0, 3}}; !slices.Equal(m.Faces, want) {
		t.Errorf("faces %v, want %v", m.Faces, want)
	}
	if len(m.Vertices) != 4 {
		t.Errorf("%d vertices, want 4: -0 equals 0", len(m.Vertices))
	}
}

// A map of coordinates to vertices is the plainest way to weld.
func TestWeldAgreesWithAMapOnManyCorners(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	corners := make([]r3.Vec, 3*100_000)
	for i := range corners {
		corners[i] = r3.Vec{X: float64(random.IntN(40)), Y: float64(random.IntN(40)) - 20, Z: random.Float64() * 8}
		corners[i].Z = math.Floor(corners[i].Z*4) / 4
	}
	vertex := map[r3.Vec]int32{}
	m := Weld(corners)
	for i, c := range corners {
		v, ok := vertex[c]
		if !ok {
			v = int32(len(vertex))
			vertex[c] = v
		}
		if got := m.Faces[i/3][i%3]; got != v {
			t.Fatalf("corner %d is vertex %d, want %d", i, got, v)
		}
	}
	if len(m.Vertices) != len(vertex) {
		t.Errorf("%d vertices, want %d", len(m.Vertices), len(vertex))
	}
}
