package figure

import (
	"bytes"
	"fmt"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
)

// The default size of a figure fills the text width of an A4 or Letter page.
const (
	figureWidth  = 170 * vg.Millimeter
	figureHeight = figureWidth * 2 / 3
)

// Figure is a drawing with the text that stands in for it where it cannot be
// seen. Draw paints it onto any canvas of gonum/plot, so that a page gets SVG
// and a printed page gets the same lines; the terminal, CSV and paste leave the
// picture out. Width and Height are in points; zero means the width of a page and
// two thirds of that.
type Figure struct {
	Title         string
	Alt           string
	Width, Height vg.Length
	Draw          func(draw.Canvas)
}

// Size returns the width and height of the figure, in points.
func (f Figure) Size() (width, height vg.Length) {
	width, height = f.Width, f.Height
	if width <= 0 {
		width = figureWidth
	}
	if height <= 0 {
		height = width * 2 / 3
	}
	return width, height
}

// PNG draws the figure as a PNG picture with the given dots per inch.
func (f Figure) PNG(dpi int) ([]byte, error) {
	width, height := f.Size()
	c := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(dpi))
	f.Draw(draw.New(c))
	var b bytes.Buffer
	if _, err := (vgimg.PngCanvas{Canvas: c}).WriteTo(&b); err != nil {
		return nil, fmt.Errorf("figure %q: %w", f.Title, err)
	}
	return b.Bytes(), nil
}
