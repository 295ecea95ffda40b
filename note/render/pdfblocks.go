package render

import (
	"fmt"
	"slices"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swapworth/note/figure"
)

// paragraph writes wrapped text in the current font, from indent mm on.
func (p *pdfPage) paragraph(s string, indent, lead float64) {
	for _, line := range p.lines(s, p.width-indent) {
		p.room(lead)
		p.SetX(pdfMargin + indent)
		p.CellFormat(p.width-indent, lead, line, "", 1, "L", false, 0, "")
	}
}

func (p *pdfPage) heading(title string, size float64) {
	if title == "" {
		return
	}
	// A heading stays with the first lines of what it heads.
	p.room(p.together)
	p.text(size, "B", pageInk("ink"))
	p.Bookmark(title, p.level, -1) // the outline that a reader shows beside the pages
	p.paragraph(title, 0, size*0.5)
	p.Ln(1)
}

func (p *pdfPage) leadLine(l Line, size float64) {
	style := ""
	if size > p.body {
		style = "B"
	}
	p.text(size, style, toneInk(l.Tone))
	p.paragraph(l.Text, 0, size*0.48)
	p.Ln(1)
}

func (p *pdfPage) block(b Block) {
	switch b := b.(type) {
	case Table:
		p.section(b.heading())
		p.table(b)
	case Lines:
		if len(b.Lines) == 0 {
			return
		}
		p.section(b.Title)
		for _, l := range b.Lines {
			p.leadLine(l, p.body)
		}
	case List:
		if len(b.Items) == 0 {
			return
		}
		p.section(b.Title)
		for i, item := range b.Items {
			p.item(i, item, b.Ordered)
		}
	case Beside:
		for _, one := range b {
			p.block(one)
		}
	case Picture:
		if !p.picture(b) {
			p.waiting = append(p.waiting, b) // what follows fills the page first
		}
		return
	}
	// A page may have begun meanwhile that has room for figures that wait.
	p.waiting = slices.DeleteFunc(p.waiting, p.picture)
}

func (p *pdfPage) section(title string) {
	p.Ln(p.setting.section)
	p.heading(title, p.body+2)
}

func (p *pdfPage) item(i int, text string, ordered bool) {
	mark := "\u2022"
	if ordered {
		mark = fmt.Sprintf("%d.", i+1)
	}
	p.text(p.body, "", pageInk("ink"))
	p.room(p.lead)
	p.SetX(pdfMargin)
	p.CellFormat(6, p.lead, mark, "", 0, "L", false, 0, "")
	p.paragraph(text, 6, p.lead)
	p.Ln(0.6)
}

// picture draws a figure with title and caption if the page has room for it.
func (p *pdfPage) picture(b Picture) bool {
	_, h := p.figureSize(b.Figure)
	scale := min(1, (p.bottom-p.GetY()-pdfAround)/h)
	if scale < smallestPicture {
		return false
	}
	p.section(b.Title)
	p.figure(b.Figure, scale)
	return true
}

// figureSize is the size on paper, in mm: that of the figure, or less to fit.
func (p *pdfPage) figureSize(f figure.Figure) (w, h float64) {
	width, height := f.Size()
	w, h = width.Points()/ptPerInch*mmPerInch, height.Points()/ptPerInch*mmPerInch
	scale := min(1, p.width/w, (p.bottom-pdfMargin-pdfAround)/h)
	return w * scale, h * scale
}

// figure draws a figure at a share of its size.
func (p *pdfPage) figure(f figure.Figure, share float64) {
	width, _ := f.Size()
	w, h := p.figureSize(f)
	top := p.GetY()
	p.draw(f, pdfMargin, top, share*w/(width.Points()/ptPerInch*mmPerInch))
	p.SetY(top + share*h + 1)
	p.text(8, "", pageInk("soft"))
	p.paragraph(f.Alt, 0, 3.9)
}

// draw paints a figure with its upper left corner at a place, in mm.
func (p *pdfPage) draw(f figure.Figure, x, y, share float64) {
	width, height := f.Size()
	c := newPDFCanvas(p.Fpdf, x, y, share*height.Points()/ptPerInch*mmPerInch, share)
	f.Draw(draw.Canvas{Canvas: c, Rectangle: vg.Rectangle{Max: vg.Point{X: width, Y: height}}})
	c.reset()
}

// release draws the figures that wait, on pages of their own where need be.
func (p *pdfPage) release() {
	for _, b := range p.waiting {
		if !p.picture(b) {
			p.AddPage()
			p.SetY(pdfMargin)
			p.picture(b)
		}
	}
	p.waiting = nil
}
