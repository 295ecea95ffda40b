package beam

import (
	"fmt"

	"swapworth/beam/section"
	"swapworth/materials"
	"swapworth/mesh"
)

// OfPart treats a closed mesh as a beam along Setup.Span: its section is cut at
// every change along the span, and the beam with the varying EI, GA and GJ is
// solved with shear, for bending about both axes. A clamp holds the whole section
// and the load passes through the section's centroid, as on the faces of a real
// part; the sections' weakening beside openings is in docs/beam.md. A part too stubby for beam
// theory is no error: its Result carries the reason in Refused and no
// stiffness.
func OfPart(m *mesh.Mesh, e materials.Elastic, s Setup) (Result, error) {
	if err := s.check(e); err != nil {
		return Result{}, err
	}
	slicer := s.Slicer
	if slicer == nil {
		slicer = mesh.NewSlicer(m, s.Span)
	}
	lo, hi := slicer.Extent()
	if !(hi > lo) {
		return Result{}, fmt.Errorf("the part has no length along %s", s.Span)
	}
	s, rounded, err := gripRoundEnds(m, slicer, s)
	if err != nil {
		return Result{}, err
	}
	where, err := s.places(lo, hi)
	if err != nil {
		return Result{}, err
	}
	if err := joinedAlong(m, slicer, s.Span); err != nil {
		return Result{}, err
	}
	var breaks []float64
	for _, x := range breaksOf(m, s.Span, (hi-lo)/300) {
		breaks = append(breaks, where.beam(x))
	}
	at := func(d float64) (mesh.Region, error) {
		r, err := slicer.At(where.model(d))
		if err != nil {
			return nil, fmt.Errorf("cut at %s = %.6g mm: %w", s.Span, where.model(d), err)
		}
		if len(r) == 0 {
			return nil, fmt.Errorf("there is no material at %s = %.6g mm: a beam is one body from end to end", s.Span, where.model(d))
		}
		return r, nil
	}
	p, err := newProfile(at, where.Length, s.joints(where), breaks, s.plane(s.Load))
	if err != nil {
		return Result{}, err
	}
	r, err := analyse(p, e, s, where, false)
	r.Warnings = append(rounded, r.Warnings...)
	return r, err
}

// joinedAlong refuses a part whose sections on both sides of a face across the
// span share no area: only an edge or a point holds it together there.
func joinedAlong(m *mesh.Mesh, slicer *mesh.Slicer, span mesh.Axis) error {
	lo, hi := slicer.Extent()
	tol := 1e-6 * (hi - lo)
	beside := 100 * tol
	for _, x := range jumpsOf(m, span, tol) {
		if x-lo < 2*beside || hi-x < 2*beside {
			continue
		}
		var pair []*cut
		for _, at := range []float64{x - beside, x + beside} {
			r, err := slicer.At(at)
			if err != nil {
				return fmt.Errorf("cut at %s = %.6g mm: %w", span, at, err)
			}
			section, err := section.Of(r)
			if err != nil {
				break // a gap, which the cuts of the beam will meet
			}
			pair = append(pair, &cut{Region: r, Section: section, Weight: 1})
		}
		if len(pair) == 2 && !same(pair[0].Section, pair[1].Section) && shared(pair) < 1e-3 {
			return fmt.Errorf("at %s = %.6g mm the sections on both sides share no area: a beam is one body from end to end", span, x)
		}
	}
	return nil
}

// shared is the area that two cuts have in common over that of the smaller.
func shared(pair []*cut) float64 {
	g := newGrid(pair, 0)
	a, b := g.fill(g.stretches(pair[0])), g.fill(g.stretches(pair[1]))
	var common float64
	for k := range a {
		_, _, dx, dy := g.centre(k)
		common += float64(min(a[k], b[k])) * dx * dy
	}
	return common / min(pair[0].Section.Area, pair[1].Section.Area)
}

// OfShape treats a simple section as a prismatic beam of the given length in
// mm, as beam tables do: a clamp holds the axis but lets the section's width curl,
// and the load passes through the shear centre. The section's first axis follows Span.Next(), its second the axis after:
// with the span along x, a load along z bends the section about its first axis.
func OfShape(sh section.Shape, spanMM float64, e materials.Elastic, s Setup) (Result, error) {
	if err := s.check(e); err != nil {
		return Result{}, err
	}
	if !(spanMM > 0) {
		return Result{}, fmt.Errorf("length %g mm: expected more than 0", spanMM)
	}
	where, err := s.places(0, spanMM)
	if err != nil {
		return Result{}, err
	}
	region := sh.Region()
	at := func(float64) (mesh.Region, error) { return region, nil }
	p, err := newProfile(at, where.Length, s.joints(where), nil, s.plane(s.Load))
	if err != nil {
		return Result{}, err
	}
	for c := range p.cuts() { // the closed form knows round corners exactly
		c.Section = sh.Properties()
		c.Eff = whole(c.Section)
	}
	return analyse(p, e, s, where, true)
}

// joints are the distances along the beam where something acts.
func (s Setup) joints(w places) []float64 {
	at := []float64{w.From, w.To, w.At}
	for _, l := range s.Loads {
		if l.At != nil {
			at = append(at, w.beam(*l.At))
		}
	}
	return at
}
