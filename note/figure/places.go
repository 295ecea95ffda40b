package figure

import (
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// drawPlaces marks places of a part with a cross and a letter, in whichever view.
func (l viewLayout) drawPlaces(c draw.Canvas, p PartView, e eye, point func(flatPoint) vg.Point) {
	const arm = 3
	style := draw.LineStyle{Color: seriesColor(3), Width: 1.1}
	bold := boldLabel(figureSmall, seriesColor(3))
	for _, m := range p.Places {
		at := point(e.flat(m.At))
		stroke(c, style, vg.Point{X: at.X - arm, Y: at.Y - arm}, vg.Point{X: at.X + arm, Y: at.Y + arm})
		stroke(c, style, vg.Point{X: at.X - arm, Y: at.Y + arm}, vg.Point{X: at.X + arm, Y: at.Y - arm})
		where := vg.Point{X: at.X + arm + 1, Y: at.Y - 1}
		c.SetColor(figurePaper)
		c.Fill(vg.Rectangle{Min: where, Max: vg.Point{X: where.X + bold.Width(m.Text), Y: where.Y + 7}}.Path())
		c.FillText(bold, where, m.Text)
	}
}
