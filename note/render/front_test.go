package render

import (
	"bytes"
	"fmt"
	"image/color"
	"strings"
	"testing"

	"swapworth/note/figure"
)

// fronted is a document with a first page and an appendix of many rows.
func fronted(warnings int) Document {
	plate := Picture{Figure: figure.Figure{Title: "A plate", Alt: "A plate.", Width: figure.Half, Height: 180, Draw: drawPlate}}
	criteria := Table{Title: "Criteria", Header: []string{"", "asked", "found"}}
	for i := range 8 {
		criteria.Rows = append(criteria.Rows, []string{fmt.Sprint("criterion ", i), "at least 1", "2"})
	}
	said := Lines{Title: "Warnings"}
	for range warnings {
		said.Lines = append(said.Lines, Line{Text: strings.Repeat("a warning that takes two lines of the page ", 5), Tone: Caution})
	}
	d := Document{
		Title: "Swap or keep", Lead: []Line{{Text: "Verdict: keep", Tone: Bad}},
		Front:  []Block{Beside{plate, plate}, criteria, said, List{Title: "Cautions", Items: []string{"take care", "last on the page"}}},
		Blocks: []Block{Table{Title: "All of it", Header: []string{"a"}}, OnFront{criteria}, Undrawn{Lines{Title: "Spelled out", Lines: []Line{{Text: "in words"}}}}},
	}
	return d
}

// pages counts the pages of a PDF.
func pages(pdf []byte) int { return len(pageObject.FindAll(pdf, -1)) }

func TestTheFirstPageHoldsAllThatStandsOnIt(t *testing.T) {
	for _, warnings := range []int{0, 3, 6, 9} {
		pdf := rendered(t, PDF, fronted(warnings))
		if got := pages(pdf); got != 2 {
			t.Errorf("with %d warnings: %d pages, want one and one of the appendix", warnings, got)
		}
	}
}

func TestTheAppendixDoesNotSayAgainWhatTheFirstPageSays(t *testing.T) {
	page := string(rendered(t, HTML, fronted(1)))
	if n := strings.Count(page, ">Criteria<"); n != 1 {
		t.Errorf("the criteria stand there %d times", n)
	}
	if strings.Contains(page, "Spelled out") || !strings.Contains(page, ">Appendix<") || strings.Count(page, "<svg") != 2 {
		t.Error("the appendix spells a figure out, or there is none, or no figures")
	}
	for _, f := range []Format{Terminal, Markdown, CSV} {
		text := string(rendered(t, f, fronted(1)))
		if !strings.Contains(text, "criterion 7") || !strings.Contains(text, "in words") || strings.Contains(text, "last on the page") {
			t.Errorf("%s has no first page, so it has the rest in full:\n%s", f, text)
		}
	}
}

// A reader's list of contents follows the document.
func TestAPDFHasTitleLanguageAndBookmarks(t *testing.T) {
	pdf := rendered(t, PDF, fronted(1))
	for _, want := range []string{"/Title", "/Lang (en)", "/Outlines"} {
		if !bytes.Contains(pdf, []byte(want)) {
			t.Errorf("no %s", want)
		}
	}
}

// A figure in a page takes the page's colours; only what a picture alone can know,
// such as the ramp of stress, stays as it is.
func TestAFigureInAPageHasNoColourOfItsOwn(t *testing.T) {
	f := figure.ThreeViews("", nil)
	f.Draw = drawPlate
	svg, err := f.Inline()
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(svg, []byte(`role="img" aria-label="Three views"`)) {
		t.Errorf("no name: %.200s", svg)
	}
	style := PageStyle()
	for _, want := range []string{"prefers-color-scheme: dark) { svg.figure {", "@media print { svg.figure {", ".f-paper { fill: var(--figure-paper); }"} {
		if !strings.Contains(style, want) {
			t.Errorf("the style sheet lacks %q", want)
		}
	}
	inks, err := styleInks(style, "prefers-color-scheme: dark) {\n  :root {")
	if err != nil {
		t.Fatal(err)
	}
	dark, err := styleInks(style, "prefers-color-scheme: dark) { svg.figure {")
	if err != nil || dark["figure-paper"].color() != color.Color(inks["sheet"].color()) {
		t.Errorf("the paper of figures is %v on a dark page, its sheets are %v (%v)", dark["figure-paper"], inks["sheet"], err)
	}
}

// A figure without room on its page lets what follows go first.
func TestNoPageIsLeftHalfEmptyForAFigure(t *testing.T) {
	text := Lines{Title: "Text"}
	for range 30 {
		text.Lines = append(text.Lines, Line{Text: "a line"})
	}
	tall := Picture{Figure: figure.Figure{Title: "Tall", Alt: "Tall.", Width: 400, Height: 480, Draw: drawPlate}}
	got := pages(rendered(t, PDF, Document{Title: "t", Blocks: []Block{text, tall, text, tall, text}}))
	if got > 4 {
		t.Errorf("%d pages", got)
	}
}

func TestNoPageIsBegunForAFewLines(t *testing.T) {
	saved := 0
	for n := 20; n < 60; n++ {
		d := Document{Title: "t", Blocks: []Block{Lines{Title: "Text", Lines: make([]Line, n)}}}
		for i := range n {
			d.Blocks[0].(Lines).Lines[i].Text = "a line"
		}
		if laidOnPages(d, settings[0]).PageNo() == 2 && pages(rendered(t, PDF, d)) == 1 {
			saved++
		}
	}
	if saved < 2 || saved > 10 {
		t.Errorf("%d lengths of text end on the first page by closer lines", saved)
	}
}
