package section

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// addRect adds sign times an upright rectangle.
func (m *moments) addRect(x0, y0, x1, y1 float64, about r2.Vec, sign float64) {
	x0, x1, y0, y1 = x0-about.X, x1-about.X, y0-about.Y, y1-about.Y
	b, h := x1-x0, y1-y0
	cx, cy := (x0+x1)/2, (y0+y1)/2
	a := sign * b * h
	m.area += a
	m.u += a * cx
	m.v += a * cy
	m.uu += a * (b*b/12 + cx*cx)
	m.vv += a * (h*h/12 + cy*cy)
	m.uv += a * cx * cy
}

// addDisc adds sign times a disc about the point that moments are taken about.
func (m *moments) addDisc(r, sign float64) {
	m.area += sign * math.Pi * r * r
	m.uu += sign * math.Pi * r * r * r * r / 4
	m.vv += sign * math.Pi * r * r * r * r / 4
}

// addFillet adds sign times the area between two sides at right angles and the
// quarter circle of radius r that touches both: a square less a quarter disc.
// The corner is at c; the fillet lies toward (du, dv), each 1 or -1.
func (m *moments) addFillet(c, about r2.Vec, du, dv, r, sign float64) {
	const quarter = math.Pi / 4
	c = r2.Sub(c, about)
	// moments about the corner, along the fillet's own directions
	a := r * r * (1 - quarter)
	p := r * r * r * (1./2 - quarter + 1./3)                  // integral of u, and of v
	pp := r * r * r * r * (1./3 - quarter + 2./3 - quarter/4) // of u^2, and of v^2
	pq := r * r * r * r * (1./4 - quarter + 2./3 - 1./8)      // of u v
	m.area += sign * a
	m.u += sign * (c.X*a + du*p)
	m.v += sign * (c.Y*a + dv*p)
	m.uu += sign * (c.X*c.X*a + 2*c.X*du*p + pp)
	m.vv += sign * (c.Y*c.Y*a + 2*c.Y*dv*p + pp)
	m.uv += sign * (c.X*c.Y*a + c.X*dv*p + c.Y*du*p + du*dv*pq)
}

// addRoundedBox adds sign times the shape's box drawn in by inset on every
// side, with corners of radius r.
func (s Shape) addRoundedBox(m *moments, inset, r, sign float64) {
	about := r2.Vec{X: s.width / 2, Y: s.height / 2}
	x0, y0, x1, y1 := inset, inset, s.width-inset, s.height-inset
	m.addRect(x0, y0, x1, y1, about, sign)
	if r == 0 {
		return
	}
	m.addFillet(r2.Vec{X: x0, Y: y0}, about, 1, 1, r, -sign)
	m.addFillet(r2.Vec{X: x1, Y: y0}, about, -1, 1, r, -sign)
	m.addFillet(r2.Vec{X: x1, Y: y1}, about, -1, -1, r, -sign)
	m.addFillet(r2.Vec{X: x0, Y: y1}, about, 1, -1, r, -sign)
}

// addOpen adds the flanges, the web between them and the root fillets.
func (s Shape) addOpen(m *moments, about r2.Vec) {
	w0, w1 := s.webSides()
	low, high := 0.0, s.height
	if s.flangeBelow() {
		m.addRect(0, 0, s.width, s.flange, about, 1)
		low = s.flange
	}
	if s.flangeAbove() {
		m.addRect(0, s.height-s.flange, s.width, s.height, about, 1)
		high = s.height - s.flange
	}
	m.addRect(w0, low, w1, high, about, 1)
	for _, root := range s.roots() {
		m.addFillet(root.corner, about, root.du, root.dv, s.radius, 1)
	}
}

// webSides returns the first coordinate of the web's two faces.
func (s Shape) webSides() (left, right float64) {
	if s.kind == Angle || s.kind == Channel {
		return 0, s.web
	}
	return (s.width - s.web) / 2, (s.width + s.web) / 2
}

func (s Shape) flangeBelow() bool { return s.kind != Tee }
func (s Shape) flangeAbove() bool { return s.kind != Angle }

