package note

import (
	"strings"

	"github.com/clipperhouse/displaywidth"
)

// pageColumns is the width of a terminal that every table fits into.
const pageColumns = 80

// columnWidths divides total columns of text among the columns of a table.
// A column gets what its longest cell needs; when that is too much, the widest
// columns shrink first, so that numbers stay on one line and prose wraps.
func columnWidths(rows [][]string, columns, total int) []int {
	widths := make([]int, columns)
	for i := range widths {
		widths[i] = 1
	}
	sum := 0
	for _, r := range rows {
		for i, cell := range r {
			widths[i] = max(widths[i], displaywidth.String(cell))
		}
	}
	for _, w := range widths {
		sum += w
	}
	for ; sum > total; sum-- {
		widest := 0
		for i, w := range widths {
			if w > widths[widest] {
				widest = i
			}
		}
		if widths[widest] <= 1 {
			break
		}
		widths[widest]--
	}
	return widths
}

// tie is the space that holds two words on one line; wrap writes it as a plain
// one. Its stand-in is a private character that text cannot hold by then.
const (
	tie        = "\u00a0"
	tieStandIn = "\ue000"
)

// wrap breaks text between words into lines of at most width columns; a word
// that is longer, such as a path or a hash, is broken inside.
func wrap(text string, width int) []string {
	var lines []string
	line, used := "", 0
	for word := range strings.FieldsSeq(strings.ReplaceAll(text, tie, tieStandIn)) {
		word = strings.ReplaceAll(word, tieStandIn, " ")
		w := displaywidth.String(word)
		if used > 0 && used+1+w <= width {
			line, used = line+" "+word, used+1+w
			continue
		}
		if used > 0 {
			lines = append(lines, line)
		}
		for w > width {
			head, rest := breakWord(word, width)
			lines = append(lines, head)
			word, w = rest, displaywidth.String(rest)
		}
		line, used = word, w
	}
	if used > 0 || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// breakWord splits off the longest beginning that fits, at least one character.
func breakWord(word string, width int) (head, rest string) {
	used := 0
	g := displaywidth.StringGraphemes(word)
	for g.Next() {
		if w := g.Width(); used == 0 || displaywidth.String(word[:used])+w <= width {
			used += len(g.Value())
			continue
		}
		break
	}
	return word[:used], word[used:]
}

// wordColumns is the widest word that a column keeps whole when a table is split
// into parts.
const wordColumns = 12

// split returns the table in parts that fit side by side columns of whole words
// into a terminal; every part begins with the first column. A table that fits
// is its own only part; one without columns has none.
func (t Table) split() []Table {
	columns := t.columns()
	if columns == 0 {
		return nil
	}
	need := t.wordWidths()
	var parts []Table
	for from := 1; from < columns || len(parts) == 0; {
		used, to := need[0], from
		for to < columns && (to == from || used+columnGap+need[to] <= pageColumns) {
			used += columnGap + need[to]
			to++
		}
		parts = append(parts, t.pick(from, to))
		from = to
	}
	return parts
}

// wordWidths returns for every column the width of its longest word, at most
// wordColumns.
func (t Table) wordWidths() []int {
	need := make([]int, t.columns())
	for _, r := range append([][]string{t.Header}, t.Rows...) {
		for i, cell := range r {
			for word := range strings.FieldsSeq(cell) {
				need[i] = max(need[i], min(displaywidth.String(word), wordColumns))
			}
		}
	}
	return need
}

// pick returns the table of the first column and columns from to to-1.
func (t Table) pick(from, to int) Table {
	take := func(cells []string) []string {
		if len(cells) == 0 {
			return nil
		}
		out := []string{cells[0]}
		for i := from; i < to; i++ {
			cell := ""
			if i < len(cells) {
				cell = cells[i]
			}
			out = append(out, cell)
		}
		return out
	}
	part := Table{Title: t.Title, Header: take(t.Header)}
	for _, r := range t.Rows {
		part.Rows = append(part.Rows, take(r))
	}
	align := []byte{'l'}
	for i := from; i < to; i++ {
		align = append(align, map[bool]byte{true: 'r', false: 'l'}[t.right(i)])
	}
	if t.right(0) {
		align[0] = 'r'
	}
	part.Align = string(align)
	return part
}
