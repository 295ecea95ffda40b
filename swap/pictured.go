package swap

import (
	"context"

	"swapworth/solid"
)

// pictures are what only figures show of both parts under the first load case, and the
// redesign's next gram, in its own file. Nil where they were not looked for.
type pictures struct {
	shapes [2]*solid.Deflected
	held   [2]*solid.CaseResult
	spare  *solid.Spare
}

// picturesOf solves both parts once more on the grids that are there, for what figures
// show of the first load case, where they are wanted, and looks for the redesign's next gram in all of
// them. A part that was refused, or beam theory alone, has neither.
func picturesOf(ctx context.Context, m mechanics, p placed, wanted bool) (out pictures, err error) {
	if !wanted || m.method == ByBeam {
		return out, nil
	}
	var found [2]solid.Result
	err = each(ctx, 2, nil, func(ctx context.Context, side int) error {
		one := p.part(side)
		problem, err := allCases(one, side, p.cases, m.force)
		if err != nil {
			return err
		}
		o := quick.options()
		o.Shape, o.Spare = true, side == onRedesign
		if r, err := one.solver.check(ctx, one.elastic(), problem, o); err == nil {
			found[side] = r // what the comparison says of a part that cannot be solved stands
		}
		return ctx.Err()
	})
	if err != nil {
		return out, err
	}
	for side, r := range found {
		out.shapes[side] = r.Deflected
		if len(r.Cases) > 0 {
			out.held[side] = &r.Cases[0]
		}
	}
	if out.spare = found[onRedesign].Spare; out.spare != nil {
		own := p.new.motion.Inverse()
		for i, r := range out.spare.Regions {
			out.spare.Regions[i].Centre = array(own.Apply(vec(r.Centre)))
		}
	}
	return out, nil
}

// allCases is one problem with every load case, each with its own supports.
func allCases(p placedPart, side int, cases []loadCase, force float64) (solid.Problem, error) {
	var all solid.Problem
	for i, c := range cases {
		one, err := c.problem(p.mesh, side, force)
		if err != nil {
			return all, err
		}
		if i == 0 {
			all = one
			continue
		}
		one.Cases[0].Supports = one.Supports
		all.Cases = append(all.Cases, one.Cases...)
	}
	return all, nil
}
