package swap

import (
	"context"
	"fmt"
	"slices"

	"swapworth/beam"
	"swapworth/solid"
)

// respondBoth solves both parts side by side in every load case.
func (m mechanics) respondBoth(ctx context.Context, p placed, cases []loadCase, b budget, progress func(float64)) ([]direction, error) {
	told := shares(progress, 2)
	var found [2][]response
	err := each(ctx, 2, nil, func(ctx context.Context, side int) (err error) {
		found[side], err = m.respond(ctx, p.part(side), side, cases, b, told[side])
		return err
	})
	if err != nil {
		return nil, err
	}
	out := make([]direction, len(cases))
	for i, c := range cases {
		out[i] = direction{c, m.solvedBy(), found[onStock][i], found[onRedesign][i]}
	}
	return out, nil
}

// respond computes one part in every load case.
func (m mechanics) respond(ctx context.Context, p placedPart, side int, cases []loadCase, b budget, told func(float64)) ([]response, error) {
	return m.respondWith(ctx, p, side, cases, b, solid.Options{Progress: told})
}

// respondWith is respond with what else is asked of the solid room.
func (m mechanics) respondWith(ctx context.Context, p placedPart, side int, cases []loadCase, b budget, more solid.Options) ([]response, error) {
	if m.method == ByBeam {
		return m.respondBeams(p, side, cases), nil
	}
	if m.method == BySolid && b >= quick {
		b = full
	}
	options := b.options()
	options.Progress, options.Peaks = more.Progress, more.Peaks
	if b != sketch && m.rings {
		options.Modes = 1
	}
	options.NoStress = b == sketch || !m.stress
	return remembered(&p.solver.found, m.question(p, side, cases, options), func() ([]response, error) {
		out := make([]response, len(cases))
		for _, group := range alike(cases, side) {
			if err := m.respondSolid(ctx, p, side, cases, group, options, out); err != nil {
				return nil, err
			}
		}
		return out, nil
	})
}

// question is all that a response depends on. Stiffness, stress and frequency are free
// of Young's modulus, of the density and of the strength; see response.
type question string

func (m mechanics) question(p placedPart, side int, cases []loadCase, o solid.Options) question {
	e := p.elastic()
	e.YoungsModulus, e.Density, e.Yield = 0, 0, 0
	o.Progress = nil
	text := fmt.Sprintf("%d %+v %+v %g %g", side, e, o, m.attached, m.force)
	for _, c := range cases {
		loads := Loads{}
		if c.loads != nil {
			loads = *c.loads
		}
		text += fmt.Sprintf("; %s %v %v %v %v %+v %+v", c.name, c.span, c.along, c.support, c.loads == nil, loads, c.on[side])
	}
	return question(text)
}

// alike groups the load cases that hold a part alike: they share one set-up, which
// costs little more than one of them.
func alike(cases []loadCase, side int) [][]int {
	var out [][]int
	for i, c := range cases {
		k := slices.IndexFunc(out, func(group []int) bool { return cases[group[0]].holdsLike(c, side) })
		if k < 0 {
			out = append(out, nil)
			k = len(out) - 1
		}
		out[k] = append(out[k], i)
	}
	return out
}

// holdsLike reports whether two cases hold a part alike. A propped part is held
// along its load.
func (c loadCase) holdsLike(d loadCase, side int) bool {
	if len(c.on[side].held) > 0 || len(d.on[side].held) > 0 {
		return slices.Equal(c.on[side].held, d.on[side].held)
	}
	return c.support == d.support && (c.support != beam.Propped || c.along == d.along)
}

// respondSolid solves a group of cases in three dimensions, and writes what it
// finds into their places of out. A part that cannot be solved is refused, and the
// rest of the comparison stands without it.
func (m mechanics) respondSolid(ctx context.Context, p placedPart, side int, cases []loadCase, group []int, options solid.Options, out []response) error {
	var problem solid.Problem
	for n, k := range group {
		one, err := cases[k].problem(p.mesh, side, m.force)
		if err != nil {
			return err
		}
		if n == 0 {
			problem = one
			problem.AttachedMass = m.attached
		} else {
			problem.Cases = append(problem.Cases, one.Cases...)
		}
	}
	r, err := p.solver.check(ctx, p.elastic(), problem, options)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	for n, k := range group {
		if err != nil {
			out[k] = response{refused: err.Error(), warnings: about(side, cases[k], []string{err.Error()})}
			continue
		}
		out[k] = responseOf(r, r.Cases[n], cases[k], m.force)
		out[k].warnings, out[k].solvedAs = aboutGroup(side, cases, group, r.Warnings), p.elastic()
	}
	return nil
}

// responseOf frees one solved case of its material, and of a force along an axis.
func responseOf(r solid.Result, c solid.CaseResult, of loadCase, force float64) response {
	size := 1.0 // the loads as they are stated
	if of.loads == nil {
		size = force
	}
	return response{
		kind:       c.Kind,
		perModulus: c.Measure() / r.YoungsModulus,
		within:     c.ErrorPercent / 100,
		frequency:  r.Frequency,
		deflection: c.Deflection * r.YoungsModulus / size,
		stress:     stressOf(c, size),
		reactions:  c.Reactions,
	}
}

// stressOf is the peak of a case over its load, with what grids or submodels leave
// open of it.
func stressOf(c solid.CaseResult, size float64) stress {
	if !(c.MaxStress > 0) {
		return stress{}
	}
	return stress{perLoad: c.Stress.Scale(1 / size), resolved: c.Resolved}
}

// aboutGroup is about for cases that were solved together: what holds for one of
// several names it itself.
func aboutGroup(side int, cases []loadCase, group []int, warnings []string) []string {
	if len(group) == 1 {
		return about(side, cases[group[0]], warnings)
	}
	var out []string
	for _, w := range warnings {
		out = append(out, sideName(side)+": "+w)
	}
	return out
}
