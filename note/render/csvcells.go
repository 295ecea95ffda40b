package render

import (
	"regexp"
	"strings"

	"swapworth/quantity"
)

// A spreadsheet reckons with cells that hold one number and nothing else. Tables are
// written for reading, with "71.0 (70.5 to 71.5)" or "160 x 30 x 14" in one cell; here
// their columns are parted: the bounds of intervals into columns of their own, the
// words around a number into a note, tuples into a column or a row for each number.

const csvNumber = `[-+]?[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?`

// csvWords are a unit or at most two words behind a number; a sentence that begins with
// one is no number.
const csvWords = ` [A-Za-z%/*]+[0-9]?(?:[ /][A-Za-z]+[0-9]?)?`

var (
	// "71.0 (70.5 to 71.5)", "4.56 lighter (3.74 to 5.11)", "times 0.968 (0.9 to 1)",
	// "at least 3", "72.3 g", "98.3 %"
	csvValue = regexp.MustCompile(`^((?:at least|at most|up to|none up to|about|times) )?(` + csvNumber + `)(` + csvWords + `)?(?: \((` + csvNumber + `) to (` + csvNumber + `)\))?$`)
	// "2690 to 2715"
	csvBounds = regexp.MustCompile(`^(` + csvNumber + `) to (` + csvNumber + `)$`)
	// "160 x 30 x 14", "0; 0; -15", "12.0, -1.0, 6.0", "0 0 7"
	csvTuple = regexp.MustCompile(`^\(?` + csvNumber + `(?:(?: x |[,;] | )` + csvNumber + `)+\)?$`)
	csvArrow = regexp.MustCompile(`^(` + csvNumber + `) -> (` + csvNumber + `)$`)
	csvEach  = regexp.MustCompile(csvNumber)
)

// csvCell is a cell taken apart; what it has not is empty.
type csvCell struct {
	value, low, high, note string
	many                   []string // the numbers of a tuple
	changed                bool     // the tuple is an old and a new value
}

func newCSVCell(text string) csvCell {
	if m := csvArrow.FindStringSubmatch(text); m != nil {
		return csvCell{many: m[1:3], changed: true}
	}
	if m := csvBounds.FindStringSubmatch(text); m != nil {
		return csvCell{low: m[1], high: m[2]}
	}
	if m := csvValue.FindStringSubmatch(text); m != nil {
		return csvCell{value: m[2], low: m[4], high: m[5], note: strings.TrimSpace(m[1] + strings.TrimSpace(m[3]))}
	}
	if csvTuple.MatchString(text) {
		return csvCell{many: csvEach.FindAllString(text, -1)}
	}
	return csvCell{value: text}
}

// csvColumn is what a column of a table is parted into.
type csvColumn struct {
	parts        int // numbers of its tuples, 1 where there is none
	changed      bool
	bounds, note bool
	labels       bool // holds names, which are left as they are
}

// parted returns the table with one number a cell.
func (t Table) parted() (header []string, rows [][]string) {
	cells, columns := t.csvColumns()
	for i, c := range columns {
		name := ""
		if i < len(t.Header) {
			name = t.Header[i]
		}
		for p := range c.parts {
			header = append(header, strings.TrimSpace(name+" "+partName(p, c.parts, c.changed)))
		}
		if c.bounds {
			header = append(header, strings.TrimSpace(name+" low"), strings.TrimSpace(name+" high"))
		}
		if c.note {
			header = append(header, strings.TrimSpace(name+" note"))
		}
	}
	for r, row := range cells {
		// a tuple under a heading without a unit gets a row for each of its numbers
		lines := 1
		for i, c := range row {
			if columns[i].parts == 1 {
				lines = max(lines, len(c.many))
			}
		}
		for line := range lines {
			var out []string
			for i, c := range row {
				out = append(out, columns[i].fields(c, t.cell(r, i), line, lines)...)
			}
			rows = append(rows, out)
		}
	}
	return header, rows
}

// cell is the text of a cell, empty where a short row has none.
func (t Table) cell(row, column int) string {
	if column < len(t.Rows[row]) {
		return t.Rows[row][column]
	}
	return ""
}

// csvColumns takes every cell apart and says what its column needs.
func (t Table) csvColumns() (cells [][]csvCell, columns []csvColumn) {
	columns = make([]csvColumn, t.columns())
	for i := range columns {
		columns[i].parts = 1
		columns[i].labels = i == 0 && (len(t.Header) == 0 || quantity.UnitOf(t.Header[0]) == "")
	}
	for r := range t.Rows {
		row := make([]csvCell, len(columns))
		for i := range columns {
			c := &columns[i]
			if c.labels {
				row[i] = csvCell{value: t.cell(r, i)}
				continue
			}
			row[i] = newCSVCell(t.cell(r, i))
			c.bounds = c.bounds || row[i].low != ""
			c.note = c.note || row[i].note != ""
			c.changed = c.changed || row[i].changed
			if i < len(t.Header) && quantity.UnitOf(t.Header[i]) != "" || row[i].changed {
				c.parts = max(c.parts, len(row[i].many))
			}
		}
		cells = append(cells, row)
	}
	return cells, columns
}

// fields are the fields of a cell in one of the lines that its row is written on.
func (c csvColumn) fields(cell csvCell, text string, line, lines int) []string {
	out := make([]string, c.parts)
	switch {
	case c.labels && lines > 1:
		out[0] = strings.TrimSpace(text + " " + partName(line, lines, false))
	case c.parts > 1 && len(cell.many) > 0:
		copy(out, cell.many)
	case c.changed && cell.value != "": // as it was, so it is
		for i := range out {
			out[i] = cell.value
		}
	case len(cell.many) > line:
		out[0] = cell.many[line]
	case line == 0:
		out[0] = cell.value
	}
	if line > 0 {
		cell = csvCell{}
	}
	if c.bounds {
		out = append(out, cell.low, cell.high)
	}
	if c.note {
		out = append(out, cell.note)
	}
	return out
}

// partName names one of several numbers.
func partName(i, of int, changed bool) string {
	switch {
	case of == 1:
		return ""
	case changed:
		return []string{"before", "after"}[min(i, 1)]
	case of <= 3:
		return []string{"x", "y", "z"}[i]
	}
	return string(rune('1' + i))
}
