package mesh

import (
	"sort"
)

// Slicer cuts one mesh at many positions along an axis. It finds the faces that
// a cut meets through an interval tree over their extents, so a cut costs time
// in proportion to the faces it meets. It may be used from several goroutines
// at once.
type Slicer struct {
	mesh   *Mesh
	axis   Axis
	lo, hi float64 // the part's extent along the axis, mm
	root   *spans
}

// NewSlicer prepares cuts at right angles to an axis.
func NewSlicer(m *Mesh, a Axis) *Slicer {
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
	s.root = newSpans(all)
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
	p := AxisPlane(s.axis, x)
	if err := missed(p, s.lo-x, s.hi-x, len(s.mesh.Faces)); err != nil {
		return nil, err
	}
	height := func(v int32) float64 { return s.axis.Of(s.mesh.Vertices[v]) - x }
	return section(s.mesh, p, s.root.holding(x, nil), side{height, onIsBelow})
}

// Positions returns, in order, the coordinates along the axis at which the part
// has vertices, merged when closer than tol in mm. Between two neighbours every
// section changes smoothly.
func (s *Slicer) Positions(tol float64) []float64 {
	xs := make([]float64, len(s.mesh.Vertices))
	for i, v := range s.mesh.Vertices {
		xs[i] = s.axis.Of(v)
	}
	sort.Float64s(xs)
	kept := xs[:0]
	for _, x := range xs {
		if len(kept) == 0 || x-kept[len(kept)-1] > tol {
			kept = append(kept, x)
		}
	}
	return kept
}

// span is the extent of a face along the axis, in mm.
type span struct {
	lo, hi float64
	face   int32
}

// spans is a node of a centred interval tree: here are the spans that hold mid,
// below and above those on either side of it.
type spans struct {
	mid          float64
	byLo, byHi   []span // byLo ascending by lo, byHi descending by hi
	below, above *spans
}

func newSpans(all []span) *spans {
	if len(all) == 0 {
		return nil
	}
	mids := make([]float64, len(all))
	for i, s := range all {
		mids[i] = s.lo/2 + s.hi/2
	}
	sort.Float64s(mids)
	n := &spans{mid: mids[len(mids)/2]}
	var below, above []span
	for _, s := range all {
		switch {
		case s.hi < n.mid:
			below = append(below, s)
		case s.lo > n.mid:
			above = append(above, s)
		default:
			n.byLo = append(n.byLo, s)
		}
	}
	n.byHi = append(n.byHi, n.byLo...)
	sort.Slice(n.byLo, func(i, j int) bool { return n.byLo[i].lo < n.byLo[j].lo })
	sort.Slice(n.byHi, func(i, j int) bool { return n.byHi[i].hi > n.byHi[j].hi })
	n.below, n.above = newSpans(below), newSpans(above)
	return n
}

// holding appends the faces whose extent holds x, ends included.
func (n *spans) holding(x float64, out []int32) []int32 {
	for n != nil {
		if x <= n.mid {
			for _, s := range n.byLo {
				if s.lo > x {
					break
				}
				out = append(out, s.face)
			}
			n = n.below
			continue
		}
		for _, s := range n.byHi {
			if s.hi < x {
				break
			}
			out = append(out, s.face)
		}
		n = n.above
	}
	return out
}
