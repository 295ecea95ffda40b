package feature

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
)

// cylinder is the set of points at distance radius from the line through
// centre along the unit vector axis.
type cylinder struct {
	centre, axis r3.Vec
	radius       float64
}

const (
	// inLine is the determinant of second moments, over the square of their sum, up to
	// which points lie on one line: a circle through them would be a million times as
	// large as they are apart.
	inLine = 1e-14
	// fewestPoints tell the five unknowns of a cylinder and leave one to judge by.
	fewestPoints = 6
	// mostSteps of Gauss-Newton are taken; from a circle's fit three or four settle.
	mostSteps = 20
	// settled is the share of the sum of squares that a last step may still gain.
	settled = 1e-6
	// held is added to the matrix where a short arc in one row leaves the tilt loose.
	held = 1e-12
)

// at splits a point into its position along the axis and its radial vector.
func (c cylinder) at(p r3.Vec) (along float64, radial r3.Vec) {
	d := r3.Sub(p, c.centre)
	along = r3.Dot(d, c.axis)
	return along, r3.Sub(d, r3.Scale(along, c.axis))
}

// turns returns a function that tells how far round the axis a point is, as a
// share of a full turn from 0 to 1.
func (c cylinder) turns() func(p r3.Vec) float64 {
	u, v := across(c.axis)
	return func(p r3.Vec) float64 {
		d := r3.Sub(p, c.centre)
		return math.Atan2(r3.Dot(d, v), r3.Dot(d, u))/(2*math.Pi) + 0.5
	}
}

// off returns the signed distance of a point from the cylinder, mm.
func (c cylinder) off(p r3.Vec) float64 {
	_, radial := c.at(p)
	return vector.Length(radial) - c.radius
}

// across returns two unit vectors u, v with u x v = axis.
func across(axis r3.Vec) (u, v r3.Vec) {
	least := r3.Vec{X: 1}
	if math.Abs(axis.X) > 0.7 {
		least = r3.Vec{Y: 1}
	}
	u = r3.Unit(r3.Cross(axis, least))
	return u, r3.Cross(axis, u)
}

// circleThrough fits a circle to points seen along the axis (Kasa's linear
// fit: minimise the sum of (x^2+y^2-2ax-2by-c)^2). It starts the true fit.
func circleThrough(points []r3.Vec, axis r3.Vec) (cylinder, bool) {
	u, v := across(axis)
	var mean r3.Vec
	for _, p := range points {
		mean = r3.Add(mean, p)
	}
	mean = r3.Scale(1/float64(len(points)), mean)
	var xx, xy, yy, xz, yz, zz float64
	for _, p := range points {
		d := r3.Sub(p, mean)
		x, y := r3.Dot(d, u), r3.Dot(d, v)
		q := x*x + y*y
		xx, xy, yy = xx+x*x, xy+x*y, yy+y*y
		xz, yz, zz = xz+x*q, yz+y*q, zz+q
	}
	det := xx*yy - xy*xy
	if det <= inLine*(xx+yy)*(xx+yy) {
		return cylinder{}, false
	}
	a := (xz*yy - yz*xy) / det / 2
	b := (yz*xx - xz*xy) / det / 2
	r := math.Sqrt(a*a + b*b + zz/float64(len(points)))
	centre := r3.Add(mean, r3.Add(r3.Scale(a, u), r3.Scale(b, v)))
	return cylinder{centre: centre, axis: axis, radius: r}, true
}

// refine moves a cylinder to the least sum of squared distances of the points,
// by Gauss-Newton on two tilts, two shifts and the radius.
func (c cylinder) refine(points []r3.Vec) cylinder {
	n := len(points)
	if n < fewestPoints {
		return c
	}
	best, least := c, c.squares(points)
	for range mostSteps {
		u, v := across(c.axis)
		var normal [25]float64
		var right [5]float64
		for _, p := range points {
			along, radial := c.at(p)
			r := vector.Length(radial)
			if r == 0 {
				continue
			}
			eu, ev := r3.Dot(radial, u)/r, r3.Dot(radial, v)/r
			// d(off) for a tilt towards u, v; a shift along u, v; the radius
			row := [5]float64{-along * eu, -along * ev, -eu, -ev, -1}
			off := r - c.radius
			for i := range row {
				right[i] -= row[i] * off
				for j := range row {
					normal[5*i+j] += row[i] * row[j]
				}
			}
		}
		for i := range 5 {
			normal[6*i] *= 1 + held
		}
		var step mat.VecDense
		if err := step.SolveVec(mat.NewDense(5, 5, normal[:]), mat.NewVecDense(5, right[:])); err != nil {
			if _, poor := err.(mat.Condition); !poor {
				break
			}
		}
		tilt := r3.Add(r3.Scale(step.AtVec(0), u), r3.Scale(step.AtVec(1), v))
		c.axis = r3.Unit(r3.Add(c.axis, tilt))
		c.centre = r3.Add(c.centre, r3.Add(r3.Scale(step.AtVec(2), u), r3.Scale(step.AtVec(3), v)))
		c.radius += step.AtVec(4)
		sum := c.squares(points)
		if !(sum < least) {
			break
		}
		done := sum > least*(1-settled)
		best, least = c, sum
		if done {
			break
		}
	}
	return best
}

func (c cylinder) squares(points []r3.Vec) float64 {
	sum := 0.0
	for _, p := range points {
		d := c.off(p)
		sum += d * d
	}
	return sum
}

// worst returns the largest distance of a point from the cylinder, mm.
func (c cylinder) worst(points []r3.Vec) float64 {
	w := 0.0
	for _, p := range points {
		w = max(w, math.Abs(c.off(p)))
	}
	return w
}
