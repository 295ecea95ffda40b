package swap

import (
	"context"
	"math"
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
// solved on one coarse grid, whose error they share, and among the cases that deviations
// are solved for, so that the part at its own ratio is solved once for both.
func poissonScale(ctx context.Context, m mechanics, p placedPart, side int, cases, sized []loadCase, ratio float64) ([]float64, error) {
	own := p.known.material.Poisson.Value
	if m.method == ByBeam || math.Abs(ratio-own) <= samePoisson {
		out := make([]float64, len(cases))
		for i := range out {
			out[i] = 1
		}
		return out, nil
	}
	curve, err := poissonCurveOf(ctx, m, p, side, cases, sized)
	if err != nil {
		return nil, err
	}
	return curve.at(ratio), nil
}

func poissonCurveOf(ctx context.Context, m mechanics, p placedPart, side int, cases, sized []loadCase) (poissonCurve, error) {
	c := poissonCurve{own: p.known.material.Poisson.Value, nodes: nodes}
	for n, ratio := range nodes {
		if math.Abs(ratio-c.own) < apart {
			c.nodes[n] = c.own - apart
		}
	}
	base, err := m.respond(ctx, p, side, sized, sketch, nil)
	if err != nil {
		return c, err
	}
	for n, ratio := range c.nodes {
		other, err := m.respond(ctx, p.withPoisson(ratio), side, cases, sketch, nil)
		if err != nil {
			return c, err
		}
		for i := range cases {
			k := 1.0
			if base[i].refused == "" && other[i].refused == "" {
				k = other[i].perModulus / base[i].perModulus
			}
			c.scale[n] = append(c.scale[n], k)
		}
	}
	return c, nil
}

// withPoisson returns the part in its material with another Poisson's ratio.
func (p placedPart) withPoisson(ratio float64) placedPart {
	known := p.known
	known.material.Poisson.Value = ratio
	return placedPart{part{p.shape, p.tolerance, known}, p.motion, p.mesh, p.features, p.solver, p.onMachine}
}
