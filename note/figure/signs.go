package figure

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/internal/vector"
	"swapworth/quantity"
	"swapworth/solid"
)

// SignKind says what a sign on a drawing stands for.
type SignKind int

// Signs: a hold is a hatched square, a force an arrow to where it acts, a moment an
// arrow along its axis with two heads (right-hand rule), a pressure an arrow with a
// bar at its foot.
const (
	SignHold SignKind = iota
	SignForce
	SignMoment
	SignPressure
)

// Sign is a hold or a load drawn on the views of a part.
type Sign struct {
	Kind  SignKind
	At    r3.Vec // mm
	Along r3.Vec // which way it acts; its size does not matter
}

// SignsOf are the holds and loads of a load case.
func SignsOf(c solid.CaseResult) (signs []Sign) {
	for _, h := range c.Reactions {
		signs = append(signs, Sign{Kind: SignHold, At: vector.Of(h.Centre)})
	}
	for _, a := range c.Acts {
		kind := SignForce
		if a.Pressure != 0 {
			kind = SignPressure
		}
		if force := vector.Of(a.Force); r3.Norm(force) > 0 {
			signs = append(signs, Sign{Kind: kind, At: vector.Of(a.Centre), Along: force})
		}
		if moment := vector.Of(a.Moment); r3.Norm(moment) > 0 {
			signs = append(signs, Sign{Kind: SignMoment, At: vector.Of(a.Centre), Along: moment})
		}
	}
	return signs
}

// signsText says what the signs show.
func signsText(signs []Sign) string {
	names := [...]string{"held (hatched square)", "force (arrow)", "moment (arrow with two heads)", "pressure (arrow with a bar)"}
	where := make([][]string, len(names))
	for _, s := range signs {
		where[s.Kind] = append(where[s.Kind], fmt.Sprintf("(%s, %s, %s)", coordinate(s.At.X), coordinate(s.At.Y), coordinate(s.At.Z)))
	}
	var said []string
	for kind, at := range where {
		if len(at) > 0 {
			said = append(said, names[kind]+" at "+strings.Join(at, ", ")+" mm")
		}
	}
	return strings.Join(said, ", ")
}

// nothing is the size in mm below which a coordinate is what rounding left of 0.
const nothing = 1e-6

func coordinate(v float64) string {
	if math.Abs(v) < nothing {
		v = 0
	}
	return quantity.Short(v, 3)
}

const (
	holdSide    = 7.0  // points
	arrowLength = 22.0 // points
	arrowHead   = 6.0
	// endOn is the share of a direction that lies in the view below which it is drawn
	// as seen end on: a ring with a dot, or with a cross for one that goes away.
	endOn = 0.3
)

// drawSigns draws the holds and loads of a part in a view.
func (l viewLayout) drawSigns(c draw.Canvas, p PartView, e eye, point func(flatPoint) vg.Point) {
	for _, s := range p.Signs {
		at := point(e.flat(s.At))
		if s.Kind == SignHold {
			drawHold(c, at)
			continue
		}
		u := r3.Unit(s.Along)
		flat := e.flat(u)
		in := math.Hypot(flat.u, flat.v)
		if in < endOn {
			drawEndOn(c, at, flat.near > 0)
			continue
		}
		drawArrow(c, at, vg.Point{X: vg.Length(flat.u / in), Y: vg.Length(flat.v / in)}, vg.Length(max(in, 0.5)*arrowLength), s.Kind)
	}
}

var signStyle = draw.LineStyle{Color: figureInk, Width: 1.1}

// drawHold draws a hatched square around a point.
func drawHold(c draw.Canvas, at vg.Point) {
	const half = holdSide / 2
	corner := func(x, y vg.Length) vg.Point { return vg.Point{X: at.X + x*half, Y: at.Y + y*half} }
	c.FillPolygon(tinted(figurePaper, 0.75), []vg.Point{corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)})
	stroke(c, signStyle, corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1), corner(-1, -1))
	thin := draw.LineStyle{Color: figureInk, Width: 0.6}
	stroke(c, thin, corner(-1, 0), corner(0, 1))
	stroke(c, thin, corner(-1, -1), corner(1, 1))
	stroke(c, thin, corner(0, -1), corner(1, 0))
}

// drawEndOn draws an arrow that points at the eye or away from it.
func drawEndOn(c draw.Canvas, at vg.Point, toEye bool) {
	const r = 4.5
	var ring vg.Path
	ring.Move(vg.Point{X: at.X + r, Y: at.Y})
	ring.Arc(at, r, 0, 2*math.Pi)
	ring.Close()
	c.SetColor(tinted(figurePaper, 0.75))
	c.Fill(ring)
	c.SetLineStyle(signStyle)
	c.Stroke(ring)
	if toEye {
		var dot vg.Path
		dot.Move(vg.Point{X: at.X + 1.4, Y: at.Y})
		dot.Arc(at, 1.4, 0, 2*math.Pi)
		dot.Close()
		c.SetColor(figureInk)
		c.Fill(dot)
		return
	}
	const d = r * 0.7
	stroke(c, signStyle, vg.Point{X: at.X - d, Y: at.Y - d}, vg.Point{X: at.X + d, Y: at.Y + d})
	stroke(c, signStyle, vg.Point{X: at.X - d, Y: at.Y + d}, vg.Point{X: at.X + d, Y: at.Y - d})
}

// drawArrow draws an arrow whose head is at a point.
func drawArrow(c draw.Canvas, at, along vg.Point, length vg.Length, kind SignKind) {
	foot := at.Sub(along.Scale(length))
	side := vg.Point{X: -along.Y, Y: along.X}
	stroke(c, signStyle, foot, at.Sub(along.Scale(arrowHead/2)))
	head := func(tip vg.Point) {
		back := tip.Sub(along.Scale(arrowHead))
		c.FillPolygon(figureInk, []vg.Point{tip, back.Add(side.Scale(arrowHead * 0.38)), back.Sub(side.Scale(arrowHead * 0.38))})
	}
	head(at)
	switch kind {
	case SignMoment:
		head(at.Sub(along.Scale(arrowHead * 0.8)))
	case SignPressure:
		stroke(c, signStyle, foot.Add(side.Scale(arrowHead)), foot.Sub(side.Scale(arrowHead)))
	}
}
