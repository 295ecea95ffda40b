package figure

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// Pen is what canvases of a picture's own formats share: how the next line is drawn
// and where. A point (x, y) of the canvas, in points from its lower left corner, lies
// at (A x + C y + E, B x + D y + F) on the page.
type Pen struct {
	Nib
	stack []Nib
}

// Nib is the state of a pen that Push keeps and Pop brings back.
type Nib struct {
	A, B, C, D, E, F float64
	Width            vg.Length
	Dash             []vg.Length
	Offset           vg.Length
	Color            color.Color
}

// SetLineWidth sets the width of lines.
func (p *Pen) SetLineWidth(w vg.Length) { p.Width = w }

// SetLineDash sets the lengths of dashes and gaps in turn.
func (p *Pen) SetLineDash(pattern []vg.Length, offset vg.Length) { p.Dash, p.Offset = pattern, offset }

// SetColor sets the colour; nil is black.
func (p *Pen) SetColor(c color.Color) {
	if c == nil {
		c = color.Black
	}
	p.Color = c
}

// Rotate turns what follows about the origin, counterclockwise.
func (p *Pen) Rotate(rad float64) {
	sin, cos := math.Sincos(rad)
	p.multiply(cos, sin, -sin, cos, 0, 0)
}

// Translate moves the origin.
func (p *Pen) Translate(pt vg.Point) { p.multiply(1, 0, 0, 1, pt.X.Points(), pt.Y.Points()) }

// Scale stretches what follows.
func (p *Pen) Scale(x, y float64) { p.multiply(x, 0, 0, y, 0, 0) }

// multiply puts a transform before the present one.
func (p *Pen) multiply(a, b, c, d, e, f float64) {
	s := p.Nib
	p.A, p.B = s.A*a+s.C*b, s.B*a+s.D*b
	p.C, p.D = s.A*c+s.C*d, s.B*c+s.D*d
	p.E, p.F = s.A*e+s.C*f+s.E, s.B*e+s.D*f+s.F
}

// Push keeps the state.
func (p *Pen) Push() { p.stack = append(p.stack, p.Nib) }

// Pop brings back what the last Push kept.
func (p *Pen) Pop() {
	p.Nib = p.stack[len(p.stack)-1]
	p.stack = p.stack[:len(p.stack)-1]
}

// At is where a point of the canvas lies on the page.
func (n Nib) At(pt vg.Point) (x, y float64) {
	return n.A*pt.X.Points() + n.C*pt.Y.Points() + n.E, n.B*pt.X.Points() + n.D*pt.Y.Points() + n.F
}

// Stretch is the mean scale of the transform.
func (n Nib) Stretch() float64 { return math.Sqrt(math.Abs(n.A*n.D - n.B*n.C)) }
