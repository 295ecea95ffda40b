package mesh

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
)

// FaceTree builds the tree over the listed faces.
func (m *Mesh) FaceTree(faces []int32) *boxtree.Tree {
	return boxtree.New(faces, func(f int32) Box { return m.FaceBox(f) })
}

// FaceBox returns the box of a face, mm.
func (m *Mesh) FaceBox(f int32) Box {
	a, b, c := m.Triangle(int(f))
	return boxtree.Extend(boxtree.Extend(Box{Min: a, Max: a}, b), c)
}

// Centre returns the mean of the corners of face f, in mm.
func (m *Mesh) Centre(f int) r3.Vec {
	a, b, c := m.Triangle(f)
	return r3.Scale(1./3, r3.Add(r3.Add(a, b), c))
}

// Flat reports whether the corners of face f lie on one line: whether its
// height is below 1e-10 of its longest edge, far less than the spacing of the
// float32 numbers of a file.
func (m *Mesh) Flat(f int) bool {
	a, b, c := m.Triangle(f)
	u, v, w := r3.Sub(b, a), r3.Sub(c, a), r3.Sub(c, b)
	longest := max(r3.Norm2(u), r3.Norm2(v), r3.Norm2(w))
	return r3.Norm2(r3.Cross(u, v)) <= 1e-20*longest*longest
}
