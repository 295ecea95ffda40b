package render

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/clipperhouse/displaywidth"
	"github.com/fatih/color"
	"github.com/mattn/go-isatty"
	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"

	"swapworth/internal/textwrap"
)

// Terminal is plain text of at most 80 columns.
const Terminal Format = "table"

var terminalKind = kind{
	name: Terminal, title: "plain text", extent: lineCount, also: []string{"text", "txt"}, endings: []string{".txt"}, media: "text/plain; charset=utf-8",
	write: func(w io.Writer, p printed) error { return writeText(w, p.doc, p.colour) },
}

// isTerminal reports whether w is a screen rather than a file or a pipe.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && (isatty.IsTerminal(f.Fd()) || isatty.IsCygwinTerminal(f.Fd()))
}

// colourWanted follows the NO_COLOR convention: any value switches colour off.
func colourWanted(w io.Writer) bool {
	return os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && isTerminal(w)
}

// palette paints text by its tone, or leaves it alone.
type palette bool

func (on palette) paint(s string, attributes ...color.Attribute) string {
	if !on || s == "" {
		return s
	}
	c := color.New(attributes...)
	c.EnableColor()
	return c.Sprint(s)
}

func (on palette) title(s string) string { return on.paint(s, color.Bold) }

func (on palette) tone(s string, t Tone) string {
	switch t {
	case Good:
		return on.paint(s, color.FgGreen)
	case Caution:
		return on.paint(s, color.FgYellow)
	case Bad:
		return on.paint(s, color.FgRed, color.Bold)
	}
	return s
}

