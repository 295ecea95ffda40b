package feature

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/vector"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// A flat wall that touches a rounded corner turns half as much as the chords of
// it, and with one chord at either end it lies on a larger circle.
func TestRoundedCornersBesideFlats(t *testing.T) {
	for _, n := range []int{12, 16, 24, 36, 64} {
		for _, size := range [][3]float64{{22, 14, 3}, {18, 12, 2}, {16, 13, 5}, {40, 9, 4}} {
			m := cornered(t, size[0], size[1], size[2], n)
			found := 0
			for _, r := range Find(m).Rounds {
				if math.Abs(r.Radius-size[2]) > 1e-3 {
					t.Errorf("%d chords, %v: a round of %.3f mm over %.0f degrees", n, size, r.Radius, r.ArcDeg)
				}
				found++
			}
			if n >= 24 && found != 4 {
				t.Errorf("%d chords, %v: %d rounded corners", n, size, found)
			}
		}
	}
}

// cornered is a plate with a window of rounded corners, n chords to the circle.
func cornered(t *testing.T, long, wide, radius float64, n int) *mesh.Mesh {
	t.Helper()
	var loop []r2.Vec // clockwise
	for k, at := range [4]r2.Vec{{X: 1, Y: 1}, {X: 1, Y: -1}, {X: -1, Y: -1}, {X: -1, Y: 1}} {
		for i := range n/4 + 1 {
			sin, cos := math.Sincos(math.Pi/2*float64(1-k) - 2*math.Pi*float64(i)/float64(n))
			loop = append(loop, r2.Vec{X: at.X*(long/2-radius) + radius*cos, Y: at.Y*(wide/2-radius) + radius*sin})
		}
	}
	outer := []r2.Vec{{X: -40, Y: -30}, {X: 40, Y: -30}, {X: 40, Y: 30}, {X: -40, Y: 30}}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{{Outer: outer, Holes: [][]r2.Vec{loop}}}, Thickness: 6})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Small triangles at the edge of a flat lie as near to the circle as a chord does.
func TestTheFlatOfABoreIsNoChord(t *testing.T) {
	const radius, flat = 5.0, 4.1
	half := math.Acos(flat / radius)
	var loop []r2.Vec // clockwise
	const n = 20
	for k := range n + 1 {
		sin, cos := math.Sincos(-half - (2*math.Pi-2*half)*float64(k)/n)
		loop = append(loop, r2.Vec{X: radius * cos, Y: radius * sin})
	}
	outer := []r2.Vec{{X: -20, Y: -20}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -20, Y: 20}}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{{Outer: outer, Holes: [][]r2.Vec{loop}}}, Thickness: 6})
	if err != nil {
		t.Fatal(err)
	}
	want := 360 - vector.Degrees(2*half)
	for splits := range 4 {
		f := Find(m)
		if len(f.Rounds) != 1 || math.Abs(f.Rounds[0].ArcDeg-want) > 1.5 {
			t.Errorf("split %d times: %+v, want an arc of %.1f degrees", splits, f.Rounds, want)
		}
		if len(f.Holes) > 0 {
			t.Errorf("split %d times: a D-bore is called a hole", splits)
		}
		m = quartered(m)
	}
}
