package solid

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
	"swapworth/materials"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// A peak without a limit (a sharp inner corner, the rim of a hold) is judged as the
// structural stress of welded details is: by the stress on the surface at 0.4 and
// 1.0 wall thicknesses from the corner, carried on in a straight line to it (IIW,
// Hobbacher, Recommendations for Fatigue Design of Welded Joints and Components,
// section 2.2.3, type a, fine mesh, the figures from memory; the method in Doerk,
// Fricke and Weissenborn, Int. J. Fatigue 25, 2003, p. 359). What the corner adds
// beyond that depends on a radius that nobody drew.
const (
	hotSpotNear, hotSpotFar = 0.4, 1.0 // wall thicknesses
	// hotSpotShare is the weight of the nearer stress: (1 - 0)/(1 - 0.4).
	hotSpotShare = hotSpotFar / (hotSpotFar - hotSpotNear)
)

// judgeApart judges a peak without a limit at point at: by the structural stress
// there, in the submodel m where it reaches far enough, else in the solution of the
// whole part.
func (c *check) judgeApart(p *Peak, m *submodel, whole func() solved, at [3]float64, by float64) {
	source := c.cornerAt(at, 2*m.cells)
	if p.NoLimit = source.name; p.NoLimit == "" {
		return // nothing there explains it: it has not settled, and that is all
	}
	t := c.wallAt(at, m.cells)
	inside := solved{m.sys, m.s, m.st, m.cells}
	near, nominal, ok := c.structural(t, func(d float64) (mpa float64, ok bool) {
		if d < trusted*subReach*m.edge {
			return c.stressAt(inside, at, source.ends, d)
		}
		outside := whole()
		outside.edge = m.edge
		return c.stressAt(outside, at, source.ends, d)
	})
	if !ok {
		return
	}
	near, nominal = by*near, by*nominal
	d := hotSpotNear * t
	p.Distance = &d
	p.Settled = true
	p.Stress = materials.Range{Low: near, Nominal: nominal, High: (1 + settledWithin) * nominal}
	p.Judged = fmt.Sprintf("the stress %.2g and %.2g mm from it, carried on to it", hotSpotNear*t, hotSpotFar*t)
}

// structural is the structural stress at a wall of thickness t, from the stress at
// distances, and that at the nearer of the two.
func (c *check) structural(t float64, stress func(d float64) (mpa float64, ok bool)) (near, nominal float64, ok bool) {
	near, ok = stress(hotSpotNear * t)
	far, ok2 := stress(hotSpotFar * t)
	if !ok2 { // the surface ends before: a short wall
		far = near
	}
	return near, max(near, hotSpotShare*near-(hotSpotShare-1)*far), ok
}

// clearOf tells of points whether they lie a distance away from all that lets a stress
// grow forever, and not in held material.
func (c *check) clearOf(d float64) func(p [3]float64) bool {
	lines := slices.Clone(c.pose.innerCorners())
	var boxes [][2][3]float64
	for i, r := range c.hold {
		switch {
		case c.points[i] != nil:
			lines = append(lines, [2][3]float64{*c.points[i], *c.points[i]})
		case r.Box == nil:
			lines = append(lines, rimOf(r)...)
		default:
			boxes = append(boxes, *r.Box)
		}
	}
	return func(p [3]float64) bool {
		return !slices.ContainsFunc(boxes, func(b [2][3]float64) bool { return within(p, b) || boxDistance(p, b) < d }) &&
			!slices.ContainsFunc(lines, func(e [2][3]float64) bool { return segmentDistance(p, e) < d })
	}
}

// noLimitSource is what lets a stress grow forever: its name and its lines.
type noLimitSource struct {
	name string
	ends [][2][3]float64
}

// cornerAt names what lies at a peak without a limit: a sharp inner corner or the rim
// of a hold, nothing where neither is near.
func (c *check) cornerAt(at [3]float64, reach float64) noLimitSource {
	var out noLimitSource
	nearest := reach
	take := func(name string, lines [][2][3]float64) {
		least := math.Inf(1)
		for _, e := range lines {
			least = min(least, segmentDistance(at, e))
		}
		if least < nearest {
			nearest, out = least, noLimitSource{name, lines}
		}
	}
	take("a sharp inner corner, without the radius that will be there", c.pose.innerCorners())
	for i, r := range c.hold {
		switch {
		case c.points[i] != nil:
			take("the point that is held", [][2][3]float64{{*c.points[i], *c.points[i]}})
		case r.Box == nil:
			take("the rim of the hold at "+r.Name, rimOf(r))
		case boxDistance(at, *r.Box) < reach: // measured from the peak itself
			take("the rim of the hold at "+r.Name, [][2][3]float64{{at, at}})
		}
	}
	return out
}

// boxDistance is the distance of a point from the surface of a box, from inside or
// outside.
func boxDistance(p [3]float64, box [2][3]float64) float64 {
	var out [3]float64
	inside := math.Inf(1)
	for a := range 3 {
		out[a] = max(box[0][a]-p[a], p[a]-box[1][a], 0)
		inside = min(inside, p[a]-box[0][a], box[1][a]-p[a])
	}
	if inside >= 0 {
		return inside
	}
	return vector.Norm(out)
}

