package figure

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/quantity"
	"swapworth/swap"
)

// Variants draws mass against stiffness, one line a material, with the
// thickness beside every point and a ring around those that nothing beats. It
// draws nothing where no stiffness was found.
func Variants(u quantity.System, v swap.Variants) (Figure, bool) {
	lines := variantLines(v.Variants)
	if len(lines) == 0 {
		return Figure{}, false
	}
	var masses []float64
	for _, v := range v.Variants {
		masses = append(masses, v.Mass)
	}
	mass, perGram := converted(u, "mass, g", masses)
	_, thickness, _ := strings.Cut(u.Text("1 mm"), " ")
	p := newPlot(mass, "stiffness over the stock part's")
	p.Add(newGrid())
	p.X.Tick.Marker, p.Y.Tick.Marker = tickText{}, tickText{}
	said := make([]string, len(lines))
	var names pointNames
	for i, l := range lines {
		if err := l.addTo(p, i, perGram, thickness); err != nil {
			return Figure{}, false
		}
		said[i] = l.describe()
		for _, v := range l.variants {
			names.at = append(names.at, plotter.XY{X: v.Mass * perGram, Y: *v.Ratio})
			shown, _, _ := strings.Cut(u.Text(quantity.Short(v.Thickness, 3)+" mm"), " ")
			names.texts = append(names.texts, shown)
		}
	}
	p.Add(names)
	limit := plotter.NewFunction(func(float64) float64 { return v.Limits.MinStiffnessRatio })
	limit.LineStyle = draw.LineStyle{Color: figureSoft, Width: 1, Dashes: []vg.Length{5, 3}}
	p.Add(limit)
	p.Legend.Add("asked for", limit)
	p.Legend.Top, p.Legend.Left = true, true
	p.Y.Min = 0
	p.Y.Max *= 1.15
	return Figure{
		Title: "Mass against stiffness",
		Alt: fmt.Sprintf("One point a thickness, ringed where no other variant is lighter and as stiff; the dashed line is the ratio asked for, %s. %s.",
			quantity.Short(v.Limits.MinStiffnessRatio, 3), strings.Join(said, "; ")),
		Height: figureWidth / 2,
		Draw:   func(c draw.Canvas) { p.Draw(padded(c)) },
	}, true
}

// variantLine is the variants of one material whose stiffness was found.
type variantLine struct {
	material string
	variants []swap.Variant
}

func variantLines(all []swap.Variant) []variantLine {
	var out []variantLine
	place := map[string]int{}
	for _, v := range all {
		if v.Ratio == nil {
			continue
		}
		i, ok := place[v.Material]
		if !ok {
			i = len(out)
			place[v.Material] = i
			out = append(out, variantLine{material: v.Material})
		}
		out[i].variants = append(out[i].variants, v)
	}
	return out
}

func (l variantLine) addTo(p *plot.Plot, series int, perGram float64, thickness string) error {
	var points, unbeaten plotter.XYs
	for _, v := range l.variants {
		at := plotter.XY{X: v.Mass * perGram, Y: *v.Ratio}
		points = append(points, at)
		if v.Unbeaten {
			unbeaten = append(unbeaten, at)
		}
	}
	line, marks, err := plotter.NewLinePoints(points)
	if err != nil {
		return err
	}
	line.LineStyle = draw.LineStyle{Color: seriesColor(series), Width: 1.2, Dashes: seriesDash(series)}
	marks.GlyphStyle = draw.GlyphStyle{Color: seriesColor(series), Radius: 2.2, Shape: draw.CircleGlyph{}}
	p.Add(line, marks)
	p.Legend.Add(l.material+" (thickness in "+thickness+")", line, marks)
	if len(unbeaten) == 0 {
		return nil
	}
	rings, err := plotter.NewScatter(unbeaten)
	if err != nil {
		return err
	}
	rings.GlyphStyle = draw.GlyphStyle{Color: figureInk, Radius: 4.5, Shape: draw.RingGlyph{}}
	p.Add(rings)
	return nil
}

// pointNames writes a text beside every point that has room for it.
type pointNames struct {
	at    plotter.XYs
	texts []string
}

func (n pointNames) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	style := label(figureSmall, figureInk)
	var taken []vg.Rectangle
	for _, at := range n.at {
		taken = append(taken, around(vg.Point{X: x(at.X), Y: y(at.Y)}, 4))
	}
	// Beyond the right edge there is no paper.
	taken = append(taken, vg.Rectangle{Min: vg.Point{X: c.Max.X, Y: c.Min.Y}, Max: vg.Point{X: c.Max.X + 100, Y: c.Max.Y}})
	for i, text := range n.texts {
		at := leastCovering(taken, i, vg.Point{X: style.Width(text), Y: 7})
		free := !slices.ContainsFunc(taken, func(r vg.Rectangle) bool { return overlap(at, r) > 0 })
		if free {
			taken = append(taken, at)
			c.FillText(style, at.Min, text)
		}
	}
}

func (l variantLine) describe() string {
	said := make([]string, len(l.variants))
	for i, v := range l.variants {
		said[i] = fmt.Sprintf("%s mm weighs %s g at %s", quantity.Short(v.Thickness, 3), quantity.Number(v.Mass, 3), quantity.Number(*v.Ratio, 3))
		if v.Unbeaten {
			said[i] += " (unbeaten)"
		}
	}
	return l.material + ": " + strings.Join(said, ", ")
}
