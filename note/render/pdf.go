package render

import (
	"fmt"
	"io"
	"regexp"
	"sync"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font/sfnt"

	"swapworth/internal/textwrap"
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

// settings begins with that of an appendix; the closer ones are for a first page that
// must hold all it has to say.
var settings = []setting{{9.5, 4.6, 0.9, 4, 25}, {9, 4.1, 0.45, 2.8, 5}, {8.5, 3.8, 0.3, 2.2, 5}, {8, 3.5, 0.2, 1.8, 5}, {7.5, 3.2, 0.1, 1.4, 5}}

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

// pdfAround is what title and caption of a figure take of a page, in mm.
const pdfAround = 30

// smallestPicture is the share of its size that a figure is drawn at where that saves
// a page break.
const smallestPicture = 0.75

// pdfFont is the font of running text, parsed for its table of characters.
var pdfFont = sync.OnceValues(func() (*sfnt.Font, error) { return sfnt.Parse(liberationsansregular.TTF) })
