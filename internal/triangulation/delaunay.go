package triangulation

import (
	"fmt"
	"math"
	"math/rand/v2"
	"swapworth/internal/triangle"

	"gonum.org/v1/gonum/spatial/r2"
)

// delaunay is a triangulation of distinct points inside a large triangle whose
// corners are the last three points. Edge k of a face lies opposite its corner
// k and runs from corner k+1 to corner k+2.
type delaunay struct {
	points []r2.Vec
	faces  []delaunayFace
	at     []int32 // a face at each point
	recent int32   // where the last search ended

	rounding float64 // how far rounding may put a point off a line, mm
}

type delaunayFace struct {
	corner [3]int32
	across [3]int32 // the face beyond each edge, -1 outside the large triangle
	wall   [3]wall
}

// wall says what runs along an edge of a face: whether an outline does, and for
// each of two sets of outlines how the number of turns around a point changes
// when it leaves the face there.
type wall struct {
	fixed bool
	jump  [2]int16
}

// newDelaunay triangulates points that are finite and distinct, by insertion in
// a random but fixed order with Lawson's flips: O(n log n) flips expected, and
// searches of O(sqrt n) steps.
func newDelaunay(points []r2.Vec) *delaunay {
	n := len(points)
	d := &delaunay{points: append(make([]r2.Vec, 0, n+3), points...), at: make([]int32, n+3)}
	b := Bounds(points)
	far := max(math.Abs(b.Min.X), math.Abs(b.Min.Y), math.Abs(b.Max.X), math.Abs(b.Max.Y))
	size := max(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y, 1e-6*far)
	if size == 0 {
		size = 1 // one point, at the origin
	}
	d.rounding = 1e-13 * far
	mid := r2.Scale(0.5, r2.Add(b.Min, b.Max))
	d.points = append(d.points,
		r2.Add(mid, r2.Vec{X: -40 * size, Y: -30 * size}),
		r2.Add(mid, r2.Vec{X: 40 * size, Y: -30 * size}),
		r2.Add(mid, r2.Vec{Y: 50 * size}))
	d.faces = append(d.faces, delaunayFace{
		corner: [3]int32{int32(n), int32(n + 1), int32(n + 2)},
		across: [3]int32{-1, -1, -1},
	})
	for _, i := range rand.New(rand.NewPCG(1, 2)).Perm(n) {
		d.insert(int32(i))
	}
	return d
}

// insert adds point p to the triangulation.
func (d *delaunay) insert(p int32) {
	f := d.find(d.points[p])
	for k := range 3 {
		if d.turn(f, k, d.points[p]) == 0 {
			d.settle(d.splitEdge(f, k, p))
			return
		}
	}
	d.settle(d.splitFace(f, p))
}

// turn is positive when q lies on the inner side of edge k of face f.
func (d *delaunay) turn(f int32, k int, q r2.Vec) float64 {
	c := &d.faces[f].corner
	return triangle.Turn(d.points[c[(k+1)%3]], d.points[c[(k+2)%3]], q)
}

// find returns a face that holds q, walking there from the last one.
func (d *delaunay) find(q r2.Vec) int32 {
	f := d.recent
walk:
	for range d.faces {
		for k := range 3 {
			if d.turn(f, k, q) < 0 {
				f = d.faces[f].across[k]
				continue walk
			}
		}
		return f
	}
	for f := range d.faces { // a walk that went in circles
		if d.turn(int32(f), 0, q) >= 0 && d.turn(int32(f), 1, q) >= 0 && d.turn(int32(f), 2, q) >= 0 {
			return int32(f)
		}
	}
	panic("triangulation: a finite point lies in no face of the triangulation")
}

// splitFace puts p inside face f and returns the new faces, p their corner 0.
func (d *delaunay) splitFace(f, p int32) []int32 {
	old := d.faces[f]
	g, h := int32(len(d.faces)), int32(len(d.faces)+1)
	a, b, c := old.corner[0], old.corner[1], old.corner[2]
	d.faces[f] = delaunayFace{corner: [3]int32{p, a, b}, across: [3]int32{old.across[2], g, h}}
	d.faces = append(d.faces,
		delaunayFace{corner: [3]int32{p, b, c}, across: [3]int32{old.across[0], h, f}},
		delaunayFace{corner: [3]int32{p, c, a}, across: [3]int32{old.across[1], f, g}})
	d.relink(old.across[0], f, g)
	d.relink(old.across[1], f, h)
	return d.anchored(f, g, h)
}

