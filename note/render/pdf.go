package render

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/sfnt"

	"swapworth/internal/textwrap"
	"swapworth/note/figure"
)

// PDF is the note for A4 paper.
const PDF Format = "pdf"

var pdfKind = kind{
	name: PDF, title: "PDF", extent: pageCount, endings: []string{".pdf"}, media: "application/pdf", drawn: true, paged: true,
	write: func(w io.Writer, p printed) error { return writePDF(w, p.doc) },
}

// pageObject matches the beginning of every page of a PDF.
var pageObject = regexp.MustCompile(`/Type /Page\b`)

func pageCount(pdf []byte) string { return textwrap.Counted(len(pageObject.FindAll(pdf, -1)), "page") }

// Measures of a PDF page: A4 upright with margins that Letter paper keeps too.
const (
	pdfMargin = 18.0 // mm
	pdfCellX  = 1.6  // space beside a table cell, mm
	pdfFamily = "sans"
	mmPerInch = 25.4
	ptPerInch = 72.0
)

// pdfDate stands in for the time of writing, so that the same input gives the
// same bytes.
var pdfDate = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

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

// settings begins with that of an appendix; the closer ones are for a first page that
// must hold all it has to say.
var settings = []setting{{9.5, 4.6, 0.9, 4, 25}, {9, 4.1, 0.45, 2.8, 5}, {8.5, 3.8, 0.3, 2.2, 5}, {8, 3.5, 0.2, 1.8, 5}, {7.5, 3.2, 0.1, 1.4, 5}}

// pdfPage writes blocks one below the other and breaks pages itself.
type pdfPage struct {
	*fpdf.Fpdf
	setting
	width, bottom float64   // text width and lowest line, mm
	level         int       // of the bookmarks
	waiting       []Picture // figures for which their page had no room
}

// writePDF writes the document for A4 paper, with figures as lines.
func writePDF(w io.Writer, doc Document) error {
	doc = mapDocument(doc, inFont)
	p := laidOnPages(doc, settings[0])
	if p.PageNo() > 1 && p.GetY() < pdfMargin+fewLines {
		if q := laidOnPages(doc, slightlyCloser); q.PageNo() < p.PageNo() {
			p = q // no page for the last few lines
		}
	}
	if err := p.Output(w); err != nil {
		return fmt.Errorf("PDF: %w", err)
	}
	return nil
}

// fewLines is how little a last page may hold that closer text does away with, in mm.
const fewLines = 40.0

// slightlyCloser is the setting that does.
var slightlyCloser = setting{body: 9, lead: 4.2, cellY: 0.6, section: 3.2, together: 25}

// laidOnPages lays a document out in a setting.
func laidOnPages(doc Document, s setting) *pdfPage {
	p := newPDFPage(doc.Title)
	p.setting = s
	p.opening(doc)
	if len(doc.Front) > 0 {
		p.front(doc)
		p.AddPage()
		p.SetY(pdfMargin)
		p.heading("Appendix", 15)
		p.level = 1
	}
	for _, b := range doc.Blocks {
		p.block(Bare(b))
	}
	p.release()
	return p
}

// opening writes title and lead.
func (p *pdfPage) opening(doc Document) {
	p.heading(doc.Title, 15)
	for i, l := range doc.Lead {
		size := p.body
		if i == 0 {
			size = 13
		}
		p.leadLine(l, size)
	}
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

// pdfAround is what title and caption of a figure take of a page, in mm.
const pdfAround = 30

// smallestPicture is the share of its size that a figure is drawn at where that saves
// a page break.
const smallestPicture = 0.75

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

// pdfFont is the font of running text, parsed for its table of characters.
var pdfFont = sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(liberationsansregular.TTF) })

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
