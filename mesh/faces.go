package mesh

import "swapworth/internal/boxtree"

// FaceTree builds the tree over the listed faces.
func (m *Mesh) FaceTree(faces []int32) *boxtree.Tree {
	return boxtree.New(faces, func(f int32) Box { return m.FaceBox(f) })
}

func (m *Mesh) FaceBox(f int32) Box {
	a, b, c := m.Triangle(int(f))
	return boxtree.Extend(boxtree.Extend(Box{Min: a, Max: a}, b), c)
}
