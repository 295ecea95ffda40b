package render

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"swapworth/note/figure"
)

// HTML is one self-contained page.
const HTML Format = "html"

var htmlKind = kind{
	name: HTML, title: "HTML page", endings: []string{".html", ".htm"}, media: "text/html; charset=utf-8", drawn: true, paged: true,
	write: func(w io.Writer, p printed) error { return writeHTML(w, p.doc) },
}

//go:embed page.html
var pageSource string

//go:embed page.css
var pageStyle string

var pageTemplate = template.Must(template.New("note").Funcs(template.FuncMap{"tone": Tone.name}).Parse(pageSource))

// name is the word for a tone in a style sheet.
func (t Tone) name() string {
	return [...]string{"plain", "good", "caution", "bad"}[t]
}

// page is a document laid out for the HTML template.
type page struct {
	Title    string
	Lead     []Line
	Front    []pageSection // empty where there is no first page
	Sections []pageSection
	Style    template.CSS
}

type pageSection struct {
	ID, Title string
	Front     bool // of the first page; the appendix may have a landmark of the same name
	Table     *pageTable
	Lines     []Line
	Items     []string
	Ordered   bool
	Figures   []pageFigure
}

type pageTable struct {
	Header []pageCell
	Rows   [][]pageCell
}

type pageCell struct {
	Text  string
	Right bool
	Long  bool // holds a word, such as a hash, that may be broken anywhere
}

// Class is the cell's class in the style sheet.
func (c pageCell) Class() string {
	switch {
	case c.Long:
		return "long"
	case c.Right:
		return "r"
	}
	return ""
}

type pageFigure struct {
	SVG            template.HTML
	Title, Caption string
	Narrow         bool // stands beside others
}

// writeHTML writes one page that needs nothing from anywhere: style and figures
// are inside, and there is no script.
func writeHTML(w io.Writer, doc Document) error {
	p, err := newPage(doc)
	if err != nil {
		return err
	}
	return pageTemplate.ExecuteTemplate(w, "page", p)
}

// HTMLFragment returns the headings, tables and figures of the document as they
// stand inside the body of its HTML page, for a page that shows more around
// them. PageStyle is the style sheet that goes with it. The names of its sections
// begin with a prefix, so that two documents may stand on one page.
func HTMLFragment(doc Document, prefix string) (template.HTML, error) {
	p, err := newPage(laidOut(htmlKind, doc))
	if err != nil {
		return "", err
	}
	for i := range p.Sections {
		if p.Sections[i].ID != "" {
			p.Sections[i].ID = prefix + p.Sections[i].ID
		}
	}
	var b bytes.Buffer
	if err := pageTemplate.ExecuteTemplate(&b, "document", p); err != nil {
		return "", err
	}
	return template.HTML(b.String()), nil // escaped by the template above
}

// PageStyle is the style sheet of the HTML note.
func PageStyle() string { return pageStyle + figure.Style() }

func newPage(doc Document) (page, error) {
	p := page{Title: doc.Title, Lead: doc.Lead, Style: template.CSS(PageStyle())}
	var err error
	if p.Front, err = newPageSections("f", doc.Front); err != nil {
		return page{}, err
	}
	p.Sections, err = newPageSections("s", doc.Blocks)
	return p, err
}

// newPageSections lays blocks out, their headings named by a letter and a number.
func newPageSections(letter string, blocks []Block) (out []pageSection, err error) {
	for i, b := range blocks {
		s, err := newPageSection(Bare(b))
		if err != nil {
			return nil, err
		}
		if s.Title != "" {
			s.ID = fmt.Sprintf("%s%d", letter, i+1)
		}
		s.Front = letter == "f"
		if !s.empty() {
			out = append(out, s)
		}
	}
	return out, nil
}

func (s pageSection) empty() bool {
	return s.Table == nil && len(s.Figures) == 0 && len(s.Lines) == 0 && len(s.Items) == 0
}

func newPageSection(b Block) (pageSection, error) {
	switch b := b.(type) {
	case Table:
		// A table always has a caption, for someone who hears the page.
		title := b.heading()
		if title == "" {
			title = "Results"
		}
		return pageSection{Title: title, Table: newPageTable(b)}, nil
	case Lines:
		return pageSection{Title: b.Title, Lines: b.Lines}, nil
	case List:
		return pageSection{Title: b.Title, Items: b.Items, Ordered: b.Ordered}, nil
	case Picture:
		f, err := newPageFigure(b.Figure, false)
		return pageSection{Title: b.Title, Figures: []pageFigure{f}}, err
	case Beside:
		var s pageSection
		for _, p := range b {
			f, err := newPageFigure(p.Figure, true)
			if err != nil {
				return s, err
			}
			s.Figures = append(s.Figures, f)
		}
		return s, nil
	}
	return pageSection{}, nil
}

func newPageTable(t Table) *pageTable {
	out := &pageTable{Header: t.pageCells(t.Header)}
	for _, r := range t.Rows {
		out.Rows = append(out.Rows, t.pageCells(r))
	}
	return out
}

// pageCells fills a short row up, so that every row has the same length.
func (t Table) pageCells(cells []string) []pageCell {
	if len(cells) == 0 {
		return nil
	}
	out := make([]pageCell, t.columns())
	for i := range out {
		if i < len(cells) {
			out[i].Text = cells[i]
			out[i].Long = slices.ContainsFunc(strings.Fields(cells[i]), func(w string) bool { return len(w) > wordColumns })
		}
		out[i].Right = t.right(i)
	}
	return out
}

func newPageFigure(f figure.Figure, narrow bool) (pageFigure, error) {
	svg, err := f.Inline()
	// written by our own canvas, which escapes every text
	return pageFigure{SVG: template.HTML(svg), Title: f.Title, Caption: f.Alt, Narrow: narrow}, err
}
