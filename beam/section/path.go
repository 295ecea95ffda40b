package section

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// path is a closed outline of straight sides and arcs of circles, with the area
// on its left.
type path []node

// node is a corner and how the outline goes on from it to the next.
type node struct {
	at     r2.Vec  // mm
	centre r2.Vec  // mm, of the arc
	turn   float64 // rad, counter-clockwise; 0 for a straight side
}

// arcChords is the number of chords that stand for a quarter circle in the
// region of a shape; the disc they enclose is 0.02 % too small.
const arcChords = 48

// polygon is a path through points given as x, y in turn.
func polygon(xy ...float64) path {
	var p path
	for i := 0; i < len(xy); i += 2 {
		p = append(p, node{at: r2.Vec{X: xy[i], Y: xy[i+1]}})
	}
	return p
}

// circle is a full circle about (x, y), clockwise for turn -1.
func circle(x, y, r, turn float64) path {
	return path{{at: r2.Vec{X: x + r, Y: y}, centre: r2.Vec{X: x, Y: y}, turn: turn * 2 * math.Pi}}
}

// quarter appends a quarter circle about (x, y) from the angle start, in quarter
// turns, counter-clockwise for turn 1 and clockwise for turn -1. A radius of 0
// appends the centre.
func (p path) quarter(x, y, r, start, turn float64) path {
	c := r2.Vec{X: x, Y: y}
	if r == 0 {
		return append(p, node{at: c})
	}
	on := func(angle float64) r2.Vec {
		sin, cos := math.Sincos(math.Pi / 2 * angle)
		return r2.Add(c, r2.Vec{X: r * cos, Y: r * sin})
	}
	return append(p, node{at: on(start), centre: c, turn: turn * math.Pi / 2}, node{at: on(start + turn)})
}

// roundedBox is an upright rectangle with corners of radius r.
func roundedBox(x0, y0, x1, y1, r float64) path {
	return path{}.quarter(x1-r, y0+r, r, 3, 1).quarter(x1-r, y1-r, r, 0, 1).
		quarter(x0+r, y1-r, r, 1, 1).quarter(x0+r, y0+r, r, 2, 1)
}

// reversed runs the path the other way: a hole from an outline.
func (p path) reversed() path {
	n := len(p)
	out := make(path, n)
	for i := range p {
		// the side from i to i+1 becomes that from n-1-i-1 to n-1-i
		from, side := p[(i+1)%n], p[i]
		out[n-1-i] = node{at: from.at, centre: side.centre, turn: -side.turn}
	}
	return out
}

// loop is the path with chords for arcs.
func (p path) loop() []r2.Vec {
	var out []r2.Vec
	add := func(v r2.Vec) {
		if n := len(out); n == 0 || out[n-1] != v {
			out = append(out, v)
		}
	}
	for _, n := range p {
		add(n.at)
		chords := int(math.Ceil(math.Abs(n.turn) / (math.Pi / 2) * arcChords))
		arm := r2.Sub(n.at, n.centre)
		for k := 1; k < chords; k++ {
			add(r2.Add(n.centre, r2.Rotate(arm, n.turn*float64(k)/float64(chords), r2.Vec{})))
		}
	}
	if n := len(out); n > 1 && out[0] == out[n-1] {
		out = out[:n-1]
	}
	return out
}

// addPath adds the area on the left of the path. Seen from the point that
// moments are taken about, an arc from p to q about c sweeps over the triangles
// to p and c and to c and q and over its sector.
func (m *moments) addPath(p path, about r2.Vec) {
	for i, n := range p {
		from, to := r2.Sub(n.at, about), r2.Sub(p[(i+1)%len(p)].at, about)
		if n.turn == 0 {
			m.addSide(from, to)
			m.perimeter += r2.Norm(r2.Sub(to, from))
			continue
		}
		c := r2.Sub(n.centre, about)
		arm := r2.Sub(from, c)
		m.addSide(from, c)
		m.addSector(c, r2.Norm(arm), math.Atan2(arm.Y, arm.X), n.turn)
		m.addSide(c, to)
		m.perimeter += r2.Norm(arm) * math.Abs(n.turn)
	}
}

// addSector adds the sector of a disc of radius r about c that a line turning by
// turn from the angle start sweeps over.
func (m *moments) addSector(c r2.Vec, r, start, turn float64) {
	s1, c1 := math.Sincos(start)
	s2, c2 := math.Sincos(start + turn)
	area := r * r / 2 * turn
	u, v := r*r*r/3*(s2-s1), r*r*r/3*(c1-c2)
	twice := (2*s2*c2 - 2*s1*c1) / 4
	uu, vv := r*r*r*r/4*(turn/2+twice), r*r*r*r/4*(turn/2-twice)
	uv := r * r * r * r / 8 * (s2*s2 - s1*s1)
	m.area += area
	m.u += u + c.X*area
	m.v += v + c.Y*area
	m.uu += uu + 2*c.X*u + c.X*c.X*area
	m.vv += vv + 2*c.Y*v + c.Y*c.Y*area
	m.uv += uv + c.X*v + c.Y*u + c.X*c.Y*area
}
