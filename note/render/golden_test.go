package render

import (
	"bytes"
	"image/color"
	"math"
	"testing"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/internal/golden"
	"swapworth/materials"
	"swapworth/note/figure"
)

// sample holds every kind of block and the texts that trip renderers.
func sample() Document {
	return Document{
		Title: "Sample note",
		Lead: []Line{
			{"Verdict: check first", Caution},
			{"Because the stock part was said to be steel, but its weight of 64.8 g over 23.6 cm3 says aluminium.", Bad},
		},
		Blocks: []Block{
			Table{Title: "Both parts", Header: []string{"", "old", "new", "change"}, Rows: [][]string{
				{"mass, g", "64.8", "41.2", "-36.4 %"},
				{"material", "said: S235; weighed: aluminium of some alloy", "7075-T6", ""},
				{"file", "a|b_c*.stl", "=cmd<script>.stl", "-"},
			}},
			Lines{Title: "Criteria", Lines: []Line{{"stiffness ratio at least 0.9: met", Good}}},
			List{Title: "What to check first", Ordered: true, Items: []string{"weigh the part", "# of bolts"}},
			List{Title: "Cautions", Items: []string{"An estimate, not a proof."}},
			Picture{Figure: figure.Figure{Title: "A plate", Alt: "A plate of 120 by 70 mm seen from above.", Width: 300, Height: 120, Draw: drawPlate}},
			Detail{Table{Title: "Inputs", Header: []string{"file", "SHA-256"}, Rows: [][]string{
				{"old.stl", "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"},
			}, Align: "ll"}},
		},
	}
}

// drawPlate uses what a figure may use: filled and stroked paths with holes,
// arcs, dashes, turned text and half-transparent colours.
func drawPlate(c draw.Canvas) {
	var p vg.Path
	p.Move(c.Min)
	p.Line(vg.Point{X: c.Max.X, Y: c.Min.Y})
	p.Line(c.Max)
	p.Line(vg.Point{X: c.Min.X, Y: c.Max.Y})
	p.Close()
	p.Move(vg.Point{X: 60, Y: 60})
	p.Arc(vg.Point{X: 50, Y: 60}, 10, 0, -2*math.Pi)
	p.Close()
	c.SetColor(color.NRGBA{R: 10, G: 90, B: 120, A: 90})
	c.Fill(p)
	c.SetColor(color.Black)
	c.SetLineStyle(draw.LineStyle{Color: color.Black, Width: 1, Dashes: []vg.Length{4, 2}})
	c.Stroke(p)
	style := text.Style{Color: color.Black, Font: font.Font{Typeface: "Liberation", Variant: "Sans", Size: 12}, Handler: plot.DefaultTextHandler}
	c.FillText(style, vg.Point{X: 100, Y: 50}, "70 mm")
	style.Rotation = math.Pi / 2
	c.FillText(style, vg.Point{X: 200, Y: 30}, "120 mm")
}

// sampleResult holds every kind of value that a result may have.
var sampleResult any = struct {
	Verdict  string           `json:"verdict"`
	Mass     materials.Range  `json:"mass_g"`
	Unknown  *materials.Range `json:"unknown"`
	Broken   float64          `json:"broken"`
	Values   [3]float64       `json:"values"`
	Warnings []string         `json:"warnings"`
	Met      map[string]bool  `json:"met"`
}{
	"check first", materials.Range{Low: 61.9, Nominal: 64.5, High: 67.25}, nil, math.NaN(),
	[3]float64{1e-9, -0.5, 1234567.125}, nil, map[string]bool{"b": true, "a": false},
}

// rendered returns the bytes of a document; for JSON those of a result.
func rendered(t *testing.T, f Format, d Document, result ...any) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Render(&b, f, false, append(result, sampleResult)[0], d); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestEveryFormatOfTheSampleIsAsLookedAt(t *testing.T) {
	for _, f := range All() {
		golden.Check(t, "sample_"+string(f)+f.Extension(), rendered(t, f, sample()))
	}
}
