package render

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"

	"codeberg.org/go-pdf/fpdf"
	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// pdfCanvas is a vg.Canvas on a rectangle of a PDF page, so that a figure is
// drawn with lines and letters of the page's own fonts. It keeps the transform
// itself: a point (x, y) of the canvas, in points from the lower left corner,
// lies at matrix * (x, y, 1) on the page, in mm from the upper left corner.
type pdfCanvas struct {
	doc   *fpdf.Fpdf
	state pdfState
	stack []pdfState
}

type pdfState struct {
	a, b, c, d, e, f float64 // x' = a x + c y + e, y' = b x + d y + f
	width            vg.Length
	dash             []vg.Length
	offset           vg.Length
	color            color.Color
}

// newPDFCanvas places a canvas with its upper left corner at (x, y) mm; scale is
// the size on paper over the size drawn.
func newPDFCanvas(doc *fpdf.Fpdf, x, y, w, h, scale float64) *pdfCanvas {
	k := mmPerInch / ptPerInch * scale
	c := &pdfCanvas{doc: doc, state: pdfState{a: k, d: -k, e: x, f: y + h}}
	vg.Initialize(c)
	return c
}

// reset puts back what the figure changed for the text that follows.
func (c *pdfCanvas) reset() {
	c.doc.SetDashPattern(nil, 0)
	c.doc.SetAlpha(1, "Normal")
}

func (c *pdfCanvas) SetLineWidth(w vg.Length) { c.state.width = w }

func (c *pdfCanvas) SetLineDash(pattern []vg.Length, offset vg.Length) {
	c.state.dash, c.state.offset = pattern, offset
}

func (c *pdfCanvas) SetColor(clr color.Color) {
	if clr == nil {
		clr = color.Black
	}
	c.state.color = clr
}

// multiply puts a transform before the present one.
func (c *pdfCanvas) multiply(a, b, cc, d, e, f float64) {
	s := c.state
	c.state.a, c.state.b = s.a*a+s.c*b, s.b*a+s.d*b
	c.state.c, c.state.d = s.a*cc+s.c*d, s.b*cc+s.d*d
	c.state.e, c.state.f = s.a*e+s.c*f+s.e, s.b*e+s.d*f+s.f
}

func (c *pdfCanvas) Rotate(rad float64) {
	sin, cos := math.Sincos(rad)
	c.multiply(cos, sin, -sin, cos, 0, 0)
}

func (c *pdfCanvas) Translate(pt vg.Point) {
	c.multiply(1, 0, 0, 1, pt.X.Points(), pt.Y.Points())
}

func (c *pdfCanvas) Scale(x, y float64) { c.multiply(x, 0, 0, y, 0, 0) }

func (c *pdfCanvas) Push() { c.stack = append(c.stack, c.state) }

func (c *pdfCanvas) Pop() {
	c.state = c.stack[len(c.stack)-1]
	c.stack = c.stack[:len(c.stack)-1]
}

func (s pdfState) at(x, y float64) (float64, float64) {
	return s.a*x + s.c*y + s.e, s.b*x + s.d*y + s.f
}

// scale is the mean stretch of the transform, mm per point.
func (s pdfState) scale() float64 { return math.Sqrt(math.Abs(s.a*s.d - s.b*s.c)) }

func (c *pdfCanvas) apply() {
	r, g, b, a := c.state.color.RGBA()
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
	if c.state.width <= 0 {
		return
	}
	c.apply()
	k := c.state.scale()
	c.doc.SetLineWidth(c.state.width.Points() * k)
	dash := make([]float64, len(c.state.dash))
	for i, d := range c.state.dash {
		dash[i] = d.Points() * k
	}
	c.doc.SetDashPattern(dash, c.state.offset.Points()*k)
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
			c.doc.MoveTo(c.state.at(comp.Pos.X.Points(), comp.Pos.Y.Points()))
		case vg.LineComp:
			c.doc.LineTo(c.state.at(comp.Pos.X.Points(), comp.Pos.Y.Points()))
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
		if px, py := c.state.at(x.Points(), y.Points()); first && i == 0 {
			c.doc.MoveTo(px, py)
		} else {
			c.doc.LineTo(px, py)
		}
	}
}

func (c *pdfCanvas) curve(comp vg.PathComp) {
	x, y := c.state.at(comp.Pos.X.Points(), comp.Pos.Y.Points())
	x1, y1 := c.state.at(comp.Control[0].X.Points(), comp.Control[0].Y.Points())
	if len(comp.Control) == 1 {
		c.doc.CurveTo(x1, y1, x, y)
		return
	}
	x2, y2 := c.state.at(comp.Control[1].X.Points(), comp.Control[1].Y.Points())
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
	c.doc.SetFont(pdfFamily, style, f.Font.Size.Points()*c.state.scale()/mmPerInch*ptPerInch)
	x, y := c.state.at(pt.X.Points(), pt.Y.Points())
	c.doc.TransformBegin()
	// The page's y axis points down, the canvas's up.
	c.doc.TransformRotate(math.Atan2(-c.state.b, c.state.a)*180/math.Pi, x, y)
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
	x0, y0 := c.state.at(rect.Min.X.Points(), rect.Max.Y.Points())
	x1, y1 := c.state.at(rect.Max.X.Points(), rect.Min.Y.Points())
	c.doc.ImageOptions(name, x0, y0, x1-x0, y1-y0, false, options, 0, "")
}
