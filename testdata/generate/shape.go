package main

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// chordsPerTurn is how finely circles are drawn. Corners lie on the circle.
const chordsPerTurn = 96

// moment is the area of a plane shape in mm2 and its first moments about the
// axes in mm3: (area, integral of x, integral of y).
type moment struct{ area, x, y float64 }

func (m moment) add(k float64, n moment) moment {
	return moment{m.area + k*n.area, m.x + k*n.x, m.y + k*n.y}
}

// at returns the moment of an area with its centroid at a point.
func at(area float64, c r2.Vec) moment { return moment{area, area * c.X, area * c.Y} }

// shape is a closed counter-clockwise outline with its moments in closed form:
// drawn is that of the polygon, round that of the true arcs.
type shape struct {
	loop         []r2.Vec
	drawn, round moment
}

// arc is a circle's piece of n chords from angle start through turn, in
// radians, counter-clockwise.
type arc struct {
	center      r2.Vec
	radius      float64
	start, turn float64
}

func (a arc) chords() int {
	return int(math.Ceil(chordsPerTurn*a.turn/(2*math.Pi) - 1e-9))
}

// points returns both ends and the corners between.
func (a arc) points() []r2.Vec {
	n := a.chords()
	points := make([]r2.Vec, n+1)
	for i := range points {
		s, c := math.Sincos(a.start + a.turn*float64(i)/float64(n))
		points[i] = r2.Add(a.center, r2.Vec{X: a.radius * c, Y: a.radius * s})
	}
	return points
}

// drawnSector is the fan of n triangles between the centre and the chords. With
// the chord's angle d = turn/n, each has area r^2 sin(d)/2 and its centroid at
// 2/3 r cos(d/2) from the centre; their directions add up to
// sin(n d/2)/sin(d/2) along the middle of the arc.
func (a arc) drawnSector() moment {
	n := float64(a.chords())
	d := a.turn / n
	area := n * a.radius * a.radius * math.Sin(d) / 2
	distance := 2.0 / 3 * a.radius * math.Cos(d/2) * math.Sin(a.turn/2) / (n * math.Sin(d/2))
	return at(area, a.along(distance))
}

// roundSector has area r^2 turn/2 and its centroid at 2/3 r sin(turn/2)/(turn/2)
// from the centre.
func (a arc) roundSector() moment {
	return at(a.radius*a.radius*a.turn/2, a.along(2.0/3*a.radius*math.Sin(a.turn/2)/(a.turn/2)))
}

// along is the point at a distance from the centre towards the arc's middle.
func (a arc) along(distance float64) r2.Vec {
	s, c := math.Sincos(a.start + a.turn/2)
	return r2.Add(a.center, r2.Vec{X: distance * c, Y: distance * s})
}

// disc is a full circle.
func disc(x, y, diameter float64) shape {
	a := arc{center: r2.Vec{X: x, Y: y}, radius: diameter / 2, turn: 2 * math.Pi}
	points := a.points()
	return shape{loop: points[:len(points)-1], drawn: a.drawnSector(), round: a.roundSector()}
}

// roundedRectangle has its centre at (x, y) and quarter circles at its corners.
func roundedRectangle(x, y, width, height, radius float64) shape {
	var s shape
	center := r2.Vec{X: x, Y: y}
	rest := at(width*height-4*radius*radius, center)
	s.drawn, s.round = rest, rest
	for i, corner := range [4]r2.Vec{{X: 1, Y: 1}, {X: -1, Y: 1}, {X: -1, Y: -1}, {X: 1, Y: -1}} {
		a := arc{
			center: r2.Add(center, r2.Vec{X: corner.X * (width/2 - radius), Y: corner.Y * (height/2 - radius)}),
			radius: radius, start: float64(i) * math.Pi / 2, turn: math.Pi / 2,
		}
		s.loop = append(s.loop, a.points()...)
		s.drawn = s.drawn.add(1, a.drawnSector())
		s.round = s.round.add(1, a.roundSector())
	}
	return s
}

// armOutline is a bar of the given width about the x axis that grows out of a
// hub of the given radius about the origin and ends round at x = reach, where
// its half circle is centred.
func armOutline(hub, width, reach float64) shape {
	half := width / 2
	neck := math.Sqrt(hub*hub - half*half) // where the bar meets the hub
	open := math.Atan2(half, neck)
	const quarter = math.Pi / 2
	s := shape{}
	bar := at(width*(reach-neck), r2.Vec{X: (neck + reach) / 2})
	wedge := at(neck*half, r2.Vec{X: 2.0 / 3 * neck}) // between the hub's centre and the neck
	s.drawn, s.round = bar.add(1, wedge), bar.add(1, wedge)
	for _, a := range []arc{
		{r2.Vec{X: reach}, half, -quarter, 2 * quarter},
		{r2.Vec{}, hub, open, quarter - open}, // in pieces, for corners at y = hub and y = -hub
		{r2.Vec{}, hub, quarter, 2 * quarter},
		{r2.Vec{}, hub, 3 * quarter, quarter - open},
	} {
		s.loop = append(s.loop, a.points()...)
		s.drawn = s.drawn.add(1, a.drawnSector())
		s.round = s.round.add(1, a.roundSector())
	}
	return s
}
