package beam

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// A part that is held or loaded on the face at its end needs such a face. A
// round end tapers to nothing, where a clamp would hold a point; the last
// twentieth of the part stands in for it, as in the solid check: a clamp grips
// up to its inner side, a load or a support acts in its middle.
const gripShare = 1.0 / 20

// flatShare is the least area of the flat face at an end over that of the
// section a twentieth inside.
const flatShare = 0.2

// gripRoundEnds fills in the places that a setup leaves to the ends of a part
// where these are not flat, and says so.
func gripRoundEnds(m *mesh.Mesh, slicer *mesh.Slicer, s Setup) (Setup, []string, error) {
	lo, hi := slicer.Extent()
	var warnings []string
	grip := gripShare * (hi - lo)
	clampFrom, clampTo := s.Support.clampedEnds()
	named := s // what the caller named, before the ends are filled in
	for _, end := range []struct {
		name        string
		face, inner float64
		clamped     bool
		place       **float64
	}{{"low", lo, lo + grip, clampFrom, &s.From}, {"high", hi, hi - grip, clampTo, &s.To}} {
		if *end.place != nil || (end.name == "high" && named.From != nil && named.To == nil && s.Support == Cantilever) {
			continue
		}
		flat, err := flatEnd(m, slicer, s.Span, end.face, end.inner)
		if err != nil {
			return s, nil, err
		}
		if flat {
			continue
		}
		at := end.inner
		if !end.clamped {
			at = (end.face + end.inner) / 2
		}
		*end.place = &at
		s.rounded = true
		warnings = append(warnings, fmt.Sprintf("the part has no flat face at its %s end along %s: the last %s mm of it stand in",
			end.name, s.Span, short(grip)))
	}
	return s, warnings, nil
}

// flatEnd compares the faces at the end of a part with the section inside.
func flatEnd(m *mesh.Mesh, slicer *mesh.Slicer, a mesh.Axis, face, inner float64) (bool, error) {
	tol := 1e-3 * abs(inner-face)
	var area float64
	for f := range m.Faces {
		p, q, r := m.Triangle(f)
		if abs(a.Of(p)-face) < tol && abs(a.Of(q)-face) < tol && abs(a.Of(r)-face) < tol {
			area += abs(a.Of(r3.Cross(r3.Sub(q, p), r3.Sub(r, p)))) / 2
		}
	}
	section, err := slicer.At(inner)
	if err != nil {
		return false, fmt.Errorf("cut at %s = %.6g mm: %w", a, inner, err)
	}
	return area >= flatShare*section.Area(), nil
}
