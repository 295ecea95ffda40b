package render

import (
	"bytes"
	"fmt"
	"io"
	"net/url"
	"strings"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// Markdown is the whole document; the words of a figure stand in for it.
const Markdown Format = "markdown"

var markdownKind = kind{
	name: Markdown, title: "Markdown", extent: lineCount, also: []string{"md"}, endings: []string{".md", ".markdown"}, media: "text/markdown; charset=utf-8",
	drawn: true, copied: true,
	write: func(w io.Writer, p printed) error { return writeMarkdown(w, p.doc) },
}

// writeMarkdown writes the whole document. A Markdown file cannot carry a
// picture: figures that lie in files of their own are shown from there, and all
// are given by the text that stands in for them.
func writeMarkdown(w io.Writer, doc Document) error {
	var b bytes.Buffer
	if doc.Title != "" {
		fmt.Fprintf(&b, "# %s\n", escapeMarkdown(doc.Title))
	}
	for i, l := range doc.Lead {
		text := escapeMarkdown(l.Text)
		if i == 0 {
			text = "**" + text + "**"
		}
		fmt.Fprintf(&b, "\n%s\n", text)
	}
	for _, block := range doc.Blocks {
		if err := markdownBlock(&b, Bare(block)); err != nil {
			return err
		}
	}
	_, err := io.WriteString(w, strings.TrimLeft(b.String(), "\n"))
	return err
}

func markdownBlock(b *bytes.Buffer, block Block) error {
	switch block := block.(type) {
	case Table:
		markdownTitle(b, block.heading())
		b.WriteByte('\n')
		return markdownTable(b, block)
	case Lines:
		if len(block.Lines) == 0 {
			return nil
		}
		markdownTitle(b, block.Title)
		for _, l := range block.Lines {
			fmt.Fprintf(b, "\n%s\n", escapeMarkdown(l.Text))
		}
	case List:
		if len(block.Items) == 0 {
			return nil
		}
		markdownTitle(b, block.Title)
		b.WriteByte('\n')
		for i, item := range block.Items {
			mark := "-"
			if block.Ordered {
				mark = fmt.Sprintf("%d.", i+1)
			}
			fmt.Fprintf(b, "%s %s\n", mark, escapeMarkdown(item))
		}
	case Picture:
		markdownTitle(b, block.Title)
		if block.File != "" {
			place := url.URL{Path: block.File}
			fmt.Fprintf(b, "\n![%s](%s)\n", escapeMarkdown(block.Title), place.EscapedPath())
		}
		fmt.Fprintf(b, "\n%s\n", escapeMarkdown(block.Alt))
	}
	return nil
}

func markdownTitle(b *bytes.Buffer, title string) {
	if title != "" {
		fmt.Fprintf(b, "\n## %s\n", escapeMarkdown(title))
	}
}

func markdownTable(b *bytes.Buffer, t Table) error {
	columns := t.columns()
	if columns == 0 {
		return nil
	}
	align := tw.CellAlignment{PerColumn: t.alignment(columns)}
	grid := tablewriter.NewTable(b,
		tablewriter.WithRenderer(renderer.NewMarkdown()),
		tablewriter.WithEastAsian(tw.Off),
		tablewriter.WithHeaderAutoFormat(tw.Off),
		tablewriter.WithHeaderAutoWrap(tw.WrapNone),
		tablewriter.WithRowAutoWrap(tw.WrapNone),
		tablewriter.WithHeaderAlignmentConfig(align),
		tablewriter.WithRowAlignmentConfig(align),
	)
	grid.Header(escapeCells(t.Header, columns))
	for _, r := range t.Rows {
		if err := grid.Append(escapeCells(r, columns)); err != nil {
			return fmt.Errorf("table %q: %w", t.Title, err)
		}
	}
	if err := grid.Render(); err != nil {
		return fmt.Errorf("table %q: %w", t.Title, err)
	}
	return nil
}

func escapeCells(cells []string, columns int) []string {
	out := make([]string, columns)
	for i, c := range cells {
		out[i] = markdownSpecial.Replace(c)
	}
	return out
}

// markdownSpecial marks what a Markdown reader would take for formatting, links
// or HTML inside a sentence.
var markdownSpecial = strings.NewReplacer(
	`\`, `\\`, "|", `\|`, "`", "\\`", "*", `\*`, "_", `\_`, "<", `\<`, ">", `\>`,
	"[", `\[`, "]", `\]`, "~", `\~`, "&", `\&`,
)

// escapeMarkdown keeps text literal; a first character that would start a
// heading, a list or a quotation is escaped too.
func escapeMarkdown(s string) string {
	s = markdownSpecial.Replace(s)
	if s != "" && strings.ContainsRune("#+-", rune(s[0])) && !startsNumber(s) {
		s = `\` + s
	}
	return s
}

func startsNumber(s string) bool {
	return len(s) > 1 && (s[1] >= '0' && s[1] <= '9' || s[1] == '.')
}
