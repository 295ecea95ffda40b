package solid

import (
	"fmt"
	"math"
)

// findPeaks fills in the largest stresses of the cases on grid n, from their
// displacements.
func (c *check) findPeaks(sys *keptSystem, n int, answers []answer, cases []CaseResult) {
	key := fmt.Sprintf("%d", n)
	for _, r := range c.regions() {
		key += " " + r.Name
	}
	shape := c.opt.Shape && n == c.grids-1
	var todo [][]float64
	for i, a := range answers {
		if _, ok := a.peaks[key]; !ok || (i == 0 && shape) {
			todo = append(todo, a.u)
		}
	}
	if len(todo) > 0 {
		corners := c.pose.innerCorners()
		// the same distance on every grid: one cell of the coarsest
		near := markNear(sys.c, c.s, corners, c.regions(), 1<<n)
		beside := markNear(sys.c, c.s, corners, c.regions(), 1)
		points := surfacePoints(sys.c, c.s)
		for i, p := range points {
			points[i].near = near[sys.c.CellIndex(p.cell[0], p.cell[1], p.cell[2])]
		}
		stresses := sys.stresses(todo)
		for i, a := range answers {
			if len(stresses) == 0 || &a.u[0] != &todo[0][0] {
				continue
			}
			p, value := sys.peakStress(stresses[0], points)
			p.hot = hottest(sys.c, points, value, places{near: triedNear, clear: triedClear, apart: hotApart})
			a.peaks[key] = peaks{p, beside[sys.c.CellIndex(p.cell[0], p.cell[1], p.cell[2])]}
			if i == 0 && shape {
				c.keepShape(sys.system, a, stresses[0])
			}
			stresses, todo = stresses[1:], todo[1:]
		}
	}
	for i, a := range answers {
		r, p, by := &cases[i], a.peaks[key], math.Abs(a.by)
		r.MaxStress, r.AwayStress, r.atCorner = by*p.mpa, by*p.away, p.atCorner
		r.hot = p.hot
		at := c.f.point(p.at)
		r.StressAt = [3]float64{at.X, at.Y, at.Z}
	}
}
