package swap

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/solid"
)

// problem holds one part, 0 for the stock part and 1 for the redesign, at its
// named places; force is that of an axis in N.
func (p *placed) problem(c loadCase, side int, force float64) (solid.Problem, error) {
	out := solid.Problem{Span: c.span}
	for _, place := range p.held[side] {
		out.Supports = append(out.Supports, solid.Clamped(place))
	}
	one := solid.Case{Name: c.name}
	total := r3.Scale(force, c.along.Unit())
	for _, place := range p.loaded[side] {
		one.Loads = append(one.Loads, solid.Load{Place: place, Force: r3.Scale(1/float64(len(p.loaded[side])), total)})
	}
	out.Cases = []solid.Case{one}
	return out, nil
}