// writeText writes the document for a terminal: the lead, then the blocks that
// are no Detail, never wider than 80 columns.
func writeText(w io.Writer, doc Document, colour bool) error {
	on := palette(colour)
	var b bytes.Buffer
	if len(doc.Lead) == 0 && doc.Title != "" {
		textLine(&b, on.title, doc.Title, "")
	}
	for _, l := range doc.Lead {
		textLine(&b, func(s string) string { return on.tone(s, l.Tone) }, l.Text, "  ")
	}
	for _, block := range lastAtTheEnd(doc.Blocks) {
		if err := textBlock(&b, on, block); err != nil {
			return err
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

// lastAtTheEnd moves the blocks behind the others that are to be read last.
func lastAtTheEnd(blocks []Block) []Block {
	var first, last []Block
	for _, b := range blocks {
		b = shown(b)
		if l, ok := b.(Last); ok {
			last = append(last, l.Block)
		} else {
			first = append(first, b)
		}
	}
	return append(first, last...)
}

// shown takes a block out of what only formats with a first page or figures ask for.
func shown(b Block) Block {
	switch b := b.(type) {
	case OnFront:
		return shown(b.Block)
	case Undrawn:
		return shown(b.Block)
	}
	return b
}

func textBlock(b *bytes.Buffer, on palette, block Block) error {
	switch block := block.(type) {
	case Table:
		textTitle(b, on, block.heading())
		return textTable(b, block)
	case Lines:
		if len(block.Lines) == 0 {
			return nil
		}
		textTitle(b, on, block.Title)
		for _, l := range block.Lines {
			textLine(b, func(s string) string { return on.tone(s, l.Tone) }, l.Text, "  ")
		}
	case List:
		if len(block.Items) == 0 {
			return nil
		}
		textTitle(b, on, block.Title)
		for i, item := range block.Items {
			mark := "- "
			if block.Ordered {
				mark = fmt.Sprintf("%d. ", i+1)
			}
			textItem(b, mark, item)
		}
	}
	return nil
}

func textTitle(b *bytes.Buffer, on palette, title string) {
	b.WriteByte('\n')
	if title != "" {
		textLine(b, on.title, title, "")
	}
}

// textLine wraps one sentence; the lines after the first are indented.
func textLine(b *bytes.Buffer, paint func(string) string, text, indent string) {
	for i, l := range textwrap.Columns(text, pageColumns-len(indent)) {
		if i > 0 {
			b.WriteString(indent)
		}
		b.WriteString(paint(l) + "\n")
	}
}

func textItem(b *bytes.Buffer, mark, text string) {
	for i, l := range textwrap.Columns(text, pageColumns-len(mark)) {
		if i > 0 {
			mark = strings.Repeat(" ", len(mark))
		}
		b.WriteString(mark + l + "\n")
	}
}

// columnGap separates two columns of a terminal table.
const columnGap = 2

// textTable draws a table; one with more columns than fit side by side is drawn
// in several parts, each with the first column again.
func textTable(b *bytes.Buffer, t Table) error {
	for i, part := range t.split() {
		if i > 0 {
			b.WriteByte('\n')
		}
		// The library may need more room than the cells do, for wide characters
		// in narrow columns; then the cells get less.
		for room := pageColumns; ; room-- {
			grid, err := drawGrid(part, room)
			if err != nil {
				return fmt.Errorf("table %q: %w", t.Title, err)
			}
			if widest(grid) <= pageColumns || room <= part.columns() {
				b.WriteString(grid)
				break
			}
		}
	}
	return nil
}

// drawGrid draws the table with a rule under the header and nothing else, its
// cells wrapped for the given room in columns.
func drawGrid(t Table, room int) (string, error) {
	columns := t.columns()
	rows := t.Rows
	if len(t.Header) > 0 {
		rows = append([][]string{t.Header}, rows...)
	}
	widths := columnWidths(rows, columns, room-columnGap*(columns-1))
	var out bytes.Buffer
	grid := tablewriter.NewTable(&out,
		tablewriter.WithRenderer(renderer.NewBlueprint(plainGrid())),
		tablewriter.WithEastAsian(tw.Off),
		tablewriter.WithTrimSpace(tw.Off),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithHeaderAutoWrap(tw.WrapNone),
		tablewriter.WithRowAutoWrap(tw.WrapNone),
		tablewriter.WithHeaderPaddingPerColumn(gaps(columns)),
		tablewriter.WithRowPaddingPerColumn(gaps(columns)),
		tablewriter.WithHeaderAlignmentConfig(tw.CellAlignment{PerColumn: t.alignment(columns)}),
		tablewriter.WithRowAlignmentConfig(tw.CellAlignment{PerColumn: t.alignment(columns)}),
	)
	if len(t.Header) > 0 {
		grid.Header(wrapRow(t.Header, widths))
	}
	for _, r := range t.Rows {
		if err := grid.Append(wrapRow(r, widths)); err != nil {
			return "", err
		}
	}
	if err := grid.Render(); err != nil {
		return "", err
	}
	var trimmed strings.Builder
	for line := range strings.Lines(out.String()) {
		trimmed.WriteString(strings.TrimRight(line, " \n") + "\n")
	}
	return trimmed.String(), nil
}

func widest(text string) int {
	w := 0
	for line := range strings.Lines(text) {
		w = max(w, displaywidth.String(strings.TrimSuffix(line, "\n")))
	}
	return w
}

// plainGrid is the look of a terminal table: one rule under the header.
func plainGrid() tw.Rendition {
	return tw.Rendition{
		Symbols: tw.NewSymbols(tw.StyleLight),
		Borders: tw.BorderNone,
		Settings: tw.Settings{
			Separators: tw.Separators{BetweenColumns: tw.Off, BetweenRows: tw.Off},
			Lines:      tw.Lines{ShowTop: tw.Off, ShowBottom: tw.Off, ShowHeaderLine: tw.On},
		},
	}
}

// gaps pads every column but the last on its right.
func gaps(columns int) []tw.Padding {
	out := make([]tw.Padding, columns)
	for i := range out {
		out[i] = tw.Padding{Right: strings.Repeat(" ", columnGap), Overwrite: true}
	}
	out[columns-1] = tw.PaddingNone
	return out
}

func wrapRow(cells []string, widths []int) []string {
	out := make([]string, len(widths))
	for i, c := range cells {
		out[i] = strings.Join(textwrap.Columns(c, widths[i]), "\n")
	}
	return out
}

func (t Table) alignment(columns int) tw.Alignment {
	out := make(tw.Alignment, columns)
	for i := range out {
		out[i] = tw.AlignLeft
		if t.right(i) {
			out[i] = tw.AlignRight
		}
	}
	return out
}
