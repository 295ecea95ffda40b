package figure

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html"
	"image"
	"image/color"
	"image/png"
	"math"
	"strconv"
	"strings"

	xfont "golang.org/x/image/font"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// SVG draws the figure as an SVG picture that stands alone.
func (f Figure) SVG() ([]byte, error) {
	width, height := f.Size()
	head := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%[1]spt" height="%[2]spt" viewBox="0 0 %[1]s %[2]s">`+"\n<title>%[3]s</title>\n",
		short(width.Points()), short(height.Points()), html.EscapeString(f.Title))
	return f.svg(head, false)
}

// Inline draws the figure as an SVG element of a page, named by its title. Its
// colours are those of the page's theme, which Style sets.
func (f Figure) Inline() ([]byte, error) {
	width, height := f.Size()
	head := fmt.Sprintf(`<svg class="figure" role="img" aria-label="%[3]s" width="%[1]s" height="%[2]s" viewBox="0 0 %[1]s %[2]s">`+"\n",
		short(width.Points()), short(height.Points()), html.EscapeString(f.Title))
	return f.svg(head, true)
}

func (f Figure) svg(head string, themed bool) ([]byte, error) {
	width, height := f.Size()
	c := &svgCanvas{themed: themed}
	c.Nib = Nib{A: 1, D: -1, F: height.Points()}
	c.out.WriteString(head)
	// The font of all text; a machine without it shows another sans serif.
	c.out.WriteString(`<g font-family="Liberation Sans,Arial,Helvetica,sans-serif">` + "\n")
	vg.Initialize(c)
	f.Draw(draw.Canvas{Canvas: c, Rectangle: vg.Rectangle{Max: vg.Point{X: width, Y: height}}})
	c.out.WriteString("</g>\n</svg>\n")
	return c.out.Bytes(), c.err
}

// svgCanvas is a vg.Canvas that writes SVG with as few bytes as a picture needs:
// steps from point to point, in hundredths of a point.
type svgCanvas struct {
	Pen
	themed bool
	out    bytes.Buffer
	err    error
}

// paint returns the attributes for the present colour: a class where the page knows
// it by name, else the colour itself.
func (c *svgCanvas) paint(what string) string {
	n := color.NRGBAModel.Convert(c.Color).(color.NRGBA)
	opacity := ""
	if n.A != 0xff {
		opacity = fmt.Sprintf(` %s-opacity="%s"`, what, short(float64(n.A)/0xff))
	}
	if name := themeName(n); c.themed && name != "" {
		return fmt.Sprintf(` class="%c-%s"%s`, what[0], name, opacity)
	}
	return fmt.Sprintf(` %s="#%02x%02x%02x"%s`, what, n.R, n.G, n.B, opacity)
}

func (c *svgCanvas) Stroke(p vg.Path) {
	if c.Width <= 0 {
		return
	}
	k := c.Stretch()
	dash := ""
	if len(c.Dash) > 0 {
		var all []string
		for _, d := range c.Dash {
			all = append(all, short(d.Points()*k))
		}
		dash = fmt.Sprintf(` stroke-dasharray="%s"`, strings.Join(all, " "))
		if c.Offset != 0 {
			dash += fmt.Sprintf(` stroke-dashoffset="%s"`, short(c.Offset.Points()*k))
		}
	}
	fmt.Fprintf(&c.out, `<path fill="none"%s stroke-width="%s"%s d="%s"/>`+"\n", c.paint("stroke"), short(c.Width.Points()*k), dash, c.steps(p))
}

// Fill fills by the even-odd rule, so that a hole stays open whichever way it is
// drawn.
func (c *svgCanvas) Fill(p vg.Path) {
	rule := ""
	if len(p) > 0 && closings(p) > 1 {
		rule = ` fill-rule="evenodd"`
	}
	fmt.Fprintf(&c.out, `<path%s%s d="%s"/>`+"\n", c.paint("fill"), rule, c.steps(p))
}

func closings(p vg.Path) (n int) {
	for _, comp := range p {
		if comp.Type == vg.MoveComp {
			n++
		}
	}
	return n
}

func (c *svgCanvas) FillString(f font.Face, pt vg.Point, text string) {
	if f.Font.Size == 0 || text == "" {
		return
	}
	x, y := c.At(pt)
	place := fmt.Sprintf(`x="%s" y="%s"`, short(x), short(y))
	if turn := math.Atan2(-c.B, c.A) * 180 / math.Pi; math.Abs(turn) > 1e-9 {
		place = fmt.Sprintf(`transform="translate(%s %s) rotate(%s)"`, short(x), short(y), short(-turn))
	}
	bold := ""
	if f.Font.Weight >= xfont.WeightBold {
		bold = ` font-weight="bold"`
	}
	fmt.Fprintf(&c.out, `<text %s font-size="%s"%s%s>%s</text>`+"\n", place, short(f.Font.Size.Points()*c.Stretch()), bold, c.paint("fill"), html.EscapeString(text))
}

