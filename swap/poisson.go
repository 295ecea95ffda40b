package swap

import (
	"context"
	"math"

	"swapworth/materials"
)

// samePoisson is the difference of two Poisson's ratios that no stiffness feels: a plate
// goes with 1/(1-nu^2), which at 0.33 moves by 0.4 % for it.
const samePoisson = 0.005

// poissonScale returns, for every load case, the stiffness of a part at another
// Poisson's ratio over that at its material's own, both per Young's modulus. Both
// are solved on one coarse grid, whose error they share.
func (s *situation) poissonScale(ctx context.Context, p part, side int, ratio float64) ([]float64, error) {
	out := make([]float64, len(s.cases))
	for i := range out {
		out[i] = 1
	}
	own := p.known.material.Poisson.Value
	if s.method() == ByBeam || math.Abs(ratio-own) <= samePoisson {
		return out, nil
	}
	quick := s.static()
	base, err := quick.respond(ctx, p, side, s.cases, sketch, nil)
	if err != nil {
		return nil, err
	}
	p.known.material.Poisson.Value = ratio
	other, err := quick.respond(ctx, p, side, s.cases, sketch, nil)
	if err != nil {
		return nil, err
	}
	for i := range out {
		if base[i].refused == "" && other[i].refused == "" {
			out[i] = other[i].perModulus / base[i].perModulus
		}
	}
	return out, nil
}

// inMaterial returns what changes inputs to one part made of another material.
func (s *situation) inMaterial(ctx context.Context, side int, m materials.Material) (func(inputs) inputs, error) {
	scale, err := s.poissonScale(ctx, s.part(side), side, m.Poisson.Value)
	if err != nil {
		return nil, err
	}
	return func(in inputs) inputs {
		changed := &in.old
		if side == onRedesign {
			changed = &in.new
		}
		*changed = changed.madeOf(m)
		in.directions = scaled(in.directions, of(side), scale)
		return in
	}, nil
}

// scaled returns the load cases with the stiffness of one part multiplied, case
// by case. Cases that were put in place of these keep theirs.
func scaled(directions []direction, of func(*direction) *response, by []float64) []direction {
	if len(directions) != len(by) {
		return directions
	}
	responses := make([]response, len(by))
	for i := range by {
		responses[i] = *of(&directions[i])
		responses[i].perModulus *= by[i]
	}
	return responding(directions, of, responses)
}
