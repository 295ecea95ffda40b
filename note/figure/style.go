package figure

import (
	"image/color"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Colours of figures, on white. Series colours keep a contrast of at least 4.5
// to the paper and stay apart from each other for every common kind of colour
// blindness; the tests measure both. No meaning rests on colour alone: series
// also differ in dashes and are named in words.
var (
	figureInk   = color.NRGBA{0x1c, 0x27, 0x33, 0xff}
	figureSoft  = color.NRGBA{0x5a, 0x65, 0x70, 0xff}
	figureGrid  = color.NRGBA{0xd5, 0xda, 0xde, 0xff}
	figurePaper = color.NRGBA{0xff, 0xff, 0xff, 0xff}

	// seriesColors: the stock part first, then redesigns.
	seriesColors = []color.NRGBA{
		{0xb8, 0x45, 0x10, 0xff}, // rust
		{0x0b, 0x5f, 0x8a, 0xff}, // slate blue
		{0x32, 0x1c, 0x4c, 0xff}, // aubergine
		{0xc0, 0x3a, 0xb0, 0xff}, // orchid
	}
	seriesDashes = [][]vg.Length{nil, {6, 2.5}, {1.5, 2}, {7, 2, 1.5, 2}}
)

// seriesColor returns the colour of the i-th series; further ones repeat.
func seriesColor(i int) color.NRGBA { return seriesColors[i%len(seriesColors)] }

func seriesDash(i int) []vg.Length { return seriesDashes[i%len(seriesDashes)] }

// tinted is a colour at a fraction of its strength, for areas.
func tinted(c color.NRGBA, alpha float64) color.NRGBA {
	c.A = uint8(alpha*255 + 0.5)
	return c
}

const (
	figureText  = 9 * vg.Length(1) // points
	figureSmall = 8 * vg.Length(1)
)

// label returns the style of figure text: Liberation Sans, as on the pages.
func label(size vg.Length, c color.Color) text.Style {
	return text.Style{
		Color:   c,
		Font:    font.Font{Typeface: "Liberation", Variant: "Sans", Size: size},
		XAlign:  text.XLeft,
		YAlign:  text.YBottom,
		Handler: plot.DefaultTextHandler,
	}
}

func boldLabel(size vg.Length, c color.Color) text.Style {
	s := label(size, c)
	s.Font.Weight = xfont.WeightBold
	return s
}

// newPlot returns an empty chart in the style of the notes.
func newPlot(x, y string) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = figurePaper
	p.X.Label.Text, p.Y.Label.Text = x, y
	p.Legend.TextStyle, p.Legend.Padding = label(figureText, figureInk), 2
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		rotation := a.Label.TextStyle.Rotation
		position := a.Label.TextStyle
		a.Label.TextStyle = label(figureText, figureInk)
		a.Label.TextStyle.Rotation = rotation
		a.Label.TextStyle.XAlign, a.Label.TextStyle.YAlign = position.XAlign, position.YAlign
		ticks := a.Tick.Label
		a.Tick.Label = label(figureSmall, figureSoft)
		a.Tick.Label.XAlign, a.Tick.Label.YAlign = ticks.XAlign, ticks.YAlign
		a.LineStyle = draw.LineStyle{Color: figureSoft, Width: 0.6}
		a.Tick.LineStyle = a.LineStyle
	}
	return p
}

// stroke draws one polyline.
func stroke(c draw.Canvas, style draw.LineStyle, points ...vg.Point) {
	if len(points) > 1 {
		c.StrokeLines(style, points)
	}
}
