package cut

import (
	"cmp"
	"math"
	"slices"

	"swapworth/mesh"
)

// Slicer cuts one mesh at many positions along an axis. It finds the faces that
// a cut meets through an interval tree over their extents, so a cut costs time
// in proportion to the faces it meets. It may be used from several goroutines
// at once.
type Slicer struct {
	mesh   *mesh.Mesh
	axis   mesh.Axis
	lo, hi float64 // the part's extent along the axis, mm
	faces  spans
}

// NewSlicer prepares cuts at right angles to an axis.
func NewSlicer(m *mesh.Mesh, a mesh.Axis) *Slicer {
	s := &Slicer{mesh: m, axis: a}
	b := m.Bounds()
	s.lo, s.hi = a.Of(b.Min), a.Of(b.Max)
	all := make([]span, 0, len(m.Faces))
	for f := range m.Faces {
		p, q, r := m.Triangle(f)
		x, y, z := a.Of(p), a.Of(q), a.Of(r)
		if lo, hi := min(x, y, z), max(x, y, z); lo < hi {
			all = append(all, span{lo, hi, int32(f)})
		}
	}
	s.faces = newSpans(all)
	return s
}

// Extent returns the lowest and the highest coordinate of the part along the
// slicer's axis, in mm.
func (s *Slicer) Extent() (lo, hi float64) { return s.lo, s.hi }

// At returns the section at the position x in mm along the axis, as Cut with
// AxisPlane does: where the section changes at x, the side of lower coordinates
// is taken, except at the lowest extent of the part.
func (s *Slicer) At(x float64) (Region, error) { return s.at(x, x == s.lo) }

// Above returns the section at x in mm as the limit from higher coordinates:
// it differs from At only where the section changes at x. At the highest extent
// of the part it is the same as At.
func (s *Slicer) Above(x float64) (Region, error) { return s.at(x, x != s.hi) }

func (s *Slicer) at(x float64, onIsBelow bool) (Region, error) {
	p := mesh.AxisPlane(s.axis, x)
	if err := missed(p, s.lo-x, s.hi-x, len(s.mesh.Faces)); err != nil {
		return nil, err
	}
	height := func(v int32) float64 { return s.axis.Of(s.mesh.Vertices[v]) - x }
	return section(s.mesh, p, s.faces.holding(x), side{height, onIsBelow})
}

// Positions returns, in order, the coordinates along the axis at which the part
// has vertices, merged when closer than tol in mm. Between two neighbours every
// section changes smoothly.
func (s *Slicer) Positions(tol float64) []float64 {
	xs := make([]float64, len(s.mesh.Vertices))
	for i, v := range s.mesh.Vertices {
		xs[i] = s.axis.Of(v)
	}
	slices.Sort(xs)
	kept := xs[:0]
	for _, x := range xs {
		if len(kept) == 0 || x-kept[len(kept)-1] > tol {
			kept = append(kept, x)
		}
	}
	return kept
}

// Span is the extent of a face along the axis, in mm.
type span struct {
	lo, hi float64
	face   int32
}

// spans is an interval tree without pointers: the root of a range of spans is
// its middle one, its branches are the halves on either side.
type spans struct {
	byLo    []span    // ascending by lo
	highest []float64 // of a root: the largest hi in its range
}

func newSpans(all []span) spans {
	slices.SortFunc(all, func(a, b span) int {
		return cmp.Or(cmp.Compare(a.lo, b.lo), cmp.Compare(a.face, b.face))
	})
	n := spans{all, make([]float64, len(all))}
	n.grow(0, len(all))
	return n
}

func (n spans) grow(from, to int) float64 {
	if from == to {
		return math.Inf(-1)
	}
	root := (from + to) / 2
	n.highest[root] = max(n.byLo[root].hi, n.grow(from, root), n.grow(root+1, to))
	return n.highest[root]
}

// holding returns the faces whose extent holds x, ends included.
func (n spans) holding(x float64) []int32 { return n.within(0, len(n.byLo), x, nil) }

func (n spans) within(from, to int, x float64, out []int32) []int32 {
	root := (from + to) / 2
	if from == to || n.highest[root] < x {
		return out
	}
	out = n.within(from, root, x, out)
	if n.byLo[root].lo > x {
		return out
	}
	if n.byLo[root].hi >= x {
		out = append(out, n.byLo[root].face)
	}
	return n.within(root+1, to, x, out)
}
