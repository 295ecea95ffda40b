package swap

import (
	"fmt"
	"math"

	"swapworth/beam"
	"swapworth/mesh/feature"
	"swapworth/solid"
)

// respondBeams computes one part as a beam in every load case at the ends of the
// span. A part that is no beam there gets the reason and no number.
func (s *situation) respondBeams(p part, side int, cases []loadCase) []response {
	out := make([]response, len(cases))
	for i, c := range cases {
		out[i] = s.respondBeam(p, side, c)
	}
	return out
}

func (s *situation) respondBeam(p part, side int, c loadCase) response {
	if !c.atEnds() {
		refused := "beam theory knows the ends of the span and no other places; use --check solid"
		return response{refused: refused, warnings: about(side, c, []string{refused})}
	}
	e, force := p.elastic(), s.force()
	r, err := beam.OfPart(p.mesh, e, beam.Setup{
		Span: c.span, Load: c.along, Support: c.support, Force: force,
		AttachedMass: s.c.Loading.AttachedMass, Holes: roundHoles(p.features.Holes), StaticOnly: !s.rings(),
	})
	if err != nil { // the rest of the comparison stands without a beam
		r.Refused = fmt.Sprintf("this is no beam along %s: %v; use --check solid", c.span, err)
		r.Warnings = []string{r.Refused}
	}
	warnings := about(side, c, r.Warnings)
	if r.Stiffness == nil {
		return response{refused: r.Refused, warnings: warnings}
	}
	out := response{
		warnings:   warnings,
		kind:       solid.ByForce,
		perModulus: *r.Stiffness / e.YoungsModulus,
		deflection: e.YoungsModulus / *r.Stiffness,
		within:     max(-r.MethodError.Low, r.MethodError.High),
		frequency:  r.Frequency,
		solvedAs:   e,
		bent:       Bent{Along: c.along, Points: r.Curve},
	}
	if r.MaxStress != nil {
		out.stress = stress{perLoad: within(*r.MaxStress/force, stressError), resolved: true}
	}
	if r.Stress != nil {
		at := c.span.Of(r.Stress.EquivalentAt)
		out.bent.WeakestAt = &at
	}
	return out
}

// roundHoles hands the part's through holes to the beam, for the concentration
// of stress beside them.
func roundHoles(holes []feature.Hole) []beam.RoundHole {
	var out []beam.RoundHole
	for _, h := range holes {
		if h.Open {
			out = append(out, beam.RoundHole{Number: h.Number, Axis: h.Axis, Centre: h.Centre, Diameter: h.Diameter})
		}
	}
	return out
}

// secondOpinion bends every part that is a beam as one, keeps its curve for the
// figures, and warns where beam and solid differ by more than both their errors.
func (s *situation) secondOpinion(directions []direction) []string {
	if s.method() == ByBeam {
		return nil
	}
	var warnings []string
	for i := range directions {
		d := &directions[i]
		for side := range d.on {
			found := of(side)(d)
			if !d.atEnds() || found.refused != "" {
				continue
			}
			asBeam := s.static().respondBeam(s.part(side), side, d.loadCase)
			if asBeam.refused != "" {
				continue
			}
			found.bent = asBeam.bent
			off := asBeam.perModulus/found.perModulus - 1
			if math.Abs(off) > found.within+asBeam.within {
				warnings = append(warnings, fmt.Sprintf(
					"%s, %s: as a beam it is %s %% %s than the solid says, more than both errors: look at how it is held",
					sideName(side), d.words(), number(100*math.Abs(off)), stiffer(off)))
			}
		}
	}
	return warnings
}

func stiffer(off float64) string {
	if off > 0 {
		return "stiffer"
	}
	return "softer"
}
