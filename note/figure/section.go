package figure

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/quantity"
)

// SectionView is the cut of one part.
type SectionView struct {
	Name     string
	At       string // where the cut lies: "x = 60 mm"
	Region   cut.Region
	Centroid r2.Vec // mm, in the plane's own coordinates
	Axes     [2]mesh.Axis
	Says     string // its numbers: "A 350 mm2, I 1234 mm4"
}

// Sections draws cuts side by side to one scale, with the axes through their
// centroids.
func Sections(u quantity.System, title string, views []SectionView) Figure {
	l := newSectionLayout(views)
	said := make([]string, len(views))
	for i, v := range views {
		size := v.Region.Bounds().Size()
		said[i] = fmt.Sprintf("%s at %s, %s by %s mm, %s", v.Name, v.At, quantity.Short(size.X, 4), quantity.Short(size.Y, 4), v.Says)
	}
	return Figure{
		Title: title,
		Alt:   "The cut of each part to one scale, with the axes through its centroid: " + strings.Join(said, "; ") + ".",
		Width: l.width, Height: l.height,
		Draw: func(c draw.Canvas) { l.draw(c, u, views) },
	}
}

type sectionLayout struct {
	scale         float64 // points per mm
	width, height vg.Length
	columnW, rowH vg.Length
	columns       int
}

// Distances around a drawn cut, in points.
const (
	sectionMargin  = 16
	sectionCaption = 28
	tallestSection = 110
	flattest       = 45 // a cut drawn this tall is large enough
)

// newSectionLayout puts cuts side by side, but flat ones below each other, where
// they come out larger.
func newSectionLayout(views []SectionView) sectionLayout {
	wide, high := 1e-9, 1e-9 // mm
	for _, v := range views {
		s := v.Region.Bounds().Size()
		wide, high = max(wide, s.X), max(high, s.Y)
	}
	best := sectionLayout{}
	for columns := max(1, len(views)); columns > 0; columns-- {
		l := sectionLayout{width: figureWidth, columns: columns, columnW: figureWidth / vg.Length(columns)}
		l.scale = min((l.columnW.Points()-2*sectionMargin)/wide, tallestSection/high)
		l.rowH = vg.Length(high*l.scale) + sectionCaption + 2*sectionMargin
		l.height = l.rowH * vg.Length(max(1, (len(views)+columns-1)/columns))
		if l.scale > best.scale && best.scale*high < flattest {
			best = l
		}
	}
	return best
}

func (l sectionLayout) draw(c draw.Canvas, u quantity.System, views []SectionView) {
	c.SetColor(figurePaper)
	c.Fill(c.Rectangle.Path())
	for i, v := range views {
		corner := vg.Point{
			X: c.Min.X + l.columnW*vg.Length(i%l.columns) + sectionMargin,
			Y: c.Max.Y - l.rowH*vg.Length(i/l.columns),
		}
		v.At, v.Says = u.Text(v.At), u.Text(v.Says)
		l.drawOne(c, v, i, corner)
	}
}

func (l sectionLayout) drawOne(c draw.Canvas, v SectionView, series int, corner vg.Point) {
	c.FillText(boldLabel(figureText, seriesColor(series)), vg.Point{X: corner.X, Y: corner.Y - 12}, v.Name+", "+v.At)
	c.FillText(label(figureSmall, figureSoft), vg.Point{X: corner.X, Y: corner.Y - 23}, v.Says)
	box := v.Region.Bounds()
	base := vg.Point{X: corner.X, Y: corner.Y - sectionCaption - sectionMargin - vg.Length(box.Size().Y*l.scale)}
	at := func(p r2.Vec) vg.Point {
		return vg.Point{X: base.X + vg.Length((p.X-box.Min.X)*l.scale), Y: base.Y + vg.Length((p.Y-box.Min.Y)*l.scale)}
	}
	var path vg.Path
	for _, loop := range v.Region.Loops() {
		for i, p := range loop {
			if i == 0 {
				path.Move(at(p))
			} else {
				path.Line(at(p))
			}
		}
		path.Close()
	}
	c.SetColor(tinted(seriesColor(series), 0.25))
	c.Fill(path)
	c.SetLineStyle(draw.LineStyle{Color: seriesColor(series), Width: 1})
	c.Stroke(path)
	drawCentroidAxes(c, at(v.Centroid), at(box.Min), at(box.Max), v.Axes)
}

// drawCentroidAxes draws both axes through the centroid, a little beyond the cut.
func drawCentroidAxes(c draw.Canvas, at, low, high vg.Point, axes [2]mesh.Axis) {
	style := draw.LineStyle{Color: figureInk, Width: 0.5, Dashes: []vg.Length{7, 2, 1.5, 2}}
	const over = 8
	stroke(c, style, vg.Point{X: low.X - over, Y: at.Y}, vg.Point{X: high.X + over, Y: at.Y})
	stroke(c, style, vg.Point{X: at.X, Y: low.Y - over}, vg.Point{X: at.X, Y: high.Y + over})
	name := label(figureSmall, figureInk)
	c.FillText(name, vg.Point{X: high.X + over + 1, Y: at.Y - 3}, axes[0].String())
	c.FillText(name, vg.Point{X: at.X + 3, Y: high.Y + 2}, axes[1].String())
}