// splitEdge puts p on edge k of face f and returns the four new faces, p their
// Corner 0.
func (d *delaunay) splitEdge(f int32, k int, p int32) []int32 {
	n := d.faces[f].across[k]
	j := d.edgeTo(n, f)
	one, two := d.faces[f], d.faces[n]
	c, a, b := one.corner[k], one.corner[(k+1)%3], one.corner[(k+2)%3]
	e := two.corner[j]
	g, h := int32(len(d.faces)), int32(len(d.faces)+1)
	bc, ca := one.across[(k+1)%3], one.across[(k+2)%3]
	ae, eb := two.across[(j+1)%3], two.across[(j+2)%3]
	d.faces[f] = delaunayFace{corner: [3]int32{p, c, a}, across: [3]int32{ca, n, g}}
	d.faces[n] = delaunayFace{corner: [3]int32{p, a, e}, across: [3]int32{ae, h, f}}
	d.faces = append(d.faces,
		delaunayFace{corner: [3]int32{p, b, c}, across: [3]int32{bc, f, h}},
		delaunayFace{corner: [3]int32{p, e, b}, across: [3]int32{eb, g, n}})
	d.relink(bc, f, g)
	d.relink(eb, n, h)
	return d.anchored(f, n, g, h)
}

// anchored notes for every corner of the faces that they are there.
func (d *delaunay) anchored(faces ...int32) []int32 {
	for _, f := range faces {
		for _, v := range d.faces[f].corner {
			d.at[v] = f
		}
	}
	d.recent = faces[0]
	return faces
}

// relink tells face n that its neighbour was is now called is.
func (d *delaunay) relink(n, was, is int32) {
	if n < 0 {
		return
	}
	for k, a := range d.faces[n].across {
		if a == was {
			d.faces[n].across[k] = is
			return
		}
	}
}

// edgeTo returns which edge of face f faces n.
func (d *delaunay) edgeTo(f, n int32) int {
	for k, a := range d.faces[f].across {
		if a == n {
			return k
		}
	}
	panic("triangulation: neighbours of a triangulation do not know each other")
}

// settle flips until no edge of the faces in the stack fails the circle test.
// Only certain failures are flipped, which makes every flip an improvement and
// the end certain.
func (d *delaunay) settle(stack []int32) {
	for len(stack) > 0 {
		f := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for k := range 3 {
			n := d.faces[f].across[k]
			if n < 0 || d.faces[f].wall[k].fixed {
				continue
			}
			c := d.faces[f].corner
			q := d.faces[n].corner[d.edgeTo(n, f)]
			if insideCircle(d.points[c[0]], d.points[c[1]], d.points[c[2]], d.points[q]) {
				d.flip(f, k)
				stack = append(stack, f, n)
				break
			}
		}
	}
}

// flip swaps the diagonal of the two faces at edge k of face f. Apex p of f
// becomes corner 0 of both: (p, a, q) stays f, (p, q, b) takes the neighbour.
func (d *delaunay) flip(f int32, k int) {
	n := d.faces[f].across[k]
	j := d.edgeTo(n, f)
	one, two := d.faces[f], d.faces[n]
	p, a, b := one.corner[k], one.corner[(k+1)%3], one.corner[(k+2)%3]
	q := two.corner[j]
	k1, k2, j1, j2 := (k+1)%3, (k+2)%3, (j+1)%3, (j+2)%3
	d.faces[f] = delaunayFace{
		corner: [3]int32{p, a, q},
		across: [3]int32{two.across[j1], n, one.across[k2]},
		wall:   [3]wall{two.wall[j1], {}, one.wall[k2]},
	}
	d.faces[n] = delaunayFace{
		corner: [3]int32{p, q, b},
		across: [3]int32{two.across[j2], one.across[k1], f},
		wall:   [3]wall{two.wall[j2], one.wall[k1], {}},
	}
	d.relink(two.across[j1], n, f)
	d.relink(one.across[k1], f, n)
	d.at[p], d.at[a], d.at[q], d.at[b] = f, f, f, n
}

// insideCircle reports whether q lies with certainty inside the circle through
// a, b, c, which turn counter-clockwise. Within the rounding bound (Shewchuk
// 1997, as in orient) the answer is no.
func insideCircle(a, b, c, q r2.Vec) bool {
	ax, ay, bx, by, cx, cy := a.X-q.X, a.Y-q.Y, b.X-q.X, b.Y-q.Y, c.X-q.X, c.Y-q.Y
	aa, bb, cc := ax*ax+ay*ay, bx*bx+by*by, cx*cx+cy*cy
	det := aa*(bx*cy-cx*by) + bb*(cx*ay-ax*cy) + cc*(ax*by-bx*ay)
	size := aa*(math.Abs(bx*cy)+math.Abs(cx*by)) + bb*(math.Abs(cx*ay)+math.Abs(ax*cy)) +
		cc*(math.Abs(ax*by)+math.Abs(bx*ay))
	const bound = (10 + 96*0x1p-53) * 0x1p-53
	return det > bound*size
}

// CrossedError is an outline that crosses itself or another one.
type CrossedError struct{ At r2.Vec }

func (e CrossedError) Error() string {
	return fmt.Sprintf("outlines cross near (%.6g, %.6g) mm in the plane", e.At.X, e.At.Y)
}
