package figure

import (
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Half is the width of a figure of which two stand side by side on a page.
const Half = (figureWidth - 4*vg.Millimeter) / 2

// Whole is the width of a figure that fills a page's text width.
const Whole = figureWidth

// Measures of a shaded view, in points.
const (
	shadedMargin  = 8
	shadedCaption = 14
	tallestShaded = 150 // of one part
)

// deepest is how much darker a face turned from the light is than one that looks at
// it.
const deepest = 0.5

// light is where it comes from as the eye sees it: from above, the left and behind.
var light = r3.Unit(r3.Vec{X: -0.35, Y: 0.8, Z: 0.55})

// Shaded draws parts at a slant, one below the other to one scale, in the light, with
// the edges that are seen.
func Shaded(width vg.Length, parts []PartView) Figure {
	var views []shadedView
	wide, tall := 1e-9, 1e-9
	var names []string
	for _, p := range parts {
		v := newShadedView(p)
		views = append(views, v)
		wide, tall = max(wide, v.high.u-v.low.u), max(tall, v.high.v-v.low.v)
		names = append(names, p.Name)
	}
	pitch := min((width-2*shadedMargin)/vg.Length(wide), tallestShaded/vg.Length(tall)) // points a mm
	row := vg.Length(tall)*pitch + shadedCaption + shadedMargin
	return Figure{
		Title: "Seen at a slant", Alt: "Seen at a slant, to one scale: " + strings.Join(names, ", ") + ".",
		Width: width, Height: row*vg.Length(len(parts)) + shadedMargin,
		Draw: func(c draw.Canvas) {
			c.SetColor(figurePaper)
			c.Fill(c.Rectangle.Path())
			for i, v := range views {
				top := c.Max.Y - shadedMargin/2 - row*vg.Length(i)
				c.FillText(boldLabel(figureText, seriesColor(v.part.Series)), vg.Point{X: c.Min.X + shadedMargin, Y: top - shadedCaption + 4}, v.part.Name)
				v.draw(c, width, vg.Point{X: c.Min.X + shadedMargin, Y: top - shadedCaption - vg.Length(v.high.v-v.low.v)*pitch}, pitch)
			}
		},
	}
}

// shadedView is a part as it is seen at a slant.
type shadedView struct {
	part      PartView
	look      slant
	low, high flatPoint
}

func newShadedView(p PartView) shadedView {
	v := shadedView{part: p, look: slantOf(p.Mesh.Bounds()),
		low: flatPoint{u: math.Inf(1), v: math.Inf(1)}, high: flatPoint{u: math.Inf(-1), v: math.Inf(-1)}}
	for _, corner := range p.Mesh.Vertices {
		q := v.look.flat(corner)
		v.low.u, v.low.v = min(v.low.u, q.u), min(v.low.v, q.v)
		v.high.u, v.high.v = max(v.high.u, q.u), max(v.high.v, q.v)
	}
	return v
}

// draw paints the part with its lower left corner at a point.
func (v shadedView) draw(c draw.Canvas, width vg.Length, corner vg.Point, pitch vg.Length) {
	m := v.part.Mesh
	r := newRaster(width, v.low, v.high)
	for f := range m.Faces {
		a, b, d := m.Triangle(f)
		n := r3.Cross(r3.Sub(b, a), r3.Sub(d, a))
		if r3.Norm2(n) == 0 {
			continue
		}
		flat := v.look.flat(r3.Unit(n))
		lit := max(0, r3.Dot(light, r3.Vec{X: flat.u, Y: flat.v, Z: flat.near}))
		r.paint(seen{v.look.flat(a), 0}, seen{v.look.flat(b), 0}, seen{v.look.flat(d), 0}, deepest*(1-lit))
	}
	at := func(p flatPoint) vg.Point {
		return vg.Point{X: corner.X + vg.Length(p.u-v.low.u)*pitch, Y: corner.Y + vg.Length(p.v-v.low.v)*pitch}
	}
	body := paler(seriesColor(v.part.Series))
	r.draw(c, at, func(float64) color.NRGBA { return body })
	style := draw.LineStyle{Color: color.NRGBA{0x10, 0x16, 0x1c, 0xff}, Width: 0.5} // on the part's own colour, light and dark
	for _, line := range v.edges(r) {
		points := make([]vg.Point, len(line))
		for i, p := range line {
			points[i] = tenths(at(p))
		}
		stroke(c, style, points...)
	}
}

// edges are the sharp edges and outlines that no face covers.
func (v shadedView) edges(r *raster) [][]flatPoint {
	var lines []flatLine
	m := v.part.Mesh
	for _, e := range featureEdges(m) {
		toward := func(n r3.Vec) bool { return r3.Dot(n, v.look.toward) > 0 }
		if !e.sharp && toward(e.n) == toward(e.o) {
			continue
		}
		for _, run := range r.runs(v.look.flat(m.Vertices[e.a]), v.look.flat(m.Vertices[e.b])) {
			if run.seen {
				lines = append(lines, run.line)
			}
		}
	}
	return chains(lines, r.pixel)
}

// paler is a colour mixed with white, for surfaces.
func paler(c color.NRGBA) color.NRGBA {
	mix := func(v uint8) uint8 { return uint8(255 - 0.35*(255-float64(v)) + 0.5) }
	return color.NRGBA{mix(c.R), mix(c.G), mix(c.B), 0xff}
}
