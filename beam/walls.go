package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh"
)

// boxlike is the least area of an opening over that of the rectangle around it
// for the tube around it to have flat walls.
const boxlike = 0.9

// endWalls is what flat walls across the load at the open end of a tube give way
// by on their own, in mm/N. An even load on the end face puts the share s = b t/A
// of the force on a wall, and nothing but its sides holds that.
//
// A strip of the plate stiffness D, simply supported at its sides 0 and b, bends
// under the load p sin(pi y/b) on its free end by p b^3/(pi^3 D) 2/((1-v)(3+v))
// (Levy's solution, with the boundary conditions of Kirchhoff); the first term of
// an even load does the work p^2 b times half of (4/pi)^2 of that. The walls along
// the load hold the sides from turning: of the mean deflection under even load,
// 1/120 with free and 1/720 with clamped sides, they leave 1/120 - r/144 with r =
// kw/(kw + 2D/b) and kw = 6Dw/h, as both walls across turn the same way.
func (a *analysis) endWalls() float64 {
	w := a.where
	if a.handbook || a.setup.rounded || a.setup.Support != Cantilever || abs(w.At-w.Length) > 1e-6*w.Length {
		return 0
	}
	c := a.profile.nearest(w.At)
	v := a.elastic.Poisson
	plate := func(t float64) float64 { return a.elastic.YoungsModulus * t * t * t / (12 * (1 - v*v)) }
	var give float64
	for _, p := range c.Region {
		outer := a.extent(mesh.Region{p}.Bounds())
		for _, loop := range p.Holes {
			hole := mesh.Polygon{Outer: loop}
			in := a.extent(mesh.Region{hole}.Bounds())
			width, height := in[0].high-in[0].low, in[1].high-in[1].low
			if abs(mesh.LoopArea(loop)) < boxlike*width*height {
				continue
			}
			side := (plate(in[0].low-outer[0].low) + plate(outer[0].high-in[0].high)) / 2
			for _, t := range []float64{in[1].low - outer[1].low, outer[1].high - in[1].high} {
				b, h, share := width+t, height+t, width*t/c.Section.Area
				held := side / h * 6
				r := held / (held + 2*plate(t)/b)
				give += share * share * 16 / (math.Pow(math.Pi, 5) * (1 - v) * (3 + v)) * b * b / plate(t) * (1 - r*120/144)
			}
		}
	}
	return give
}

// interval is in mm.
type interval struct{ low, high float64 }

// extent returns a rectangle's sides across and along the load.
func (a *analysis) extent(b r2.Box) [2]interval {
	x, y := interval{b.Min.X, b.Max.X}, interval{b.Min.Y, b.Max.Y}
	if a.plane == 0 {
		return [2]interval{y, x}
	}
	return [2]interval{x, y}
}
