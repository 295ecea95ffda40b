package mesh

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
	"swapworth/internal/textwrap"
)

// settled returns a mesh with what files of sound parts often have and what can be
// read in one way only put right, and words for what is worth saying. It costs no
// volume beyond the rounding of the coordinates:
//
//   - corners at gaps that lie nearer to each other than float32 numbers can tell
//     become one: kernels write 3e-16 beside 0,
//   - faces of two bodies that lie back to back are left out, so that the bodies are
//     one,
//   - faces that differ from their neighbours in nothing but the way they look are
//     turned.
//
// Each is done only if the edges fit better for it. The edge table is that of the
// returned mesh.
func settled(m *Mesh) (out *Mesh, e *Edges, turned bool, said []string) {
	e = EdgesOf(m)
	if len(e.Open) > 0 {
		if joined, _ := JoinWithin(m, 2*m.rounding()); joined != nil {
			if clean, _ := WithoutCollapsed(joined); clean != nil {
				joined = clean
			}
			if after := EdgesOf(joined); len(after.Open) < len(e.Open) {
				m, e = joined, after
			}
		}
	}
	if e.Balanced && len(e.Overused) > 0 {
		if one, pairs := withoutBacks(m, e); pairs > 0 {
			m, e = one, EdgesOf(one)
			said = append(said, fmt.Sprintf("%s left out together with a back of its own: bodies that meet there face to face are one",
				textwrap.Counted(pairs, "face")))
		}
	}
	if len(e.Flipped) > 0 && len(e.Open) == 0 {
		if alike, r := OrientAlike(m); r != nil {
			if after := EdgesOf(alike); len(after.Flipped) == 0 {
				m, e, turned = alike, after, true
				said = append(said, fmt.Sprintf("%s, near (%.4g, %.4g, %.4g) mm; this changes no volume", r.What, r.At.X, r.At.Y, r.At.Z))
			}
		}
	}
	return m, e, turned, said
}

// withoutBacks leaves out every face that is there with its own back, where all
// faces that are there more than once are so: two bodies drawn alike where they
// meet. It returns how many pairs there were, 0 where it left the mesh as it is.
func withoutBacks(m *Mesh, e *Edges) (out *Mesh, pairs int) {
	gone := make([]bool, len(m.Faces))
	for _, group := range doublesAmong(m, e) {
		lead := 0
		for _, f := range group {
			gone[f] = true
			if m.SameSide(group[0], f) {
				lead++
			} else {
				lead--
			}
		}
		if lead != 0 {
			return m, 0
		}
		pairs += len(group) / 2
	}
	if pairs == 0 || 2*pairs == len(m.Faces) {
		return m, 0 // a sheet with two sides is no body
	}
	out = &Mesh{Vertices: m.Vertices}
	for f, face := range m.Faces {
		if !gone[f] {
			out.Faces = append(out.Faces, face)
		}
	}
	return out, pairs
}

// roundingDoubt bounds by how much the rounding of a file's coordinates to float32
// may change the volume, in mm3: each face may lie off by half a spacing along each
// axis, so the sum of its shadows along the axes times that. Flat faces move as a
// whole, so the parts do not cancel.
func roundingDoubt(m *Mesh) float64 {
	b := m.Bounds()
	half := r3.Scale(0x1p-24, r3.Vec{
		X: max(abs(b.Min.X), abs(b.Max.X)), Y: max(abs(b.Min.Y), abs(b.Max.Y)), Z: max(abs(b.Min.Z), abs(b.Max.Z))})
	parts := make([]float64, (len(m.Faces)+chunkSize-1)/chunkSize)
	parallel.Chunks(len(m.Faces), chunkSize, func(chunk, from, to int) {
		for f := from; f < to; f++ {
			p, q, r := m.Triangle(f)
			n := r3.Cross(r3.Sub(q, p), r3.Sub(r, p)) // twice the area
			parts[chunk] += (abs(n.X)*half.X + abs(n.Y)*half.Y + abs(n.Z)*half.Z) / 2
		}
	})
	sum := 0.0
	for _, p := range parts {
		sum += p
	}
	return sum
}
