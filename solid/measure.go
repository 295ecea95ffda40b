package solid

import "swapworth/solid/internal/multigrid"

// measure finds how far the loaded places move along the forces and turn about
// the moments for displacements u times scale: what does work on them, over their
// size.
func (r *CaseResult) measure(load applied, u []float64, scale float64) {
	if load.forceSize > 0 {
		r.forward = scale * multigrid.Dot(load.force, u) / load.forceSize
	}
	if load.momentSize > 0 {
		r.turn = scale * multigrid.Dot(load.moment, u) / load.momentSize
	}
}

// kind is the first in which the case has a stiffness on this grid.
func (r *CaseResult) kind() Kind {
	switch {
	case r.Load > 0 && r.forward > 0:
		return ByForce
	case r.Load == 0 && r.Moment > 0 && r.turn > 0:
		return ByMoment
	}
	return ByDeflection
}

// setKind fills in what a kind of stiffness has.
func (r *CaseResult) setKind(k Kind) {
	r.Kind = k
	r.Stiffness, r.Angular, r.Rotation, r.Deflection = 0, 0, 0, r.Largest
	switch k {
	case ByForce:
		r.Deflection, r.Stiffness = r.forward, r.Load/r.forward
	case ByMoment:
		r.Rotation, r.Angular = r.turn, r.Moment/r.turn
	}
}

// Measure is the stiffness in the sense of the case's kind: N/mm, N mm/rad, or
// one over the largest deflection, 1/mm. The ratio of two parts is that of their
// measures.
func (c CaseResult) Measure() float64 {
	switch c.Kind {
	case ByForce:
		return c.Stiffness
	case ByMoment:
		return c.Angular
	}
	return 1 / c.Deflection
}
