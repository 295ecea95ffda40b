package swap

import (
	"context"

	"swapworth/solid"
)

// pictured solves both parts once more on the grids that are there, for what figures
// show of the first load case, and looks for the redesign's next gram in all of
// them. A part that was refused, or beam theory alone, has neither.
func (s *situation) pictured(ctx context.Context, r *Result) error {
	if !s.c.Figures || s.method() == ByBeam || r.Drawing == nil {
		return nil
	}
	var found [2]solid.Result
	err := each(ctx, 2, nil, func(ctx context.Context, side int) error {
		p := s.part(side)
		problem, err := s.allCases(p, side)
		if err != nil {
			return err
		}
		o := quick.options()
		o.Shape, o.Spare = true, side == onRedesign
		if r, err := p.solver.check(ctx, p.elastic(), problem, o); err == nil {
			found[side] = r // what the comparison says of a part that cannot be solved stands
		}
		return ctx.Err()
	})
	if err != nil {
		return err
	}
	r.Drawing.Old.Shape, r.Drawing.New.Shape = found[onStock].Deflected, found[onRedesign].Deflected
	for side, drawn := range []*Drawn{&r.Drawing.Old, &r.Drawing.New} {
		if len(found[side].Cases) > 0 {
			drawn.Held = &found[side].Cases[0]
		}
	}
	if spare := found[onRedesign].Spare; spare != nil {
		own := s.new.motion.Inverse()
		for i := range spare.Regions {
			spare.Regions[i].Centre = array(own.Apply(vec(spare.Regions[i].Centre)))
		}
		r.Spare = spare
	}
	return nil
}

// allCases is one problem with every load case, each with its own supports.
func (s *situation) allCases(p part, side int) (solid.Problem, error) {
	var all solid.Problem
	for i, c := range s.cases {
		one, err := c.problem(p.mesh, side, s.force())
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
