package section

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh/cut"
)

// Properties hold the properties of a plane section that need no stress analysis.
// With (u, v) the coordinates along the first and the second axis and (a, b)
// the same measured from the centroid:
//
//	Ixx = integral b^2 dA    Iyy = integral a^2 dA    Ixy = integral a b dA
//	I1,2 = (Ixx+Iyy)/2 +- sqrt((Ixx-Iyy)^2/4 + Ixy^2)
//	tan(2 Angle) = -2 Ixy/(Ixx-Iyy)
//
// Every field of the zero value is zero.
type Properties struct {
	Area      float64    // mm2
	Perimeter float64    // mm, holes included
	Centroid  r2.Vec     // mm
	Low, High r2.Vec     // mm, corners of the upright rectangle that holds the section
	Ixx       float64    // mm4, about the first axis through the centroid
	Iyy       float64    // mm4, about the second axis through the centroid
	Ixy       float64    // mm4, product of area
	I1, I2    float64    // mm4, principal moments, I1 >= I2
	AngleDeg  float64    // deg in (-90, 90], turns the first axis to the axis of I1
	Wxx       [2]float64 // mm3, Ixx over the distance of the farthest fibre on the positive, then on the negative side of the second axis
	Wyy       [2]float64 // mm3, Iyy over the distance of the farthest fibre on the positive, then on the negative side of the first axis
	RadiusX   float64    // mm, radius of gyration sqrt(Ixx/A)
	RadiusY   float64    // mm, radius of gyration sqrt(Iyy/A)
	Outlines  int        // separate pieces
	Holes     int
}

// errEmpty says that a plane does not pass through any material.
var errEmpty = errors.New("the section has no area: place the cut inside the part")

// Of integrates over the polygons of a region. The integrals are exact
// for straight sides (Green's theorem; see docs/section.md); a region without
// area is an error that wraps errEmpty.
func Of(r cut.Region) (Properties, error) {
	var s Properties
	if len(r) == 0 {
		return s, errEmpty
	}
	box := r.Bounds()
	middle := r2.Scale(0.5, r2.Add(box.Min, box.Max))
	var m moments
	for _, p := range r {
		s.Outlines++
		s.Holes += len(p.Holes)
		for _, loop := range p.Loops() {
			m.addLoop(loop, middle)
		}
	}
	if !(m.area > 0) || math.IsInf(m.area, 0) {
		return Properties{}, errEmpty
	}
	s.Low, s.High = box.Min, box.Max
	s.fill(m, middle)
	return s, nil
}

// moments are the integrals of 1, u, v, v^2, u^2 and u v over an area, about a
// chosen point.
type moments struct {
	area, u, v, vv, uu, uv float64
	perimeter              float64
}

// addLoop adds the area on the left of a closed loop. Green's theorem turns the
// area integral of each monomial into a sum over sides, for instance
//
//	integral u^2 dA = 1/12 sum (u_i v_i+1 - u_i+1 v_i)(u_i^2 + u_i u_i+1 + u_i+1^2).
func (m *moments) addLoop(loop []r2.Vec, about r2.Vec) {
	n := len(loop)
	for i := range loop {
		p, q := r2.Sub(loop[i], about), r2.Sub(loop[(i+1)%n], about)
		m.addSide(p, q)
		m.perimeter += r2.Norm(r2.Sub(q, p))
	}
}

// addSide adds the triangle between the point that moments are taken about and
// the side from p to q.
func (m *moments) addSide(p, q r2.Vec) {
	c := p.X*q.Y - q.X*p.Y
	m.area += c / 2
	m.u += c * (p.X + q.X) / 6
	m.v += c * (p.Y + q.Y) / 6
	m.uu += c * (p.X*p.X + p.X*q.X + q.X*q.X) / 12
	m.vv += c * (p.Y*p.Y + p.Y*q.Y + q.Y*q.Y) / 12
	m.uv += c * (p.X*q.Y + 2*p.X*p.Y + 2*q.X*q.Y + q.X*p.Y) / 24
}

// fill derives everything else from the moments about a point and from the box,
// which must be set.
func (s *Properties) fill(m moments, about r2.Vec) {
	cu, cv := m.u/m.area, m.v/m.area
	s.Area, s.Perimeter = m.area, m.perimeter
	s.Centroid = r2.Add(about, r2.Vec{X: cu, Y: cv})
	s.Ixx = m.vv - m.area*cv*cv
	s.Iyy = m.uu - m.area*cu*cu
	s.Ixy = m.uv - m.area*cu*cv
	if math.Abs(s.Ixy) < 1e-14*(s.Ixx+s.Iyy) { // rounding only
		s.Ixy = 0
	}
	s.I1, s.I2, s.AngleDeg = principal(s.Ixx, s.Iyy, s.Ixy)
	s.Wxx = [2]float64{s.Ixx / (s.High.Y - s.Centroid.Y), s.Ixx / (s.Centroid.Y - s.Low.Y)}
	s.Wyy = [2]float64{s.Iyy / (s.High.X - s.Centroid.X), s.Iyy / (s.Centroid.X - s.Low.X)}
	s.RadiusX = math.Sqrt(max(s.Ixx, 0) / s.Area)
	s.RadiusY = math.Sqrt(max(s.Iyy, 0) / s.Area)
}

// principal returns the principal moments and the angle in (-90, 90] degrees
// from the first axis to the axis of the larger one. Moments equal within the
// seven digits of a coordinate in a file have no principal direction; the angle
// is then 0.
func principal(ixx, iyy, ixy float64) (i1, i2, angleDeg float64) {
	mean, half := (ixx+iyy)/2, math.Hypot((ixx-iyy)/2, ixy)
	i1, i2 = mean+half, mean-half
	if half <= 1e-6*mean {
		return i1, i2, 0
	}
	angleDeg = math.Atan2(-2*ixy, ixx-iyy) / 2 * 180 / math.Pi
	if angleDeg <= -90+1e-4 { // the axis of 90, off by the digits of a file
		angleDeg = 90
	}
	if angleDeg == 0 {
		angleDeg = 0 // no negative zero in print
	}
	return i1, i2, angleDeg
}