func (c *svgCanvas) DrawImage(rect vg.Rectangle, img image.Image) {
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		c.err = fmt.Errorf("figure: %w", err)
		return
	}
	x, y := c.At(vg.Point{X: rect.Min.X, Y: rect.Max.Y})
	size := rect.Size()
	k := c.Stretch()
	fmt.Fprintf(&c.out, `<image x="%s" y="%s" width="%s" height="%s" href="data:image/png;base64,%s"/>`+"\n",
		short(x), short(y), short(size.X.Points()*k), short(size.Y.Points()*k), base64.StdEncoding.EncodeToString(b.Bytes()))
}

// steps writes a path, every point as the step from the last one.
func (c *svgCanvas) steps(p vg.Path) string {
	var w stepper
	for i, comp := range p {
		x, y := c.At(comp.Pos)
		switch comp.Type {
		case vg.MoveComp:
			w.move(x, y)
		case vg.LineComp:
			w.line(x, y)
		case vg.ArcComp:
			c.arc(&w, comp, i == 0)
		case vg.CurveComp:
			c.curve(&w, comp)
		case vg.CloseComp:
			w.close()
		}
	}
	return w.b.String()
}

// arc draws a circular arc in halves, since one with its ends together is nothing.
func (c *svgCanvas) arc(w *stepper, comp vg.PathComp, first bool) {
	at := func(angle float64) (float64, float64) {
		sin, cos := math.Sincos(angle)
		return c.At(vg.Point{X: comp.Pos.X + comp.Radius*vg.Length(cos), Y: comp.Pos.Y + comp.Radius*vg.Length(sin)})
	}
	if x, y := at(comp.Start); first {
		w.move(x, y)
	} else {
		w.line(x, y)
	}
	sweep := 0 // counterclockwise on the canvas and, its y axis pointing up, on the page
	if comp.Angle < 0 {
		sweep = 1
	}
	for i := 1; i <= 2; i++ {
		x, y := at(comp.Start + comp.Angle*float64(i)/2)
		w.arc(comp.Radius.Points()*c.Stretch(), sweep, x, y)
	}
}

func (c *svgCanvas) curve(w *stepper, comp vg.PathComp) {
	var all []float64
	for _, pt := range append(comp.Control, comp.Pos) {
		x, y := c.At(pt)
		all = append(all, x, y)
	}
	letter := "c"
	if len(comp.Control) == 1 {
		letter = "q"
	}
	w.curve(letter, all)
}

// stepper writes path data. x and y are where the pen stands, in hundredths of a
// point as they were written, so that rounding does not add up.
type stepper struct {
	b      strings.Builder
	x, y   int
	x0, y0 int  // where the outline began
	lines  bool // the last command was a line, which need not be named again
}

func hundredths(v float64) int { return int(math.Round(100 * v)) }

func (w *stepper) to(x, y float64) (dx, dy int) {
	nx, ny := hundredths(x), hundredths(y)
	dx, dy = nx-w.x, ny-w.y
	w.x, w.y = nx, ny
	return dx, dy
}

func (w *stepper) pair(dx, dy int) {
	a, b := hundred(dx), hundred(dy)
	w.b.WriteString(a)
	if b[0] != '-' {
		w.b.WriteByte(' ')
	}
	w.b.WriteString(b)
}

func (w *stepper) move(x, y float64) {
	w.b.WriteByte('m')
	w.pair(w.to(x, y))
	w.x0, w.y0, w.lines = w.x, w.y, true // a pair after a move is a line
}

func (w *stepper) line(x, y float64) {
	dx, dy := w.to(x, y)
	switch {
	case dx == 0 && dy == 0:
	case dy == 0:
		w.b.WriteString("h" + hundred(dx))
		w.lines = false
	case dx == 0:
		w.b.WriteString("v" + hundred(dy))
		w.lines = false
	default:
		if !w.lines {
			w.b.WriteByte('l')
		} else if dx >= 0 {
			w.b.WriteByte(' ')
		}
		w.pair(dx, dy)
		w.lines = true
	}
}

func (w *stepper) arc(radius float64, sweep int, x, y float64) {
	dx, dy := w.to(x, y)
	fmt.Fprintf(&w.b, "a%[1]s %[1]s 0 0 %d ", short(radius), sweep)
	w.pair(dx, dy)
	w.lines = false
}

func (w *stepper) curve(letter string, all []float64) {
	w.b.WriteString(letter)
	for i := 0; i < len(all); i += 2 {
		if i > 0 {
			w.b.WriteByte(' ')
		}
		w.pair(hundredths(all[i])-w.x, hundredths(all[i+1])-w.y)
	}
	w.to(all[len(all)-2], all[len(all)-1])
	w.lines = false
}

func (w *stepper) close() {
	w.b.WriteByte('z')
	w.x, w.y, w.lines = w.x0, w.y0, false
}

// hundred writes hundredths without what needs no byte.
func hundred(n int) string { return short(float64(n) / 100) }

// short writes a number with at most two decimals and no zero before its point.
func short(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	switch {
	case s == "-0" || s == "":
		return "0"
	case strings.HasPrefix(s, "0."):
		return s[1:]
	case strings.HasPrefix(s, "-0."):
		return "-" + s[2:]
	}
	return s
}
