package beam

import (
	"fmt"
)

// give is the displacement of the load's place along the load for a unit force,
// in mm/N.
func (p problem) give(f *frame, bar *torsionBar) (float64, error) {
	sol := f.solve(p.unit(f, p.plane), nil)
	give := sol.nodes[p.at][dof(p.plane)] + bar.give(f, sol)
	if !(give > 0) {
		return 0, fmt.Errorf("load at %s = %.6g mm: the beam does not move there; place the load away from the supports", p.setup.Span, p.where.model(p.where.At))
	}
	return give, nil
}
