package render

import (
	"strings"
	"unicode"
)

// cleaned returns the document with every text safe to print: a file name may
// hold line breaks, terminal escapes or bytes that are no UTF-8.
func cleaned(d Document) Document { return mapDocument(d, printable) }

// printable turns white space of any kind into single spaces and whatever
// cannot be shown, direction marks included, into the replacement character.
func printable(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\u00a0': // holds an interval on one line
			return r
		case unicode.IsSpace(r):
			return ' '
		case unicode.IsControl(r), unicode.In(r, unicode.Cf, unicode.Co):
			return '\uFFFD'
		}
		return r
	}, s)
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' }), " ")
}

// mapDocument returns the document with change applied to every text.
func mapDocument(d Document, change func(string) string) Document {
	out := Document{Title: change(d.Title), Lead: mapLines(d.Lead, change), Units: d.Units, Names: d.Names}
	each := func(b Block) Block { return mapBlock(b, change) }
	out.Front, out.Blocks = mapBlocks(d.Front, each), mapBlocks(d.Blocks, each)
	return out
}

func mapBlocks(blocks []Block, change func(Block) Block) (out []Block) {
	for _, b := range blocks {
		out = append(out, change(b))
	}
	return out
}

func mapBlock(b Block, change func(string) string) Block {
	switch b := b.(type) {
	case Table:
		rows := make([][]string, len(b.Rows))
		for i, r := range b.Rows {
			rows[i] = mapTexts(r, change)
		}
		b.Title, b.Header, b.Rows = change(b.Title), mapTexts(b.Header, change), rows
		return b
	case Lines:
		b.Title, b.Lines = change(b.Title), mapLines(b.Lines, change)
		return b
	case List:
		b.Title, b.Items = change(b.Title), mapTexts(b.Items, change)
		return b
	case Picture:
		b.Title, b.Alt = change(b.Title), change(b.Alt)
		return b
	case Beside:
		var out Beside
		for _, p := range b {
			out = append(out, mapBlock(p, change).(Picture))
		}
		return out
	case Detail:
		return Detail{mapBlock(b.Block, change)}
	case OnFront:
		return OnFront{mapBlock(b.Block, change)}
	case Undrawn:
		return Undrawn{mapBlock(b.Block, change)}
	case Last:
		return Last{mapBlock(b.Block, change)}
	}
	return b
}

func mapLines(lines []Line, change func(string) string) []Line {
	out := make([]Line, len(lines))
	for i, l := range lines {
		out[i] = Line{change(l.Text), l.Tone}
	}
	return out
}

func mapTexts(texts []string, change func(string) string) []string {
	out := make([]string, len(texts))
	for i, t := range texts {
		out[i] = change(t)
	}
	return out
}
