package swap

import (
	"fmt"

	"swapworth/beam"
	"swapworth/mesh/feature"
	"swapworth/solid"
)

// respondBeams computes one part as a beam in every load case at the ends of the
// span. A part that is no beam there gets the reason and no number.
func (m mechanics) respondBeams(p placedPart, side int, cases []loadCase) []response {
	out := make([]response, len(cases))
	for i, c := range cases {
		out[i] = m.respondBeam(p, side, c)
	}
	return out
}

func (m mechanics) respondBeam(p placedPart, side int, c loadCase) response {
	if !c.atEnds() {
		refused := "beam theory knows the ends of the span and no other places; use --check solid"
		return response{refused: refused, warnings: about(side, c, []string{refused})}
	}
	e, force := p.elastic(), m.force
	r, err := beam.OfPart(p.mesh, e, beam.Setup{
		Span: c.span, Load: c.along, Support: c.support, Force: force,
		AttachedMass: m.attached, Holes: roundHoles(p.features.Holes), StaticOnly: !m.rings,
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

// atEnds reports whether the case holds and loads the ends of the span alone, as
// a beam is.
func (c loadCase) atEnds() bool {
	return c.loads == nil && len(c.on[onStock].held) == 0 && len(c.on[onStock].loaded) == 0
}
