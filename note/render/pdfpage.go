package render

import (
	"fmt"
	"strings"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/sfnt"

	"swapworth/internal/textwrap"
)

// ink is a colour of a printed page. The light colours of the HTML page are
// used; pageInk reads them from its style sheet.
type ink struct{ r, g, b int }

// setting is how close text stands.
type setting struct {
	body    float64 // size of running text, points
	lead    float64 // line distance of running text, mm
	cellY   float64 // space above and below a table cell, mm
	section float64 // space above a heading, mm
	// together is what a heading keeps of a page for what it heads, mm.
	together float64
}

// pdfPage writes blocks one below the other and breaks pages itself.
type pdfPage struct {
	*fpdf.Fpdf
	setting
	width, bottom float64   // text width and lowest line, mm
	level         int       // of the bookmarks
	waiting       []Picture // figures for which their page had no room
}

func newPDFPage(title string) *pdfPage {
	f := fpdf.New("P", "mm", "A4", "")
	f.SetCatalogSort(true)
	f.SetCreationDate(pdfDate)
	f.SetModificationDate(pdfDate)
	f.SetTitle(title, true)
	f.SetCreator("swapworth", true)
	f.SetLang("en")
	f.AddUTF8FontFromBytes(pdfFamily, "", liberationsansregular.TTF)
	f.AddUTF8FontFromBytes(pdfFamily, "B", liberationsansbold.TTF)
	f.SetMargins(pdfMargin, pdfMargin, pdfMargin)
	f.SetCellMargin(0)
	f.SetAutoPageBreak(false, 0)
	f.AliasNbPages("{pages}")
	width, height := f.GetPageSize()
	p := &pdfPage{Fpdf: f, setting: settings[0], width: width - 2*pdfMargin, bottom: height - pdfMargin}
	f.SetFooterFunc(func() { p.footer(title) })
	f.AddPage()
	return p
}

func (p *pdfPage) footer(title string) {
	p.text(7.5, "", pageInk("soft"))
	p.SetXY(pdfMargin, p.bottom+5)
	p.CellFormat(p.width-30, 4, p.fit(title, p.width-30), "", 0, "L", false, 0, "")
	p.CellFormat(30, 4, fmt.Sprintf("page %d of {pages}", p.PageNo()), "", 0, "R", false, 0, "")
}

// fit shortens text to one line of the given width in mm.
func (p *pdfPage) fit(s string, width float64) string {
	if lines := p.lines(s, width); len(lines) > 1 {
		return lines[0]
	}
	return s
}

// lines breaks text in the current font into lines of at most the width in mm.
func (p *pdfPage) lines(s string, width float64) []string {
	return textwrap.In(s, width, p.GetStringWidth)
}

func (p *pdfPage) text(size float64, style string, c ink) {
	p.SetFont(pdfFamily, style, size)
	p.SetTextColor(c.r, c.g, c.b)
}

// room starts a new page unless height mm are left on this one.
func (p *pdfPage) room(height float64) {
	if p.GetY()+height > p.bottom {
		p.AddPage()
		p.SetY(pdfMargin)
	}
}

// inFont replaces every character that the font cannot show.
func inFont(s string) string {
	f, err := pdfFont()
	if err != nil {
		return s
	}
	var b sfnt.Buffer
	return strings.Map(func(r rune) rune {
		if g, err := f.GlyphIndex(&b, r); err != nil || g == 0 || r > 0xffff {
			return '?'
		}
		return r
	}, s)
}

func toneInk(t Tone) ink {
	if t == Plain {
		return pageInk("ink")
	}
	return pageInk(t.name())
}
