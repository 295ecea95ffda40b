package figure

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/quantity"
)

// Curve is one line of a chart.
type Curve struct {
	Name string
	X, Y []float64
}

// Curves draws lines over a common axis, both axes in the unit that their labels
// name or what stands in for it in the system. The vertical axis starts at zero, so
// that heights compare. Text that stands in for the picture gives each curve's
// least and greatest value with its place.
func Curves(u quantity.System, title, xLabel, yLabel string, curves []Curve) (Figure, error) {
	curves, xLabel, yLabel = inUnits(u, curves, xLabel, yLabel)
	return curvesFrom(0, title, xLabel, yLabel, curves)
}

// Rigidity draws EI along a span. Where a boss or the like is so stiff that the
// rest would lie flat on a plain axis, the axis is logarithmic and says so.
func Rigidity(u quantity.System, title, xLabel string, curves []Curve) (Figure, error) {
	curves, xLabel, yLabel := inUnits(u, curves, xLabel, "EI, N m2")
	return curvesFrom(logFloor(curves), title, xLabel, yLabel, curves)
}

// inUnits converts curves and the labels of their axes.
func inUnits(u quantity.System, curves []Curve, xLabel, yLabel string) (out []Curve, x, y string) {
	var all [2][]float64
	for _, c := range curves {
		all[0], all[1] = append(all[0], c.X...), append(all[1], c.Y...)
	}
	x, byX := converted(u, xLabel, all[0])
	y, byY := converted(u, yLabel, all[1])
	for _, c := range curves {
		out = append(out, Curve{c.Name, scaled(c.X, byX), scaled(c.Y, byY)})
	}
	return out, x, y
}

// converted returns a label in the units of the system, and what its numbers are
// multiplied by.
func converted(u quantity.System, label string, numbers []float64) (in string, factor float64) {
	size := 0.0
	for _, v := range numbers {
		size = max(size, math.Abs(finite(v)))
	}
	_, factor = u.Unit(quantity.UnitOf(label), size)
	return u.Labelled(label, size), factor
}

func scaled(v []float64, factor float64) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = v[i] * factor
	}
	return out
}

// curvesFrom draws curves on a logarithmic axis that starts at a floor above
// zero, or on a plain one that starts at zero.
func curvesFrom(floor float64, title, xLabel, yLabel string, curves []Curve) (Figure, error) {
	p := newPlot(xLabel, yLabel)
	p.Add(newGrid())
	top := 0.0
	said := make([]string, len(curves))
	for i, curve := range curves {
		line, err := plotter.NewLine(curve.points(floor))
		if err != nil {
			return Figure{}, fmt.Errorf("figure %q: curve %q: %w", title, curve.Name, err)
		}
		line.LineStyle = draw.LineStyle{Color: seriesColor(i), Width: 1.6, Dashes: seriesDash(i)}
		p.Add(line)
		p.Legend.Add(curve.Name, line)
		for _, y := range curve.Y {
			top = max(top, y)
		}
		said[i] = curve.describe()
	}
	// The legend stands in the room above the highest line.
	room := 0.1 + 0.1*float64(len(curves))
	p.Y.Min, p.Y.Max = 0, top*(1+room)
	p.Y.Tick.Marker = tickText{}
	if floor > 0 {
		p.Y.Label.Text += ", log scale"
		p.Y.Min, p.Y.Max = floor, top*math.Pow(top/floor, room)
		p.Y.Scale, p.Y.Tick.Marker = plot.LogScale{}, decadeTicks{}
	}
	p.Legend.Top = true
	return Figure{
		Title:  title,
		Alt:    fmt.Sprintf("%s over %s: %s.", yLabel, xLabel, strings.Join(said, "; ")),
		Height: figureWidth * 2 / 5,
		Draw:   func(c draw.Canvas) { p.Draw(padded(c)) },
	}, nil
}

// logFloor is where a logarithmic axis starts that the curves need because the
// highest value is far above the middle one: at the least value, but not far
// below the middle one. It is 0 where a plain axis does.
func logFloor(curves []Curve) float64 {
	const far, below = 6, 5
	least, top := math.Inf(1), 0.0
	var values, weights []float64 // of the middle between two points, by its length
	for _, c := range curves {
		for i, y := range c.Y {
			least, top = min(least, y), max(top, y)
			if i > 0 {
				values, weights = append(values, (c.Y[i-1]+y)/2), append(weights, math.Abs(c.X[i]-c.X[i-1]))
			}
		}
	}
	if len(values) == 0 {
		return 0
	}
	stat.SortWeighted(values, weights)
	middle := stat.Quantile(0.5, stat.Empirical, values, weights)
	if middle <= 0 || top < far*middle {
		return 0
	}
	return max(least, middle/below)
}

// points are those of the curve, those below the floor lifted onto it.
func (c Curve) points(floor float64) plotter.XYs {
	out := make(plotter.XYs, min(len(c.X), len(c.Y)))
	for i := range out {
		out[i].X, out[i].Y = c.X[i], max(c.Y[i], floor)
	}
	return out
}

func (c Curve) describe() string {
	least, most := math.Inf(1), math.Inf(-1)
	var atLeast, atMost float64
	for i, y := range c.Y {
		if y < least {
			least, atLeast = y, c.X[i]
		}
		if y > most {
			most, atMost = y, c.X[i]
		}
	}
	if quantity.Number(least, 3) == quantity.Number(most, 3) {
		return fmt.Sprintf("%s %s all along", c.Name, quantity.Number(most, 3))
	}
	return fmt.Sprintf("%s from %s at %s to %s at %s", c.Name,
		quantity.Number(least, 3), quantity.Short(atLeast, 3), quantity.Number(most, 3), quantity.Short(atMost, 3))
}

// newGrid returns faint lines behind a chart.
func newGrid() *plotter.Grid {
	g := plotter.NewGrid()
	g.Vertical = draw.LineStyle{Color: figureGrid, Width: 0.4}
	g.Horizontal = g.Vertical
	return g
}

// padded leaves a margin around a chart.
func padded(c draw.Canvas) draw.Canvas { return draw.Crop(c, 8, -14, 6, -8) }

// seriesPoint is the mark of a nominal value.
func seriesPoint(c draw.Canvas, i int, at vg.Point) {
	c.DrawGlyph(draw.GlyphStyle{Color: seriesColor(i), Radius: 3.2, Shape: draw.CircleGlyph{}}, at)
}
