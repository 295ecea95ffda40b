package render

import (
	"bytes"
	_ "embed"
	"encoding/base64"
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
	name: HTML, endings: []string{".html", ".htm"}, media: "text/html; charset=utf-8", drawn: true,
	write: func(w io.Writer, p printed) error { return writeHTML(w, p.doc) },
}

//go:embed page.html
var pageSource string

//go:embed page.css
var pageStyle string

var pageTemplate = template.Must(template.New("note").Parse(pageSource))

// Name is the word for a tone in a style sheet.
func (t Tone) Name() string {
	return [...]string{"plain", "good", "caution", "bad"}[t]
}

// page is a document laid out for the HTML template.
type page struct {
	Title    string
	Lead     []Line
	Sections []pageSection
	Style    template.CSS
}

type pageSection struct {
	ID, Title string
	Table     *pageTable
	Lines     []Line
	Items     []string
	Ordered   bool
	Figure    *pageFigure
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
	Source        template.URL // an SVG as a data URL
	Width, Height int          // CSS pixels
	Alt, Caption  string
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
	p, err := newPage(cleaned(inUnits(expanded(doc))))
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
func PageStyle() string { return pageStyle }

func newPage(doc Document) (page, error) {
	p := page{Title: doc.Title, Lead: doc.Lead, Style: template.CSS(pageStyle)}
	for i, b := range doc.Blocks {
		s, err := newPageSection(Bare(b))
		if err != nil {
			return page{}, err
		}
		if s.Title != "" {
			s.ID = fmt.Sprintf("s%d", i+1)
		}
		if !s.empty() {
			p.Sections = append(p.Sections, s)
		}
	}
	return p, nil
}

func (s pageSection) empty() bool {
	return s.Table == nil && s.Figure == nil && len(s.Lines) == 0 && len(s.Items) == 0
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
		f, err := newPageFigure(b.Figure)
		return pageSection{Title: b.Title, Figure: f}, err
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

func newPageFigure(f figure.Figure) (*pageFigure, error) {
	svg, err := f.SVG()
	if err != nil {
		return nil, err
	}
	width, height := f.Size()
	const pixelsPerPoint = 96.0 / 72
	return &pageFigure{
		Source:  template.URL("data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(svg)),
		Width:   int(width.Points()*pixelsPerPoint + 0.5),
		Height:  int(height.Points()*pixelsPerPoint + 0.5),
		Alt:     f.Alt,
		Caption: f.Alt,
	}, nil
}
