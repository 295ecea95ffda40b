package figure

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/mesh"
	"swapworth/quantity"
)

// PartView is one part as a drawing shows it.
type PartView struct {
	Name   string // "stock part"
	Mesh   *mesh.Mesh
	Cuts   []CutMark
	Marks  []PointMark
	Signs  []Sign
	Places []PointMark // findings, marked in every view
	Series int         // which colour: 0 the stock part, 1 the redesign, ...
}

// CutMark is the trace of a cut plane, drawn where it is seen edge-on.
type CutMark struct {
	Axis mesh.Axis
	At   float64 // mm
	Name string  // "A"
}

// PointMark puts a short text beside a round feature of the part, such as a
// hole's number.
type PointMark struct {
	At     r3.Vec  // its centre, mm
	Radius float64 // mm
	Text   string
}

// ThreeViews draws the parts to one scale from above, from the front and from
// the right, placed as in third-angle projection, sizes in units of the system. Edges that a face covers are
// thin and dashed.
func ThreeViews(u quantity.System, parts []PartView) Figure {
	return ThreeViewsIn(figureWidth, u, parts)
}

// ThreeViewsIn is ThreeViews in a figure of the given width.
func ThreeViewsIn(width vg.Length, u quantity.System, parts []PartView) Figure {
	l := newViewLayout(width, parts)
	return Figure{
		Title: "Three views",
		Alt:   viewsText(parts),
		Width: l.width, Height: l.height,
		// What hides what is worked out only for a format that shows pictures.
		Draw: func(c draw.Canvas) { l.draw(c, u, parts) },
	}
}

func viewsText(parts []PartView) string {
	said := make([]string, len(parts))
	for i, p := range parts {
		s := p.Mesh.Bounds().Size()
		said[i] = fmt.Sprintf("%s, %s by %s by %s mm", p.Name, quantity.Short(s.X, 4), quantity.Short(s.Y, 4), quantity.Short(s.Z, 4))
		if len(p.Marks) > 0 {
			said[i] += fmt.Sprintf(", holes numbered 1 to %d", len(p.Marks))
		}
		if s := signsText(p.Signs); s != "" {
			said[i] += ", " + s
		}
		for _, m := range p.Places {
			said[i] += fmt.Sprintf(", %s marked at (%s, %s, %s) mm", m.Text, quantity.Short(m.At.X, 3), quantity.Short(m.At.Y, 3), quantity.Short(m.At.Z, 3))
		}
		for _, cut := range p.Cuts {
			said[i] += fmt.Sprintf(", cut %s at %v = %s mm", cut.Name, cut.Axis, quantity.Short(cut.At, 4))
		}
	}
	return "Seen from above, below it from the front and beside that from the right, to one scale: " +
		strings.Join(said, "; ") + "."
}

// viewBlock holds the three views of one part.
type viewBlock struct {
	part             PartView
	box              mesh.Box
	top, front, side view
}

func newViewBlock(p PartView) viewBlock {
	edges := featureEdges(p.Mesh)
	return viewBlock{
		part: p, box: p.Mesh.Bounds(),
		top:   newView(p.Mesh, edges, fromAbove),
		front: newView(p.Mesh, edges, fromFront),
		side:  newView(p.Mesh, edges, fromRight),
	}
}

// viewLayout is where the blocks go: below each other or two side by side,
// whichever shows the parts larger.
type viewLayout struct {
	scale         float64 // points per mm
	width, height vg.Length
	blockW        vg.Length
	rowH          vg.Length
	columns       int
}

// Distances of the layout, in points.
const (
	viewGap     = 16 // between two views of a part
	viewMargin  = 10
	viewCaption = 26 // above a block, for its name and size
	tallestRow  = 300
	tallestPage = 420 // of all rows, as far as the rows stay readable
	lowestRow   = 150
)

func newViewLayout(width vg.Length, parts []PartView) viewLayout {
	wide, high := 1e-9, 1e-9 // mm
	for _, p := range parts {
		s := p.Mesh.Bounds().Size()
		wide, high = max(wide, s.X+s.Y), max(high, s.Y+s.Z)
	}
	const room = 2*viewMargin + viewGap
	best := viewLayout{}
	for columns := min(2, max(1, len(parts))); columns > 0; columns-- {
		l := viewLayout{width: width, columns: columns, blockW: width / vg.Length(columns)}
		rows := max(1, (len(parts)+columns-1)/columns)
		tallest := max(lowestRow, min(tallestRow, tallestPage/float64(rows)))
		l.scale = min((l.blockW.Points()-room)/wide, (tallest-room-viewCaption)/high)
		l.rowH = vg.Length(high*l.scale + room + viewCaption)
		l.height = l.rowH * vg.Length(rows)
		if best.columns == 0 || l.scale > best.scale*1.1 && l.height <= tallestPage {
			best = l
		}
	}
	return best
}