// root is an inner corner between web and flange; its fillet lies toward
// (du, dv).
type root struct {
	corner r2.Vec
	du, dv float64
}

func (s Shape) roots() []root {
	left, right := s.webSides()
	var out []root
	add := func(y, dv float64) {
		out = append(out, root{r2.Vec{X: right, Y: y}, 1, dv})
		if left > 0 {
			out = append(out, root{r2.Vec{X: left, Y: y}, -1, dv})
		}
	}
	if s.flangeBelow() {
		add(s.flange, 1)
	}
	if s.flangeAbove() {
		add(s.height-s.flange, -1)
	}
	return out
}

// perimeter returns the length of all outlines in mm.
func (s Shape) perimeter() float64 {
	const saved = 2 - math.Pi/2 // of r, where a quarter circle cuts a corner
	box := 2 * (s.width + s.height)
	switch s.kind {
	case Round:
		return math.Pi * s.width
	case Tube:
		return math.Pi * (2*s.width - 2*s.web)
	case RectTube:
		inner := max(s.radius-s.web, 0)
		return 2*box - 8*s.web - 4*saved*(s.radius+inner)
	case Hexagon:
		return 6 * s.width / math.Sqrt(3)
	case Channel:
		return box + 2*(s.width-s.web) - 2*saved*s.radius
	case Tee:
		return box - 2*saved*s.radius
	case IBeam:
		return box + 2*(s.width-s.web) - 4*saved*s.radius
	case Angle:
		return box - saved*s.radius
	}
	return box
}

// rectangleJ is the torsion constant of a solid rectangle in mm4; Timoshenko and
// Goodier, Theory of Elasticity, torsion of a rectangular bar:
//
//	J = 1/3 a b^3 (1 - 192/pi^5 b/a sum over odd n of tanh(n pi a/2b)/n^5), a >= b.
func rectangleJ(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	var sum float64
	for n := 1.0; n < 200; n += 2 {
		sum += math.Tanh(n*math.Pi*a/(2*b)) / (n * n * n * n * n)
	}
	return a * b * b * b / 3 * (1 - 192/math.Pow(math.Pi, 5)*b/a*sum)
}

// cowperRectangle is the shear coefficient of a solid rectangle for Poisson's
// ratio v, 10(1+v)/(12+11v): Cowper, J. Appl. Mech. 33 (1966) 335.
func cowperRectangle(v float64) float64 { return 10 * (1 + v) / (12 + 11*v) }

// cowperTube is the shear coefficient of a round tube with m = inner over outer
// diameter, from the same paper; m = 0 is the solid round 6(1+v)/(7+6v).
func cowperTube(v, m float64) float64 {
	q := (1 + m*m) * (1 + m*m)
	return 6 * (1 + v) * q / ((7+6*v)*q + (20+12*v)*m*m)
}

// Torsion returns what Torsion does for the shape: in closed form where there is
// one, else solved on its outline. Bars and round tubes have exact torsion
// constants and Cowper's shear areas.
func (s Shape) Torsion(poisson float64) (TorsionResult, error) {
	if err := checkPoisson(poisson); err != nil {
		return TorsionResult{}, err
	}
	area := s.Properties().Area
	out := TorsionResult{Pieces: 1, Area: area, ShearCentre: r2.Vec{X: s.width / 2, Y: s.height / 2}}
	var coefficient float64
	switch s.kind {
	case Round, Tube:
		inner := 0.0
		if s.kind == Tube {
			inner = s.width - 2*s.web
		}
		out.J = math.Pi / 32 * (math.Pow(s.width, 4) - math.Pow(inner, 4))
		coefficient = cowperTube(poisson, inner/s.width)
	case Rect, Square:
		solved, err := Torsion(s.Region(), poisson)
		if err != nil {
			return out, err
		}
		out.Warping = solved.Warping
		out.J = rectangleJ(s.width, s.height)
		coefficient = cowperRectangle(poisson)
	default:
		return Torsion(s.Region(), poisson)
	}
	out.JLow, out.JHigh = out.J, out.J
	out.ShearArea = [2]float64{coefficient * area, coefficient * area}
	return out, nil
}
