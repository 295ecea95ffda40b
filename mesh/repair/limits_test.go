package repair

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// A round drawn with chords leaves out what is between the polygon and the circle.
func TestTheSegmentsOfAnOutlineAreThoseOfItsRound(t *testing.T) {
	const n, radius = 48, 5.0
	m := &mesh.Mesh{}
	r := &rim{}
	for k := range n {
		s, c := math.Sincos(2 * math.Pi * float64(k) / n)
		m.Vertices = append(m.Vertices, r3.Vec{X: radius * c, Y: radius * s})
		r.loop = append(r.loop, int32(k))
	}
	want := math.Pi*radius*radius - n*radius*radius*math.Sin(2*math.Pi/n)/2
	if got := (&patcher{mesh: m}).segments(r); math.Abs(got-want) > 0.005*want {
		t.Errorf("the segments have %g mm2, want %g", got, want)
	}
	square := &mesh.Mesh{Vertices: []r3.Vec{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}}}
	if got := (&patcher{mesh: square}).segments(&rim{loop: []int32{0, 1, 2, 3}}); got != 0 {
		t.Errorf("a square leaves out %g mm2", got)
	}
}

func TestACornerOfACubeIsASixthOfIt(t *testing.T) {
	m := &mesh.Mesh{Vertices: []r3.Vec{{}, {X: 2}, {Y: 2}, {Z: 2}}}
	if got := tetrahedron(m, 0, 1, 2, 3); math.Abs(got-8./6) > 1e-12 {
		t.Errorf("%g mm3, want 8/6", got)
	}
}

// A report lists a hundred gaps and adds up the rest.
func TestManyGapsAreListedTogether(t *testing.T) {
	var boxes []*mesh.Mesh
	const n = 120
	for k := range n {
		b := moved(box(0, 1), r3.Vec{X: 3 * float64(k)})
		top := b.Bounds().Max.Z
		open := &mesh.Mesh{Vertices: b.Vertices}
		for f := range b.Faces {
			if p, q, s := b.Triangle(f); min(p.Z, q.Z, s.Z) < top {
				open.Faces = append(open.Faces, b.Faces[f])
			}
		}
		boxes = append(boxes, open)
	}
	whole, repairs := Gaps(mesh.Merge(boxes...))
	area := 0.0
	for _, r := range repairs {
		area += r.AddedAreaMM2
	}
	if len(repairs) != 100 || math.Abs(area-n) > 1e-9 || !mesh.Check(whole).Closed {
		t.Errorf("%d repairs add %g mm2", len(repairs), area)
	}
}

// A gap is closed on a guess up to 200 edges: what is left out of a ball.
func TestAGapOfManyEdgesIsLeftOpen(t *testing.T) {
	for edges, closes := range map[int]bool{180: true, 240: false} {
		// a cone whose tip is cut off along a wavy line
		m := &mesh.Mesh{Vertices: []r3.Vec{{Z: -60}}}
		for k := range edges {
			s, c := math.Sincos(2 * math.Pi * float64(k) / float64(edges))
			m.Vertices = append(m.Vertices, r3.Vec{X: 8 * c, Y: 8 * s, Z: 0.5 * math.Sin(9*2*math.Pi*float64(k)/float64(edges))})
		}
		for k := range int32(edges) {
			m.Faces = append(m.Faces, [3]int32{0, (k+1)%int32(edges) + 1, k + 1})
		}
		whole, _ := Gaps(m)
		if got := mesh.Check(whole).Closed; got != closes {
			t.Errorf("a gap of %d edges: closed %v", edges, got)
		}
	}
}
