package figure

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// The views of third-angle projection.
var (
	fromAbove = eye{mesh.X, mesh.Y, mesh.Z, 1}
	fromFront = eye{mesh.X, mesh.Z, mesh.Y, -1}
	fromRight = eye{mesh.Y, mesh.Z, mesh.X, 1}
)

// view is what an eye sees: the edges in front and those behind a face, as open
// or closed lines.
type view struct {
	eye             eye
	visible, hidden [][]flatPoint
}

func newView(m *mesh.Mesh, edges []meshEdge, e eye) view {
	d := newDepthImage(m, e)
	var seen, covered []flatLine
	for _, edge := range edges {
		if !edge.sharp && !edge.outlines(e) {
			continue
		}
		for _, run := range d.runs(e.flat(m.Vertices[edge.a]), e.flat(m.Vertices[edge.b])) {
			if run.seen {
				seen = append(seen, run.line)
			} else {
				covered = append(covered, run.line)
			}
		}
	}
	// An edge that coincides with one drawn before it is not drawn again: the
	// lower rim of a hole under its upper rim, a covered edge under one in front.
	t := newTracing(d)
	return view{e, t.fresh(chains(seen, d.pixel)), t.fresh(chains(covered, d.pixel))}
}

// meshEdge is an edge between two faces that a drawing may show.
type meshEdge struct {
	a, b  int32 // vertices
	n, o  r3.Vec
	sharp bool // the faces meet at more than sharpAngle
}

// sharpAngle is the turn between two faces, in degrees, from which their common
// edge is drawn. Chords of a round turn less.
const sharpAngle = 25

// mostEdges keeps a drawing of a rough, scanned part readable and small: beyond
// it only its outline is drawn.
const mostEdges = 40_000

// featureEdges returns the edges that some view may show: sharp ones, and those
// of round surfaces, which show where they are the outline.
func featureEdges(m *mesh.Mesh) []meshEdge {
	type key struct{ a, b int32 }
	first := make(map[key]r3.Vec, len(m.Faces)*3/2)
	limit := math.Cos(sharpAngle * math.Pi / 180)
	var edges []meshEdge
	sharp := 0
	for f, corners := range m.Faces {
		a, b, c := m.Triangle(f)
		n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
		if r3.Norm2(n) == 0 {
			continue
		}
		n = r3.Unit(n)
		for k := range 3 {
			i, j := corners[k], corners[(k+1)%3]
			if i > j {
				i, j = j, i
			}
			o, seen := first[key{i, j}]
			if !seen {
				first[key{i, j}] = n
				continue
			}
			// Faces of one plane have no edge between them.
			turn := r3.Dot(n, o)
			if turn > 1-1e-9 {
				continue
			}
			e := meshEdge{i, j, n, o, turn < limit}
			if e.sharp {
				sharp++
			}
			edges = append(edges, e)
		}
	}
	if sharp > mostEdges {
		for i := range edges {
			edges[i].sharp = false
		}
	}
	return edges
}

// outlines reports whether one face of the edge is turned to the eye and the
// other away.
func (m meshEdge) outlines(e eye) bool {
	// A face seen edge-on counts as turned away. In the wall of a finely meshed
	// bore the chords tilt its faces to and fro by a degree or two.
	const flush = 0.05
	front := func(n r3.Vec) bool { return e.toward*e.sight.Of(n) > flush }
	return front(m.n) != front(m.o)
}
