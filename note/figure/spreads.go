package figure

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/internal/textwrap"
	"swapworth/materials"
	"swapworth/quantity"
)

// SpreadRow is one line of a chart of intervals.
type SpreadRow struct {
	Name  string
	Range materials.Range
}

// Spreads draws intervals on an axis that shows nothing else, one row each: how far
// each input moves one quantity. The dashed line is the nominal value.
func Spreads(u quantity.System, title, unit string, rows []SpreadRow) Figure {
	unit, rows = rowsIn(u, unit, rows)
	said := make([]string, len(rows))
	for i, r := range rows {
		said[i] = r.Name + " " + inWords(r.Range)
	}
	chart := spreadChart{unit: unit, rows: rows}
	return Figure{
		Title:  title,
		Alt:    fmt.Sprintf("95 %% intervals; %s: %s.", unit, strings.Join(said, "; ")),
		Height: vg.Length(rowPitch*len(rows) + 48),
		Draw:   chart.draw,
	}
}

// rowsIn converts rows that share the unit of a label.
func rowsIn(u quantity.System, label string, rows []SpreadRow) (string, []SpreadRow) {
	var all []float64
	for _, r := range rows {
		all = append(all, r.Range.Low, r.Range.Nominal, r.Range.High)
	}
	label, factor := converted(u, label, all)
	out := make([]SpreadRow, len(rows))
	for i, r := range rows {
		out[i] = SpreadRow{r.Name, r.Range.Scale(factor)}
		if factor == 1 {
			out[i] = r
		}
	}
	return label, out
}

type spreadChart struct {
	unit string
	rows []SpreadRow
}

// Measures of row charts, in points.
const (
	rowPitch  = 26
	nameWidth = 150
	edgeWidth = 24
)

func (k spreadChart) draw(c draw.Canvas) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range k.rows {
		low, high = min(low, finite(r.Range.Low)), max(high, finite(r.Range.High))
	}
	a := newRowAxis(c, low, high, edgeWidth)
	a.ticks(k.unit)
	for i, r := range k.rows {
		a.name(r.Name, a.row(i))
		a.whisker(r.Range, a.row(i), 1)
	}
	a.nominal(k.rows[0].Range.Nominal, len(k.rows))
}

// rowAxis is a horizontal axis with named rows above it.
type rowAxis struct {
	draw.Canvas
	low, high   float64
	left, width vg.Length
	top         vg.Length
}

// newRowAxis leaves the given room right of its end.
func newRowAxis(c draw.Canvas, low, high float64, right vg.Length) rowAxis {
	c.SetColor(figurePaper)
	c.Fill(c.Rectangle.Path())
	if high <= low {
		high = low + 1
	}
	margin := (high - low) * 0.06
	if low != 0 {
		low -= margin
	}
	a := rowAxis{Canvas: c, low: low, high: high + margin, left: c.Min.X + nameWidth, top: c.Max.Y - 8}
	a.width = c.Max.X - right - a.left
	return a
}

// at is the place of a value, kept on the axis.
func (a rowAxis) at(v float64) vg.Length {
	t := (finite(v) - a.low) / (a.high - a.low)
	return a.left + a.width*vg.Length(min(max(t, 0), 1))
}

func (a rowAxis) row(i int) vg.Length { return a.top - vg.Length(rowPitch*i) - rowPitch/2 }

// name writes what a row is, right before its bar, on one or two lines.
func (a rowAxis) name(text string, y vg.Length) {
	s := label(figureSmall, figureInk)
	s.XAlign = -1
	lines := textwrap.In(text, float64(nameWidth-12), func(t string) float64 { return s.Width(t).Points() })
	for i, l := range lines {
		drop := vg.Length(i)*9.5 - vg.Length(len(lines)-1)*4.75
		a.FillText(s, vg.Point{X: a.left - 6, Y: y - 3 - drop}, l)
	}
}

func (a rowAxis) ticks(unit string) {
	base := a.Min.Y + 28
	for _, t := range (tickText{}).Ticks(a.low, a.high) {
		if t.Label == "" || t.Value < a.low || t.Value > a.high {
			continue
		}
		x := a.at(t.Value)
		stroke(a.Canvas, draw.LineStyle{Color: figureGrid, Width: 0.4}, vg.Point{X: x, Y: base}, vg.Point{X: x, Y: a.top})
		s := label(figureSmall, figureSoft)
		s.XAlign = -0.5
		a.FillText(s, vg.Point{X: x, Y: base - 10}, t.Label)
	}
	stroke(a.Canvas, draw.LineStyle{Color: figureSoft, Width: 0.6}, vg.Point{X: a.left, Y: base}, vg.Point{X: a.left + a.width, Y: base})
	s := label(figureText, figureInk)
	s.XAlign = -0.5
	a.FillText(s, vg.Point{X: a.left + a.width/2, Y: base - 23}, unit)
}

// whisker draws the interval and the nominal value in it.
func (a rowAxis) whisker(r materials.Range, y vg.Length, series int) {
	style := draw.LineStyle{Color: seriesColor(series), Width: 1.3}
	low, high := a.at(r.Low), a.at(r.High)
	stroke(a.Canvas, style, vg.Point{X: low, Y: y}, vg.Point{X: high, Y: y})
	for _, x := range []vg.Length{low, high} {
		stroke(a.Canvas, style, vg.Point{X: x, Y: y - 4}, vg.Point{X: x, Y: y + 4})
	}
	seriesPoint(a.Canvas, series, vg.Point{X: a.at(r.Nominal), Y: y})
}

// nominal draws a dashed line across the rows.
func (a rowAxis) nominal(value float64, rows int) {
	x := a.at(value)
	stroke(a.Canvas, draw.LineStyle{Color: seriesColor(0), Width: 1.2, Dashes: []vg.Length{5, 2}},
		vg.Point{X: x, Y: a.top}, vg.Point{X: x, Y: a.row(rows-1) - rowPitch/2})
}

// inWords is a range as "nominal (low to high)".
func inWords(r materials.Range) string {
	return textwrap.Untied(quantity.Interval(r.Low, r.Nominal, r.High, 3))
}
