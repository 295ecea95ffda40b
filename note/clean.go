package note

import (
	"strings"
	"unicode"
)

// cleaned returns the document with every text safe to print: a file name may
// hold line breaks, terminal escapes or bytes that are no UTF-8.
func cleaned(d Document) Document {
	out := Document{Title: printable(d.Title), Lead: cleanLines(d.Lead)}
	for _, b := range d.Blocks {
		out.Blocks = append(out.Blocks, cleanBlock(b))
	}
	return out
}

func cleanBlock(b Block) Block {
	switch b := b.(type) {
	case Table:
		b.Title, b.Header = printable(b.Title), printables(b.Header)
		rows := make([][]string, len(b.Rows))
		for i, r := range b.Rows {
			rows[i] = printables(r)
		}
		b.Rows = rows
		return b
	case Lines:
		return Lines{printable(b.Title), cleanLines(b.Lines)}
	case List:
		b.Title, b.Items = printable(b.Title), printables(b.Items)
		return b
	case Figure:
		b.Title, b.Alt = printable(b.Title), printable(b.Alt)
		return b
	case Detail:
		return Detail{cleanBlock(b.Block)}
	}
	return b
}

func cleanLines(lines []Line) []Line {
	out := make([]Line, len(lines))
	for i, l := range lines {
		out[i] = Line{printable(l.Text), l.Tone}
	}
	return out
}

func printables(texts []string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = printable(t)
	}
	return out
}

// printable turns white space of any kind into single spaces and whatever
// cannot be shown, direction marks included, into the replacement character.
func printable(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r):
			return '\uFFFD'
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}
