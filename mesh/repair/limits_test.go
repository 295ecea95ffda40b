package repair

import (
	"math"
	"slices"
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
	whole, repairs := gaps(mesh.Merge(boxes...))
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
		whole, _ := gaps(m)
		if got := mesh.Check(whole).Closed; got != closes {
			t.Errorf("a gap of %d edges: closed %v", edges, got)
		}
	}
}

// lathe is a turned part of n chords about z: a bottom at the first ring, walls from ring
// to ring, open at the last. A ring is a radius and a height, mm.
func lathe(n int, rings ...[2]float64) *mesh.Mesh {
	m := &mesh.Mesh{Vertices: []r3.Vec{{Z: rings[0][1]}}}
	for _, r := range rings {
		for k := range n {
			s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
			m.Vertices = append(m.Vertices, r3.Vec{X: r[0] * c, Y: r[0] * s, Z: r[1]})
		}
	}
	at := func(ring, k int) int32 { return int32(1 + ring*n + k%n) }
	for k := range n {
		m.Faces = append(m.Faces, [3]int32{0, at(0, k+1), at(0, k)})
		for i := range len(rings) - 1 {
			m.Faces = append(m.Faces, [3]int32{at(i, k), at(i, k+1), at(i+1, k+1)}, [3]int32{at(i, k), at(i+1, k+1), at(i+1, k)})
		}
	}
	return m
}

// onlyGap closes the one gap of a mesh.
func onlyGap(t *testing.T, m *mesh.Mesh) mesh.Repair {
	t.Helper()
	whole, repairs := gaps(m)
	if len(repairs) != 1 || !mesh.Check(whole).Closed {
		t.Fatalf("closed %v, repairs %+v", mesh.Check(whole).Closed, repairs)
	}
	return repairs[0]
}

// By hand: a cap of radius a that goes on from walls which lean by t rises a tan(t/2).
// Walls that lean by 60 to 105 degrees carry a lid; those of a wedge count as 120.
func TestALidIsDoubtedByHowTheWallsComeIn(t *testing.T) {
	const a, height = 10.0, 6.0
	for lean, as := range map[float64]float64{25: 25, 50: 50, 70: 0, 90: 0, 100: 0, 112: 120} {
		foot := a + height/math.Tan(lean*math.Pi/180) // the wall's normal leans by this much from the gap's
		r := onlyGap(t, lathe(180, [2]float64{foot, 0}, [2]float64{a, height}))
		want := math.Pi * a * a * a * math.Tan(as/2*math.Pi/180)
		if math.Abs(r.AddedVolumeMM3-want) > 0.02*want+1e-6 {
			t.Errorf("walls that lean by %g degrees leave %.4g mm3 in doubt, want %.4g", lean, r.AddedVolumeMM3, want)
		}
	}
}

// A gap amid a flat face, or one that rises to it by no more than a kernel's rounding, may
// be the mouth of a hole down to the bottom, or the foot of a boss twice as high as wide.
// Of twelve chords the mouth is the circle all the same.
func TestAGapAmidAFaceMayBeTheMouthOfAHole(t *testing.T) {
	const a, height = 5.0, 6.0
	for _, c := range []struct {
		falls float64 // degrees, outward from the gap
		leads bool
	}{{0, true}, {0.5, true}, {2, false}, {10, false}} {
		low := height - 15*math.Tan(c.falls*math.Pi/180)
		r := onlyGap(t, lathe(12, [2]float64{20, 0}, [2]float64{20, low}, [2]float64{a, height}))
		if leads := r.LessMM3 > 0; leads != c.leads {
			t.Errorf("a face that falls by %g degrees: may be a hole %v", c.falls, leads)
		}
		mouth := math.Pi * a * a
		if c.falls == 0 && (math.Abs(r.LessMM3/(mouth*height)-1) > 0.01 || math.Abs(r.MoreMM3/(mouth*2*2*a)-1) > 0.03) {
			t.Errorf("a hole takes %.4g mm3, want %.4g; a boss adds %.4g mm3, want %.4g", r.LessMM3, mouth*height, r.MoreMM3, mouth*4*a)
		}
	}
}

// A heap of loose triangles is no part with faults: it is left as it is. A few thousand
// loose sides, of a part that was cut in many places, are looked through.
func TestAHeapOfTrianglesIsLeftAlone(t *testing.T) {
	for faces, mends := range map[int]bool{2000: true, 5000: false} {
		m := &mesh.Mesh{}
		for k := range faces {
			x := 10 * float64(k)
			m.Vertices = append(m.Vertices, r3.Vec{X: x}, r3.Vec{X: x + 4}, r3.Vec{X: x, Y: 4})
			m.Faces = append(m.Faces, [3]int32{int32(3 * k), int32(3*k + 1), int32(3*k + 2)})
		}
		m.Faces = append(m.Faces, m.Faces[0], m.Faces[0])
		if _, repairs := mend(m); (len(repairs) > 0) != mends {
			t.Errorf("%d loose triangles, one of them three times: %+v", faces, repairs)
		}
	}
}

// A kernel that leaves a fan of slivers along an edge leaves one on another: each gives way
// in a round of its own.
func TestSliversUponSliversGiveWay(t *testing.T) {
	for _, rows := range []int{1, 3, 6} {
		m := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 1, Y: 1, Z: 1})
		i := slices.Index(m.Faces, [3]int32{0, 1, 5})
		last := int32(1)
		m.Faces = slices.Delete(m.Faces, i, i+1)
		for k := range rows {
			middle := int32(len(m.Vertices))
			m.Vertices = append(m.Vertices, r3.Vec{X: 1 - float64(k+1)/float64(rows+1)})
			m.Faces = append(m.Faces, [3]int32{0, last, middle}, [3]int32{middle, last, 5})
			last = middle
		}
		m.Faces = append(m.Faces, [3]int32{0, last, 5})
		mended, repairs := mend(m)
		if r := mesh.Check(mended); !r.Closed || r.ZeroAreaFaces != 0 || math.Abs(mended.SignedVolume()-1) > 1e-12 {
			t.Errorf("%d slivers: %+v, repairs %+v", rows, r, repairs)
		}
	}
}
