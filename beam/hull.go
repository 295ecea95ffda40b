package beam

import (
	"sort"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/section"
	"swapworth/mesh/cut"
)

// hullOf returns the properties of the convex hull of a section, what it would
// be with everything that is cut out of it filled.
func hullOf(r cut.Region) (section.Properties, error) {
	var points []r2.Vec
	for _, p := range r {
		points = append(points, p.Outer...)
	}
	return section.Of(cut.Region{{Outer: convexHull(points)}})
}

// convexHull returns the hull of points counter-clockwise; A. M. Andrew, Inf.
// Process. Lett. 9 (1979) 216.
func convexHull(points []r2.Vec) []r2.Vec {
	p := append([]r2.Vec{}, points...)
	sort.Slice(p, func(i, j int) bool {
		if p[i].X != p[j].X {
			return p[i].X < p[j].X
		}
		return p[i].Y < p[j].Y
	})
	half := func(next func(i int) r2.Vec) []r2.Vec {
		var h []r2.Vec
		for i := range p {
			q := next(i)
			for len(h) > 1 && r2.Cross(r2.Sub(h[len(h)-1], h[len(h)-2]), r2.Sub(q, h[len(h)-1])) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, q)
		}
		return h[:len(h)-1]
	}
	lower := half(func(i int) r2.Vec { return p[i] })
	return append(lower, half(func(i int) r2.Vec { return p[len(p)-1-i] })...)
}
