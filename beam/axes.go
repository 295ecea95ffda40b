package beam

import "swapworth/mesh"

// DefaultAxes returns the axes that a part is judged along when none is named:
// the span along the longest side of its box, the load along the shortest. Of
// equal sides the first is taken, and the load never runs along the span.
func DefaultAxes(box mesh.Box) (span, load mesh.Axis) {
	size := box.Size()
	for _, a := range []mesh.Axis{mesh.Y, mesh.Z} {
		if a.Of(size) > span.Of(size) {
			span = a
		}
	}
	return span, ShortestBut(span, box)
}

// LongestBut returns the axis of the longest side of a box other than the given
// one.
func LongestBut(load mesh.Axis, box mesh.Box) mesh.Axis {
	a, b := load.Next(), load.Next().Next()
	if size := box.Size(); b.Of(size) > a.Of(size) {
		return b
	}
	return a
}

// ShortestBut returns the axis of the shortest side of a box other than the
// given one.
func ShortestBut(span mesh.Axis, box mesh.Box) mesh.Axis {
	a, b := span.Next(), span.Next().Next()
	if size := box.Size(); b.Of(size) < a.Of(size) {
		return b
	}
	return a
}
