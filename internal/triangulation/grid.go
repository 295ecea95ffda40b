package triangulation

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// gridBits sets the steps of the grid over the region of a Domain: every point lies
// on one of 2^29 steps over the region's longest side, so that no outline, however
// degenerate, can lead a refinement astray, and differences are exact.
const gridBits = 29

// grid maps coordinates in mm to points counted in steps, and back.
type grid struct {
	origin r2.Vec
	step   float64 // mm
}

func gridOver(box r2.Box) grid {
	size := max(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
	return grid{box.Min, size / (1 << gridBits)}
}

func (g grid) snap(p r2.Vec) r2.Vec {
	return r2.Vec{X: round((p.X - g.origin.X) / g.step), Y: round((p.Y - g.origin.Y) / g.step)}
}

func (g grid) place(p r2.Vec) r2.Vec {
	return r2.Vec{X: g.origin.X + g.step*p.X, Y: g.origin.Y + g.step*p.Y}
}

func round(v float64) float64 { return math.Round(v) }
