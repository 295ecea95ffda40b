package render

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"swapworth/quantity"
)

// CSV is every table and text as records of equal length.
const CSV Format = "csv"

var csvKind = kind{
	name: CSV, title: "CSV", extent: lineCount, endings: []string{".csv"}, media: "text/csv; charset=utf-8", copied: true,
	write: func(w io.Writer, p printed) error { return writeCSV(w, p.doc) },
}

// writeCSV writes every block as records of equal length. The first field is
// the title of the block, so that a spreadsheet can filter by it; a table's
// header, with the units, is its first record, and its cells hold one number each.
func writeCSV(w io.Writer, doc Document) error {
	var records [][]string
	add := func(fields ...string) { records = append(records, fields) }
	for _, l := range doc.Lead {
		add(doc.Title, l.Text)
	}
	for _, b := range doc.Blocks {
		switch b := Bare(b).(type) {
		case Table:
			header, rows := b.parted()
			add(append([]string{b.heading()}, header...)...)
			for _, r := range rows {
				add(append([]string{b.heading()}, r...)...)
			}
		case Lines:
			for _, l := range b.Lines {
				add(b.Title, l.Text)
			}
		case List:
			for _, item := range b.Items {
				add(b.Title, item)
			}
		}
	}
	width := 0
	for _, r := range records {
		width = max(width, len(r))
	}
	out := csv.NewWriter(w)
	for _, r := range records {
		for i := range r {
			r[i] = noFormula(r[i])
		}
		if err := out.Write(append(r, make([]string, width-len(r))...)); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// Bare takes a block out of whatever wraps it.
func Bare(b Block) Block {
	switch b := b.(type) {
	case Detail:
		return Bare(b.Block)
	case Last:
		return Bare(b.Block)
	case OnFront:
		return Bare(b.Block)
	case Undrawn:
		return Bare(b.Block)
	}
	return b
}

// noFormula keeps a spreadsheet from running a text that begins like a formula,
// which a hostile file name could; signed numbers stay as they are.
func noFormula(s string) string {
	if s == "" || s == quantity.Missing || !strings.ContainsRune("=+-@", rune(s[0])) {
		return s
	}
	number, _, _ := strings.Cut(s, " ")
	if _, err := strconv.ParseFloat(number, 64); err == nil {
		return s
	}
	return "'" + s
}
