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

// IntervalRow is one line of an interval chart: a nominal value between bounds,
// and where there is one the limit it is held against.
type IntervalRow struct {
	Name   string
	Range  materials.Range
	Limit  *float64
	AtMost bool // the limit is an upper one
	Series int  // which colour: 0 the stock part, 1 the redesign, ...
}

// Intervals draws one row a quantity, all on one axis: a bar from zero to the
// nominal value, a whisker over the 95 % interval, and both in words behind it.
func Intervals(u quantity.System, title, unit string, rows []IntervalRow) Figure {
	unit, rows = rowsIn(u, unit, rows)
	said := make([]string, len(rows))
	for i, r := range rows {
		said[i] = r.Name + " " + inWords(r.Range)
	}
	chart := intervalChart{unit: unit, rows: rows}
	return Figure{
		Title:  title,
		Alt:    fmt.Sprintf("Values with 95 %% intervals; %s: %s.", unit, strings.Join(said, "; ")),
		Height: vg.Length(rowPitch*len(rows) + 48),
		Draw:   chart.draw,
	}
}

// Spreads draws the intervals alone, on an axis that shows nothing else: how far
// each input moves one quantity. The dashed line is the nominal value.
func Spreads(u quantity.System, title, unit string, rows []IntervalRow) Figure {
	f := Intervals(u, title, unit, rows)
	unit, rows = rowsIn(u, unit, rows)
	chart := intervalChart{unit: unit, rows: rows, spread: true}
	f.Draw = chart.draw
	return f
}

// rowsIn converts rows that share the unit of a label.
func rowsIn(u quantity.System, label string, rows []IntervalRow) (string, []IntervalRow) {
	var all []float64
	for _, r := range rows {
		all = append(all, r.Range.Low, r.Range.Nominal, r.Range.High)
	}
	label, factor := converted(u, label, all)
	out := make([]IntervalRow, len(rows))
	for i, r := range rows {
		out[i] = r.times(factor)
	}
	return label, out
}

func (r IntervalRow) times(factor float64) IntervalRow {
	if factor == 1 {
		return r
	}
	r.Range = r.Range.Scale(factor)
	if r.Limit != nil {
		limit := *r.Limit * factor
		r.Limit = &limit
	}
	return r
}

type intervalChart struct {
	unit   string
	rows   []IntervalRow
	spread bool
}

// Measures of row charts, in points.
const (
	rowPitch  = 26
	nameWidth = 150
	saidWidth = 96 // room for an interval in words
	edgeWidth = 24
)

func (k intervalChart) draw(c draw.Canvas) {
	low, high := k.extent()
	right := vg.Length(saidWidth)
	if k.spread {
		right = edgeWidth
	}
	a := newRowAxis(c, low, high, right)
	a.ticks(k.unit)
	for i, r := range k.rows {
		y := a.row(i)
		a.name(r.Name, y)
		if k.spread {
			a.whisker(r.Range, y, r.Series)
			continue
		}
		from, to := a.at(0), a.at(r.Range.Nominal)
		c.SetColor(tinted(seriesColor(r.Series), 0.35))
		c.Fill(vg.Rectangle{Min: vg.Point{X: min(from, to), Y: y - 6}, Max: vg.Point{X: max(from, to), Y: y + 6}}.Path())
		a.whisker(r.Range, y, r.Series)
		a.FillText(label(figureSmall, figureInk), vg.Point{X: a.at(max(r.Range.High, 0)) + 8, Y: y - 3}, inWords(r.Range))
	}
	if k.spread {
		a.limit(k.rows[0].Range.Nominal, len(k.rows))
		return
	}
	a.zero(len(k.rows))
}

// extent is what the axis must show: the intervals, and zero where bars start.
func (k intervalChart) extent() (low, high float64) {
	if k.spread {
		low, high = math.Inf(1), math.Inf(-1)
	}
	for _, r := range k.rows {
		low, high = min(low, finite(r.Range.Low)), max(high, finite(r.Range.High))
	}
	return low, high
}

func finite(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return v
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

// zero draws the line that bars start from.
func (a rowAxis) zero(rows int) {
	x := a.at(0)
	stroke(a.Canvas, draw.LineStyle{Color: figureInk, Width: 0.8}, vg.Point{X: x, Y: a.top}, vg.Point{X: x, Y: a.row(rows-1) - rowPitch/2})
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

// AgainstLimits draws every quantity as a share of its own limit: right of the
// line at 100 % is met, or left of it for an upper limit.
func AgainstLimits(u quantity.System, title string, rows []IntervalRow) Figure {
	var kept []IntervalRow
	said := []string{}
	for _, r := range rows {
		if r.Limit == nil || *r.Limit == 0 {
			continue
		}
		name, factor := converted(u, r.Name, []float64{r.Range.Nominal})
		r = r.times(factor)
		r.Name = name
		side := "asked for at least"
		if r.AtMost {
			side = "asked for at most"
		}
		said = append(said, fmt.Sprintf("%s %s, %s %s", r.Name, inWords(r.Range), side, quantity.Short(*r.Limit, 4)))
		kept = append(kept, r)
	}
	return Figure{
		Title:  title,
		Alt:    "Every judged criterion with its 95 % interval: " + strings.Join(said, "; ") + ".",
		Height: vg.Length(rowPitch*len(kept) + 48),
		Draw:   func(c draw.Canvas) { drawAgainstLimits(c, kept) },
	}
}

// farthest caps the axis of a limit chart, in percent of the limit: what lies
// beyond is met or missed without doubt and ends at the edge.
const farthest = 200

func drawAgainstLimits(c draw.Canvas, rows []IntervalRow) {
	low, high := 0.0, 150.0
	shown := make([]materials.Range, len(rows))
	for i, r := range rows {
		shown[i] = r.Range.Scale(100 / *r.Limit)
		low, high = min(low, max(finite(shown[i].Low), -farthest/2)), max(high, min(finite(shown[i].High), farthest))
	}
	a := newRowAxis(c, low, high, edgeWidth)
	a.ticks("value, % of the limit")
	for i, r := range rows {
		a.name(r.Name, a.row(i))
		a.whisker(shown[i], a.row(i), 1)
		a.beyond(r, shown[i], a.row(i))
	}
	a.limit(100, len(rows))
}

// limit draws a dashed line across the rows.
func (a rowAxis) limit(value float64, rows int) {
	x := a.at(value)
	stroke(a.Canvas, draw.LineStyle{Color: seriesColor(0), Width: 1.2, Dashes: []vg.Length{5, 2}},
		vg.Point{X: x, Y: a.top}, vg.Point{X: x, Y: a.row(rows-1) - rowPitch/2})
}

// beyond writes the value of a row that lies outside the axis at its edge.
func (a rowAxis) beyond(r IntervalRow, shown materials.Range, y vg.Length) {
	if shown.Nominal <= a.high && shown.Nominal >= a.low {
		return
	}
	s := label(figureSmall, figureInk)
	s.XAlign = -1
	x := a.at(shown.Nominal) - 8
	if shown.Nominal < a.low {
		s.XAlign, x = 0, a.at(shown.Nominal)+8
	}
	a.FillText(s, vg.Point{X: x, Y: y + 5}, quantity.Number(r.Range.Nominal, 3)+", off the scale")
}

// inWords is a range as "nominal (low to high)".
func inWords(r materials.Range) string {
	return textwrap.Untied(quantity.Interval(r.Low, r.Nominal, r.High, 3))
}
