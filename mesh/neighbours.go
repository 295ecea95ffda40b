package mesh

// Neighbours returns, for side k of face f, which runs from its corner k to the
// next, the side of the face across it: entry 3f+k holds 3g+j for side j of face
// g, or -1 where there is not exactly one face that runs the other way.
// The slice is not to be changed.
func Neighbours(m *Mesh) []int32 {
	if m.across != nil {
		return m.across
	}
	return EdgesOf(m).Opposite
}
