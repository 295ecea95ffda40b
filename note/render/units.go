package render

import "swapworth/quantity"

// inUnits returns the document in its own system of units. Everything is computed
// and worded in metric units; this is the one step that converts it.
func inUnits(d Document) Document {
	if d.Units == quantity.Metric {
		return d
	}
	w := rewriting{d.Units, d.Names}
	out := Document{Title: w.text(d.Title), Names: d.Names}
	out.Lead = mapLines(d.Lead, w.text)
	out.Front, out.Blocks = mapBlocks(d.Front, w.block), mapBlocks(d.Blocks, w.block)
	return out
}

// rewriting writes metric texts and tables in another system, names left alone.
type rewriting struct {
	units quantity.System
	names []string
}

func (w rewriting) text(s string) string { return w.units.Text(s, w.names...) }

func (w rewriting) block(b Block) Block {
	switch b := b.(type) {
	case Table:
		return w.table(b)
	case Lines:
		if b.AsIs {
			return b
		}
	case Detail:
		return Detail{w.block(b.Block)}
	case Last:
		return Last{w.block(b.Block)}
	case OnFront:
		return OnFront{w.block(b.Block)}
	case Undrawn:
		return Undrawn{w.block(b.Block)}
	}
	return mapBlock(b, w.text)
}

// table converts the numbers of every cell by the unit that its column's heading
// gives, or its row's, or the table's.
func (w rewriting) table(t Table) Table {
	columns := make([]string, t.columns())
	for i := range columns {
		if i < len(t.Header) {
			columns[i] = quantity.UnitOf(t.Header[i])
		}
	}
	unitOf := func(row []string, i int) string {
		switch {
		case columns[i] != "":
			return columns[i]
		case i == 0:
			return ""
		}
		if unit := quantity.UnitOf(row[0]); unit != "" && columns[0] == "" {
			return unit
		}
		return t.Unit
	}
	// The largest number decides for all that share its heading whether they read
	// better in ounces or in pounds.
	inColumn, inAll := make([]float64, len(columns)), 0.0
	inRow := make([]float64, len(t.Rows))
	for r, row := range t.Rows {
		for i, cell := range row {
			if unitOf(row, i) == "" {
				continue
			}
			size := quantity.Largest(cell)
			inColumn[i], inRow[r], inAll = max(inColumn[i], size), max(inRow[r], size), max(inAll, size)
		}
	}
	out := Table{Align: t.Align, Title: w.text(t.Title)}
	if t.Unit != "" {
		out.Unit, _ = w.units.Unit(t.Unit, inAll)
	}
	for i, h := range t.Header {
		out.Header = append(out.Header, w.units.Labelled(w.text(h), inColumn[i]))
	}
	for r, row := range t.Rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			unit, size := unitOf(row, i), inRow[r]
			switch {
			case columns[i] != "":
				size = inColumn[i]
			case unit == t.Unit && quantity.UnitOf(row[0]) == "":
				size = inAll
			}
			cells[i] = w.units.Cell(cell, unit, size, w.names...)
		}
		if len(cells) > 0 && columns[0] == "" {
			cells[0] = w.units.Labelled(cells[0], inRow[r])
		}
		out.Rows = append(out.Rows, cells)
	}
	return out
}