func (l viewLayout) draw(c draw.Canvas, u quantity.System, parts []PartView) {
	c.SetColor(figurePaper)
	c.Fill(c.Rectangle.Path())
	for i, p := range parts {
		left := c.Min.X + l.blockW*vg.Length(i%l.columns) + viewMargin
		top := c.Max.Y - l.rowH*vg.Length(i/l.columns)
		l.drawBlock(c, u, newViewBlock(p), vg.Point{X: left, Y: top})
	}
}

// drawBlock draws the views of one part below and right of the corner.
func (l viewLayout) drawBlock(c draw.Canvas, u quantity.System, b viewBlock, corner vg.Point) {
	series := b.part.Series
	s := b.box.Size()
	size := u.Text(fmt.Sprintf("%s x %s x %s mm", quantity.Short(s.X, 4), quantity.Short(s.Y, 4), quantity.Short(s.Z, 4)))
	c.FillText(boldLabel(figureText, seriesColor(series)), vg.Point{X: corner.X, Y: corner.Y - 12}, b.part.Name)
	c.FillText(label(figureSmall, figureSoft), vg.Point{X: corner.X, Y: corner.Y - 22}, size)

	mm := func(v float64) vg.Length { return vg.Length(v * l.scale) }
	topLow := corner.Y - viewCaption - viewMargin/2 - mm(s.Y)
	frontLow := topLow - viewGap - mm(s.Z)
	place := func(v view, x, y vg.Length) {
		l.drawView(c, v, b, series, vg.Point{X: x, Y: y})
	}
	place(b.top, corner.X, topLow)
	place(b.front, corner.X, frontLow)
	place(b.side, corner.X+mm(s.X)+viewGap, frontLow)
}

// drawView draws one view with its lower left corner at the given point.
func (l viewLayout) drawView(c draw.Canvas, v view, b viewBlock, series int, at vg.Point) {
	low := v.eye.flat(b.box.Min)
	point := func(p flatPoint) vg.Point {
		return vg.Point{X: at.X + vg.Length((p.u-low.u)*l.scale), Y: at.Y + vg.Length((p.v-low.v)*l.scale)}
	}
	strokeAll := func(lines [][]flatPoint, style draw.LineStyle) {
		var p vg.Path
		for _, l := range lines {
			p.Move(point(l[0]))
			for _, q := range l[1:] {
				p.Line(point(q))
			}
		}
		if len(p) > 0 {
			c.SetLineStyle(style)
			c.Stroke(p)
		}
	}
	strokeAll(v.hidden, draw.LineStyle{Color: figureSoft, Width: 0.35, Dashes: []vg.Length{2, 1.6}})
	strokeAll(v.visible, draw.LineStyle{Color: seriesColor(series), Width: 0.9})
	high := v.eye.flat(b.box.Max)
	for _, cut := range b.part.Cuts {
		drawCut(c, v.eye, cut, point(low), point(high), point)
	}
	if v.eye == fromAbove {
		l.drawMarks(c, b.part, point)
	}
	l.drawSigns(c, b.part, v.eye, point)
	l.drawPlaces(c, b.part, v.eye, point)
}

// drawCut draws a dash-dot line across a view that sees the cut plane edge-on.
func drawCut(c draw.Canvas, e eye, cut CutMark, low, high vg.Point, point func(flatPoint) vg.Point) {
	style := draw.LineStyle{Color: figureInk, Width: 0.7, Dashes: []vg.Length{8, 2, 2, 2}}
	at := point(e.flat(r3.Scale(cut.At, cut.Axis.Unit())))
	const over = 5
	name := label(figureSmall, figureInk)
	switch cut.Axis {
	case e.right:
		stroke(c, style, vg.Point{X: at.X, Y: low.Y - over}, vg.Point{X: at.X, Y: high.Y + over})
		c.FillText(name, vg.Point{X: at.X + 2, Y: high.Y + 1}, cut.Name)
	case e.up:
		stroke(c, style, vg.Point{X: low.X - over, Y: at.Y}, vg.Point{X: high.X + over, Y: at.Y})
		c.FillText(name, vg.Point{X: high.X + 1, Y: at.Y + 2}, cut.Name)
	}
}
