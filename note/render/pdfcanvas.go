package render

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	"image/png"
	"math"

	"codeberg.org/go-pdf/fpdf"
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"swapworth/note/figure"
)

// pdfCanvas is a vg.Canvas on a rectangle of a PDF page, so that a figure is
// drawn with lines and letters of the page's own fonts. Its page is in mm from the
// upper left corner.
type pdfCanvas struct {
	figure.Pen
	doc *fpdf.Fpdf
}

// newPDFCanvas places a canvas with its upper left corner at (x, y) mm; scale is
// the size on paper over the size drawn.
func newPDFCanvas(doc *fpdf.Fpdf, x, y, h, scale float64) *pdfCanvas {
	k := mmPerInch / ptPerInch * scale
	c := &pdfCanvas{doc: doc}
	c.Nib = figure.Nib{A: k, D: -k, E: x, F: y + h}
	vg.Initialize(c)
	return c
}

// reset puts back what the figure changed for the text that follows.
func (c *pdfCanvas) reset() {
	c.doc.SetDashPattern(nil, 0)
	c.doc.SetAlpha(1, "Normal")
}

func (c *pdfCanvas) apply() {
	r, g, b, a := c.Color.RGBA()
	if a == 0 {
		c.doc.SetAlpha(0, "Normal")
		return
	}
	// RGBA is premultiplied; the page wants the plain colour and the alpha.
	plain := func(v uint32) int { return int(v * 255 / a) }
	c.doc.SetDrawColor(plain(r), plain(g), plain(b))
	c.doc.SetFillColor(plain(r), plain(g), plain(b))
	c.doc.SetTextColor(plain(r), plain(g), plain(b))
	c.doc.SetAlpha(float64(a)/0xffff, "Normal")
}

func (c *pdfCanvas) Stroke(p vg.Path) {
	if c.Width <= 0 {
		return
	}
	c.apply()
	k := c.Stretch()
	c.doc.SetLineWidth(c.Width.Points() * k)
	dash := make([]float64, len(c.Dash))
	for i, d := range c.Dash {
		dash[i] = d.Points() * k
	}
	c.doc.SetDashPattern(dash, c.Offset.Points()*k)
	c.path(p)
	c.doc.DrawPath("D")
}

func (c *pdfCanvas) Fill(p vg.Path) {
	c.apply()
	c.path(p)
	// Even-odd, so that a hole stays open whichever way it is drawn.
	c.doc.DrawPath("F*")
}

func (c *pdfCanvas) path(p vg.Path) {
	for i, comp := range p {
		switch comp.Type {
		case vg.MoveComp:
			c.doc.MoveTo(c.At(comp.Pos))
		case vg.LineComp:
			c.doc.LineTo(c.At(comp.Pos))
		case vg.ArcComp:
			c.arc(comp, i == 0)
		case vg.CurveComp:
			c.curve(comp)
		case vg.CloseComp:
			c.doc.ClosePath()
		}
	}
}

// arc draws a circular arc as chords of at most 3 degrees, which deviate by less
// than 0.04 % of the radius.
func (c *pdfCanvas) arc(comp vg.PathComp, first bool) {
	steps := int(math.Ceil(math.Abs(comp.Angle)/(3*math.Pi/180))) + 1
	for i := range steps + 1 {
		sin, cos := math.Sincos(comp.Start + comp.Angle*float64(i)/float64(steps))
		x, y := comp.Pos.X+comp.Radius*vg.Length(cos), comp.Pos.Y+comp.Radius*vg.Length(sin)
		if px, py := c.At(vg.Point{X: x, Y: y}); first && i == 0 {
			c.doc.MoveTo(px, py)
		} else {
			c.doc.LineTo(px, py)
		}
	}
}

func (c *pdfCanvas) curve(comp vg.PathComp) {
	x, y := c.At(comp.Pos)
	x1, y1 := c.At(comp.Control[0])
	if len(comp.Control) == 1 {
		c.doc.CurveTo(x1, y1, x, y)
		return
	}
	x2, y2 := c.At(comp.Control[1])
	c.doc.CurveBezierCubicTo(x1, y1, x2, y2, x, y)
}

func (c *pdfCanvas) FillString(f font.Face, pt vg.Point, text string) {
	if f.Font.Size == 0 || text == "" {
		return
	}
	style := ""
	if f.Font.Weight >= xfont.WeightBold {
		style = "B"
	}
	c.apply()
	c.doc.SetFont(pdfFamily, style, f.Font.Size.Points()*c.Stretch()/mmPerInch*ptPerInch)
	x, y := c.At(pt)
	c.doc.TransformBegin()
	// The page's y axis points down, the canvas's up.
	c.doc.TransformRotate(math.Atan2(-c.B, c.A)*180/math.Pi, x, y)
	c.doc.Text(x, y, text)
	c.doc.TransformEnd()
}

func (c *pdfCanvas) DrawImage(rect vg.Rectangle, img image.Image) {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		c.doc.SetError(fmt.Errorf("figure: %w", err))
		return
	}
	name := fmt.Sprintf("%x", sha256.Sum256(b.Bytes()))
	options := fpdf.ImageOptions{ImageType: "png"}
	c.doc.RegisterImageOptionsReader(name, options, &b)
	x0, y0 := c.At(rect.Min)
	x1, y1 := c.At(rect.Max)
	c.doc.ImageOptions(name, x0, y0, x1-x0, y1-y0, false, options, 0, "")
}
