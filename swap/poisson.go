package swap

import (
	"context"
	"math"
	"sync"

	"swapworth/materials"
)

// samePoisson is the difference of two Poisson's ratios that no stiffness feels: a plate
// goes with 1/(1-nu^2), which at 0.33 moves by 0.4 % for it.
const samePoisson = 0.005

// nodes are the Poisson's ratios that a part is solved at beside its material's own:
// those of a stiff print and of a soft plastic. Between them and a little beyond, the
// stiffness is smooth in the ratio, and a parabola through three points follows it.
var nodes = [2]float64{0.2, 0.45}

// apart is how far a node keeps from the material's own ratio, so that three points make
// a parabola.
const apart = 0.05

// poissonCurve is the stiffness of a part over that at its own Poisson's ratio, both per
// Young's modulus, at the nodes: by node, then by load case.
type poissonCurve struct {
	own   float64
	nodes [2]float64
	scale [2][]float64
}

// at returns the scale at a Poisson's ratio, for every load case: the parabola through
// (own, 1) and the nodes (Lagrange).
func (c poissonCurve) at(ratio float64) []float64 {
	a, b := c.nodes[0], c.nodes[1]
	out := make([]float64, len(c.scale[0]))
	for i := range out {
		out[i] = (ratio-a)*(ratio-b)/((c.own-a)*(c.own-b)) +
			c.scale[0][i]*(ratio-c.own)*(ratio-b)/((a-c.own)*(a-b)) +
			c.scale[1][i]*(ratio-c.own)*(ratio-a)/((b-c.own)*(b-a))
	}
	return out
}

// poissonScale returns, for every load case, the stiffness of a part at another
// Poisson's ratio over that at its material's own, both per Young's modulus. All are
// solved on one coarse grid, whose error they share.
func (s *situation) poissonScale(ctx context.Context, side int, ratio float64) ([]float64, error) {
	own := s.part(side).known.material.Poisson.Value
	if s.method() == ByBeam || math.Abs(ratio-own) <= samePoisson {
		out := make([]float64, len(s.cases))
		for i := range out {
			out[i] = 1
		}
		return out, nil
	}
	curve, err := s.poissons[side].of(func() (poissonCurve, error) { return s.poissonCurve(ctx, side) })
	if err != nil {
		return nil, err
	}
	return curve.at(ratio), nil
}

func (s *situation) poissonCurve(ctx context.Context, side int) (poissonCurve, error) {
	p, quick := s.part(side), s.static()
	c := poissonCurve{own: p.known.material.Poisson.Value, nodes: nodes}
	for n, ratio := range nodes {
		if math.Abs(ratio-c.own) < apart {
			c.nodes[n] = c.own - apart
		}
	}
	base, err := s.sketched(ctx, side)
	if err != nil {
		return c, err
	}
	for n, ratio := range c.nodes {
		p.known.material.Poisson.Value = ratio
		other, err := quick.respond(ctx, p, side, s.cases, sketch, nil)
		if err != nil {
			return c, err
		}
		for i := range s.cases {
			k := 1.0
			if base[i].refused == "" && other[i].refused == "" {
				k = other[i].perModulus / base[i].perModulus
			}
			c.scale[n] = append(c.scale[n], k)
		}
	}
	return c, nil
}

// once keeps the first answer to a question, whoever asks first.
type once[T any] struct {
	lock sync.Mutex
	kept *T
}

func (o *once[T]) of(find func() (T, error)) (T, error) {
	o.lock.Lock()
	defer o.lock.Unlock()
	if o.kept != nil {
		return *o.kept, nil
	}
	found, err := find()
	if err == nil {
		o.kept = &found
	}
	return found, err
}

// inMaterial returns what changes inputs to one part made of another material.
func (s *situation) inMaterial(ctx context.Context, side int, m materials.Material) (func(inputs) inputs, error) {
	scale, err := s.poissonScale(ctx, side, m.Poisson.Value)
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
