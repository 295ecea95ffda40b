package swap

import (
	"context"
	"math"
	"slices"

	"swapworth/mesh"
	"swapworth/mesh/asmade"
)

// plate is the power of its thickness with which a plate bends, the most that any shape
// has: it stands where a part at its limit cannot be solved.
const plate = 3

// sized finds what the tolerance does to the stiffness of both parts.
func sized(ctx context.Context, m mechanics, p placed, cases []loadCase) (by [2]map[string]bySize, err error) {
	err = each(ctx, 2, nil, func(ctx context.Context, side int) (err error) {
		by[side], err = stiffnessBySize(ctx, m, p.part(side), side, cases)
		return err
	})
	return by, err
}

// stiffnessBySize solves a part as drawn, and at the lower limit of each error, on one
// coarse grid whose error all share.
func stiffnessBySize(ctx context.Context, m mechanics, p placedPart, side int, cases []loadCase) (map[string]bySize, error) {
	drawn, err := m.respond(ctx, p, side, cases, sketch, nil)
	if p.tolerance.mass == (bySize{}) || err != nil {
		return nil, err
	}
	out := map[string]bySize{}
	for e := range sizeErrors {
		less := make([]response, len(cases))
		if smaller, err := p.drifted(atLower(p.made, p.tolerance.deviations, e)); err == nil {
			less, err = m.respond(ctx, smaller, side, cases, sketch, nil)
			if ctx.Err() != nil {
				return nil, err
			}
		}
		for i, c := range cases {
			of := out[c.name]
			if of[e] = plate * p.tolerance.mass[e]; i < len(less) && drawn[i].perModulus > 0 && less[i].perModulus > 0 {
				of[e] = math.Log(drawn[i].perModulus / less[i].perModulus)
			}
			out[c.name] = of
		}
	}
	return out, nil
}

// drift is how far faces move along a part's own axes, mm.
type drift [3]float64

// drifted is the part with its faces moved outward along its own axes, its places where
// they were. It is made once.
func (p placedPart) drifted(by drift) (placedPart, error) {
	moved, err := remembered(&p.solver.found, by, func() (*solver, error) {
		m, err := asmade.Drifted(p.made, by)
		if err == nil && p.motion != mesh.Identity() {
			m = m.Transformed(p.motion)
		}
		return &solver{mesh: m}, err
	})
	if err != nil {
		return p, err
	}
	return p.solvedAs(moved), nil
}

// sizedCases are the load cases, and those with the force along the other axis where
// its direction is assumed: the same deviation does another thing there.
func sizedCases(l Loading, cases []loadCase) []loadCase {
	if len(l.Along) > 0 || l.named() {
		return cases
	}
	return append(cases[:len(cases):len(cases)], turned(cases, across(cases))...)
}

// across is the axis at right angles to the span and the first load.
func across(cases []loadCase) mesh.Axis {
	a := cases[0].span.Next()
	if a == cases[0].along {
		a = a.Next()
	}
	return a
}

// turned are the cases with the assumed force along another axis.
func turned(cases []loadCase, other mesh.Axis) []loadCase {
	out := slices.Clone(cases)
	for i := range out {
		if out[i].loads == nil {
			out[i].name, out[i].along = other.String(), other
		}
	}
	return out
}

// solvedAs returns the part with another mesh in its place, which has its features.
func (p placedPart) solvedAs(s *solver) placedPart {
	return placedPart{p.part, p.motion, s.mesh, p.features, s, p.onMachine}
}
