package beam

import (
	"errors"
	"fmt"

	"swapworth/beam/section"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// OfPart treats a closed mesh as a beam along Setup.Span: its section is cut at
// every change along the span, and the beam with the varying EI, GA and GJ is
// solved with shear, for bending about both axes. A clamp holds the whole section
// and the load passes through the section's centroid, as on the faces of a real
// part. A part that is no beam is no error: its Result carries the reason in
// Refused and no stiffness. docs/beam.md says what a beam is.
func OfPart(m *mesh.Mesh, e materials.Elastic, s Setup) (Result, error) {
	if err := s.check(e); err != nil {
		return Result{}, err
	}
	slicer := s.Slicer
	if slicer == nil {
		slicer = cut.NewSlicer(m, s.Span)
	}
	lo, hi := slicer.Extent()
	if !(hi > lo) {
		return Result{}, fmt.Errorf("the part has no length along %s", s.Span)
	}
	where, err := s.places(lo, hi)
	if err != nil {
		return Result{}, err
	}
	var breaks []float64
	for _, x := range breaksOf(m, s.Span, (hi-lo)/mostBreaks) {
		breaks = append(breaks, where.beam(x))
	}
	at := func(d float64) (cut.Region, error) {
		r, err := slicer.At(where.model(d))
		if err != nil {
			return nil, fmt.Errorf("cut at %s = %.6g mm: %w", s.Span, where.model(d), err)
		}
		if len(r) == 0 {
			return nil, gap{s.Span, where.model(d)}
		}
		return r, nil
	}
	p, err := newProfile(at, where.Length, s.joints(where), breaks, s.plane(s.Load))
	var hole gap
	if errors.As(err, &hole) {
		return refused(e, s, where, hole), nil
	}
	if err != nil {
		return Result{}, err
	}
	return answer(newProblem(p, e, s, where, false))
}

// mostBreaks bounds the places between corners of a part at which it is cut.
const mostBreaks = 300

// gap is a place along the span where there is no material.
type gap struct {
	span mesh.Axis
	at   float64 // mm
}

func (g gap) Error() string {
	return fmt.Sprintf("there is no material at %s = %.6g mm", g.span, g.at)
}

// refused is the result of a part in separate lengths.
func refused(e materials.Elastic, s Setup, w places, g gap) Result {
	p := problem{profile: &profile{}, elastic: e, setup: s, where: w}
	r := p.describe()
	r.Slenderness = 0
	r.Refused = fmt.Sprintf("this is no beam along %s: %v; use the solid check", s.Span, g)
	r.Warnings = []string{r.Refused}
	return r
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
	at := func(float64) (cut.Region, error) { return region, nil }
	p, err := newProfile(at, where.Length, s.joints(where), nil, s.plane(s.Load))
	if err != nil {
		return Result{}, err
	}
	for c := range p.cuts() { // the closed form knows round corners exactly
		c.Section = sh.Properties()
	}
	a := newProblem(p, e, s, where, true)
	a.torsion = func(*cutSection) (section.TorsionResult, error) { return sh.Torsion(e.Poisson) }
	r, err := answer(a)
	if err != nil {
		return r, err
	}
	if r.Refused == "" && (s.Force != 0 || len(s.Loads) > 0) && !symmetricShape(p, s) {
		r.Warnings = append(r.Warnings, "the load is taken through the shear centre; beside it, it twists the section too")
	}
	return r, nil
}

// symmetricShape reports whether a load through the centroid passes through the
// shear centre.
func symmetricShape(p *profile, s Setup) bool {
	return symmetric(&p.panels[0].cuts[0], s.plane(s.Load))
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