// rimOf returns the edges of a region that one of its faces alone has.
func rimOf(r *region.Region) (rim [][2][3]float64) {
	const step = 1e-4 // mm, the rounding of corners that faces share
	key := func(p [3]float64) (k [3]int64) {
		for a := range 3 {
			k[a] = int64(math.Round(p[a] / step))
		}
		return
	}
	count := map[[2][3]int64]int{}
	for pass := range 2 {
		for _, f := range r.Faces {
			for e := range 3 {
				a, b := key(f[e]), key(f[(e+1)%3])
				k := [2][3]int64{a, b}
				if b[0] < a[0] || b[0] == a[0] && (b[1] < a[1] || b[1] == a[1] && b[2] < a[2]) {
					k = [2][3]int64{b, a}
				}
				if pass == 0 {
					count[k]++
				} else if count[k] == 1 {
					rim = append(rim, [2][3]float64{f[e], f[(e+1)%3]})
				}
			}
		}
	}
	return rim
}

// solved is a system with the stresses in it, over a surface, and the longest edge of
// its cells.
type solved struct {
	sys  *system
	s    *grid.Surface
	st   *samples
	edge float64
}

// wholePart is that of the part on its finest grid. The edge is that of the cells at a
// place.
func (c *check) wholePart(u []float64) solved {
	return solved{sys: c.finest.system, s: c.s, st: c.finest.stresses([][]float64{u})[0]}
}

// stressAt returns the largest equivalent stress on the surface at a distance d from
// lines, within some 1.5 d of a point, as the cells resolve it.
func (c *check) stressAt(m solved, at [3]float64, lines [][2][3]float64, d float64) (float64, bool) {
	box := [2][3]float64{}
	for a := range 3 {
		box[0][a], box[1][a] = max(at[a]-1.5*d, m.s.Low[a]), min(at[a]+1.5*d, m.s.High[a])
	}
	var near [][2][3]float64
	for _, e := range lines {
		if segmentDistance(at, e) < 3*d {
			near = append(near, e)
		}
	}
	var points []surfacePoint
	for _, p := range pointsOn(m.sys.c, m.s, region.Within(c.s, box)) {
		least := math.Inf(1)
		for _, e := range near {
			least = min(least, segmentDistance(p.at, e))
		}
		if math.Abs(least-d) <= m.edge/2 {
			points = append(points, p)
		}
	}
	if len(points) == 0 {
		return 0, false
	}
	p, _ := m.sys.peakStress(m.st, points)
	return p.mpa, true
}

// wallAside is how far into a face its wall is measured, as a share of the way to
// the middle of the triangle.
const wallAside = 0.05

// wallAt returns the thickness of the wall at a point, mm: how far the
// material reaches inwards from the faces within reach, the least of them. A peak at
// the end of an inner edge wanders by a cell to either side of the face there.
func (c *check) wallAt(at [3]float64, reach float64) float64 {
	size := [3]float64{c.s.High[0] - c.s.Low[0], c.s.High[1] - c.s.Low[1], c.s.High[2] - c.s.Low[2]}
	wall := max(size[0], size[1], size[2])
	step := 1e-3 * wall
	for _, f := range c.s.Faces {
		t := [3][3]float64{c.s.Points[f[0]], c.s.Points[f[1]], c.s.Points[f[2]]}
		on := closest(vector.Of(at), vector.Of(t[0]), vector.Of(t[1]), vector.Of(t[2]))
		if r3.Norm(r3.Sub(on, vector.Of(at))) > max(reach, step) {
			continue
		}
		n, foot := grid.NormalOf(t), [3]float64{on.X, on.Y, on.Z}
		var from [3]float64
		for a := range 3 { // a little into the face, off the corner, and inwards
			mid := (t[0][a] + t[1][a] + t[2][a]) / 3
			from[a] = foot[a] + wallAside*(mid-foot[a]) - step*n[a]
		}
		if d := c.firstHit(from, [3]float64{-n[0], -n[1], -n[2]}); d > step {
			wall = min(wall, d+step)
		}
	}
	return wall
}

// firstHit returns how far from a point a ray leaves the material, mm.
func (c *check) firstHit(from, ray [3]float64) float64 {
	first := math.Inf(1)
	for _, f := range c.s.Faces {
		a := c.s.Points[f[0]]
		var e1, e2, d [3]float64
		for k := range 3 {
			e1[k], e2[k], d[k] = c.s.Points[f[1]][k]-a[k], c.s.Points[f[2]][k]-a[k], from[k]-a[k]
		}
		// Moeller and Trumbore, Fast, Minimum Storage Ray/Triangle Intersection, 1997
		h := vector.Cross(ray, e2)
		det := dot3(e1, h)
		if math.Abs(det) < 1e-12 {
			continue
		}
		u := dot3(d, h) / det
		q := vector.Cross(d, e1)
		v := dot3(ray, q) / det
		if t := dot3(e2, q) / det; u >= 0 && v >= 0 && u+v <= 1 && t > 0 {
			first = min(first, t)
		}
	}
	return first
}

func dot3(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// segmentDistance is the distance of a point from a segment.
func segmentDistance(p [3]float64, e [2][3]float64) float64 {
	var d, v [3]float64
	dd, dv := 0.0, 0.0
	for a := range 3 {
		d[a], v[a] = e[1][a]-e[0][a], p[a]-e[0][a]
		dd += d[a] * d[a]
		dv += d[a] * v[a]
	}
	t := 0.0
	if dd > 0 {
		t = min(max(dv/dd, 0), 1)
	}
	for a := range 3 {
		v[a] -= t * d[a]
	}
	return vector.Norm(v)
}
