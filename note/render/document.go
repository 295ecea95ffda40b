package render

import (
	"strings"

	"swapworth/note/figure"
	"swapworth/quantity"
)

// Document is what a result says, free of any output format. Lead holds the
// lines that must be read first: the verdict and its reason. All of it is worded in
// metric units; Units is the system it is written in, Names what is left as it is
// on the way, such as the names of files.
//
// Front is what else stands with title and lead on the first page of a format that
// has pages, or is read on a screen like one: enough to decide by. Blocks are then
// its appendix.
type Document struct {
	Title  string
	Lead   []Line
	Front  []Block
	Blocks []Block
	Units  quantity.System
	Names  []string
}

// Tone says how loud a line is. The words carry the meaning; a renderer may add
// colour.
type Tone int

// Tones, quietest first.
const (
	Plain Tone = iota
	Good
	Caution
	Bad
)

// Line is one sentence with its tone.
type Line struct {
	Text string
	Tone Tone
}

// Block is a part of a document: Table, Lines, List, Picture, Beside, Detail, Last,
// OnFront, Undrawn or Later.
type Block interface{ block() }

// Table is a grid with a header. Unit is that of all numbers beyond the first column
// which neither their column's heading nor their row's gives one. Align has one letter a column, l or r; empty
// means the first column left and the rest right. A table is no wider than 80
// columns in a terminal: long cells wrap. The first table of a document is its
// main table, the one the paste format writes.
type Table struct {
	Title  string
	Unit   string
	Header []string
	Rows   [][]string
	Align  string
}

// heading is the title with the unit.
func (t Table) heading() string {
	if t.Unit == "" {
		return t.Title
	}
	return strings.TrimSpace(t.Title + ", " + t.Unit)
}

// Lines is a titled run of sentences. AsIs ones hold names and commands, in which
// no unit is converted.
type Lines struct {
	Title string
	Lines []Line
	AsIs  bool
}

// List is a titled list of points; Ordered numbers them.
type List struct {
	Title   string
	Items   []string
	Ordered bool
}

// Picture is a figure in a document. File is where it lies, for Markdown; empty
// where it lies nowhere.
type Picture struct {
	figure.Figure
	File string
}

// Beside is pictures that stand side by side where there is room.
type Beside []Picture

// OnFront wraps a block that the first page has in its own words: its format leaves
// it out of the appendix.
type OnFront struct{ Block Block }

// Undrawn wraps a block that a figure stands for where figures are shown.
type Undrawn struct{ Block Block }

// Detail wraps a block that belongs in the design note but not in the short
// table of a terminal: input hashes, the full list of cautions.
type Detail struct{ Block Block }

// Last wraps a block that a terminal shows at its end, where the eye is left,
// and every other format where it stands.
type Last struct{ Block Block }

// Later stands for blocks that are worked out only for a format that shows them, in
// the units of the document: figures, which the terminal, CSV and paste leave out.
type Later func(quantity.System) []Block

func (Table) block()   {}
func (Lines) block()   {}
func (List) block()    {}
func (Picture) block() {}
func (Beside) block()  {}
func (OnFront) block() {}
func (Undrawn) block() {}

func (Detail) block() {}
func (Last) block()   {}
func (Later) block()  {}

// columns is the number of columns of the widest row.
func (t Table) columns() int {
	n := len(t.Header)
	for _, r := range t.Rows {
		n = max(n, len(r))
	}
	return n
}

// right reports whether column i is aligned right.
func (t Table) right(i int) bool {
	if i < len(t.Align) {
		return t.Align[i] == 'r'
	}
	return t.Align == "" && i > 0
}
