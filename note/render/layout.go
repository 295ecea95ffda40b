package render

import (
	"strings"

	"github.com/clipperhouse/displaywidth"

	"swapworth/internal/textwrap"
)

// pageColumns is the width of a terminal that every table fits into.
const pageColumns = 80

// columnWidths divides total columns of text among the columns of a table.
// A column gets what its longest cell needs; when that is too much, the width is
// taken one by one from the column where it makes the table least longer, so
// that numbers stay on one line and prose wraps.
func columnWidths(rows [][]string, columns, total int) []int {
	widths := make([]int, columns)
	sum := 0
	for i := range widths {
		widths[i] = 1
		for _, r := range rows {
			if i < len(r) {
				widths[i] = max(widths[i], min(displaywidth.String(r[i]), total))
			}
		}
		sum += widths[i]
	}
	if sum > total {
		f := newFitting(rows, widths)
		f.narrow(sum - total)
		f.widen(total)
	}
	return widths
}

// fitting narrows the columns of a table.
type fitting struct {
	rows   [][]string
	widths []int
	now    [][]int // height of every cell by column and row, at its width
	less   [][]int // the same with the column one narrower
}

func newFitting(rows [][]string, widths []int) *fitting {
	f := &fitting{rows: rows, widths: widths, now: make([][]int, len(widths)), less: make([][]int, len(widths))}
	for i, w := range widths {
		f.now[i], f.less[i] = f.heights(i, w), f.heights(i, w-1)
	}
	return f
}

// narrow takes n columns of text away, as far as one is left for each column.
func (f *fitting) narrow(n int) {
	for ; n > 0; n-- {
		best, least := -1, 0
		for i, w := range f.widths {
			if w <= 1 {
				continue
			}
			if grows := f.growth(i); best < 0 || grows < least || grows == least && w > f.widths[best] {
				best, least = i, grows
			}
		}
		if best < 0 {
			return
		}
		f.widths[best]--
		f.now[best], f.less[best] = f.less[best], f.heights(best, f.widths[best]-1)
	}
}

// widen gives what narrow left unused in one column to another that gets shorter
// by it.
func (f *fitting) widen(total int) {
	left := total
	for i := range f.widths {
		f.widths[i] = f.used(i)
		f.now[i] = f.heights(i, f.widths[i])
		left -= f.widths[i]
	}
	for i := range f.widths {
		before := f.height()
		for more := 1; more <= left; more++ {
			kept := f.now[i]
			f.now[i] = f.heights(i, f.widths[i]+more)
			if f.height() < before {
				f.widths[i] += more
				left -= more
				before, more = f.height(), 0
				continue
			}
			f.now[i] = kept
		}
	}
}

// used is the width of the longest line of column i.
func (f *fitting) used(i int) int {
	w := 1
	for _, row := range f.rows {
		if i < len(row) {
			for _, line := range textwrap.Columns(row[i], f.widths[i]) {
				w = max(w, displaywidth.String(line))
			}
		}
	}
	return w
}

// height is the number of lines of the whole table.
func (f *fitting) height() int {
	n := 0
	for r := range f.rows {
		most := 0
		for i := range f.now {
			most = max(most, f.now[i][r])
		}
		n += most
	}
	return n
}

// growth is by how much the table grows when column i gets one narrower.
func (f *fitting) growth(i int) int {
	grows := 0
	for r := range f.rows {
		others := 0
		for k := range f.now {
			if k != i {
				others = max(others, f.now[k][r])
			}
		}
		grows += max(others, f.less[i][r]) - max(others, f.now[i][r])
	}
	return grows
}

// heights returns how many lines every cell of column i takes at a width. Tied
// words that must be parted count as a few lines more, a word that must be broken
// inside as many, because they read badly.
func (f *fitting) heights(i, width int) []int {
	const parted, broken = 3, 10
	out := make([]int, len(f.rows))
	for r, row := range f.rows {
		if i >= len(row) || width < 1 {
			continue
		}
		out[r] = len(textwrap.Columns(row[i], width))
		for group := range strings.SplitSeq(row[i], " ") {
			if displaywidth.String(group) <= width {
				continue
			}
			out[r] += parted
			for word := range strings.FieldsSeq(group) {
				if displaywidth.String(word) > width {
					out[r] += broken
				}
			}
		}
	}
	return out
}

// wordColumns is the widest word, or run of tied words, that a column keeps whole
// when a table is split into parts.
const wordColumns = 20

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

// wordWidths returns for every column the width of its longest word or run of
// tied words, at most wordColumns.
func (t Table) wordWidths() []int {
	need := make([]int, t.columns())
	for _, r := range append([][]string{t.Header}, t.Rows...) {
		for i, cell := range r {
			for word := range strings.SplitSeq(cell, " ") {
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
