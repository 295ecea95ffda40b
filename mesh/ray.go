package mesh

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
)

// Rays finds what straight lines meet on a mesh. It may be used from several
// goroutines at once.
type Rays struct {
	mesh *Mesh
	tree *boxtree.Tree
	pad  float64 // mm: boxes are wider by so much, as faces are by brink
}

// NewRays prepares a mesh for rays.
func NewRays(m *Mesh) *Rays {
	var faces []int32
	for f := range m.Faces {
		if !m.Collapsed(f) {
			faces = append(faces, int32(f))
		}
	}
	return &Rays{m, m.FaceTree(faces), brink * r3.Norm(m.Bounds().Size())}
}

// First returns the face that the ray from + t way, 0 < t < far, meets first, and
// t there; way is a unit vector, so that t is in mm. Without one it returns far
// and -1.
func (r *Rays) First(from, way r3.Vec, far float64) (t float64, face int32) {
	t, face = far, -1
	inverse := [3]float64{1 / way.X, 1 / way.Y, 1 / way.Z}
	start := [3]float64{from.X, from.Y, from.Z}
	type branch struct {
		node int32
		at   float64 // where the ray enters it
	}
	var stack [64]branch
	stack[0] = branch{1, 0}
	for n := 1; n > 0; {
		n--
		if stack[n].at >= t {
			continue
		}
		node := int(stack[n].node)
		if node >= r.tree.First {
			for _, f := range r.tree.Leaf(node - r.tree.First) {
				if at := r.meets(f, from, way); at > 0 && at < t {
					t, face = at, f
				}
			}
			continue
		}
		near, beyond := branch{node: int32(2 * node)}, branch{node: int32(2*node + 1)}
		near.at = enters(&r.tree.Nodes[near.node], r.pad, start, inverse, t)
		beyond.at = enters(&r.tree.Nodes[beyond.node], r.pad, start, inverse, t)
		if near.at > beyond.at {
			near, beyond = beyond, near
		}
		for _, b := range [2]branch{beyond, near} { // the nearer comes off first
			if b.at < t {
				stack[n] = b
				n++
			}
		}
	}
	return t, face
}

// enters returns where the ray enters a box, 0 from inside it; +Inf where it
// misses it or comes to it after far.
func enters(b *Box, pad float64, start, inverse [3]float64, far float64) float64 {
	lo := [3]float64{b.Min.X - pad, b.Min.Y - pad, b.Min.Z - pad}
	hi := [3]float64{b.Max.X + pad, b.Max.Y + pad, b.Max.Z + pad}
	from, to := 0.0, far
	for k := range start {
		t0, t1 := (lo[k]-start[k])*inverse[k], (hi[k]-start[k])*inverse[k]
		if t0 > t1 {
			t0, t1 = t1, t0
		}
		// 0 x Inf on a wall of the box is no number, and passes neither comparison
		if t0 > from {
			from = t0
		}
		if t1 < to {
			to = t1
		}
	}
	if !(from <= to) || b.Min.X > b.Max.X {
		return math.Inf(1)
	}
	return from
}

// brink is how far outside a face, as a share of its sides, a ray still meets it:
// far above rounding, so that no ray slips through between two faces.
const brink = 1e-9

// Meet returns where along the ray it meets a face, or -1 (Möller and Trumbore,
// J. Graphics Tools 2, 1997).
func (r *Rays) meets(f int32, from, way r3.Vec) float64 {
	a, b, c := r.mesh.Triangle(int(f))
	ab, ac := r3.Sub(b, a), r3.Sub(c, a)
	p := r3.Cross(way, ac)
	det := r3.Dot(ab, p)
	if det == 0 {
		return -1
	}
	s := r3.Sub(from, a)
	u := r3.Dot(s, p) / det
	if u < -brink || u > 1+brink {
		return -1
	}
	q := r3.Cross(s, ab)
	v := r3.Dot(way, q) / det
	if v < -brink || u+v > 1+brink {
		return -1
	}
	return r3.Dot(ac, q) / det
}
