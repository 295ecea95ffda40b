package note

import (
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/textwrap"
	"swapworth/note/figure"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
	"swapworth/swap/mill"
)

// millable says in a word whether the redesign can be milled.
func millable(m mill.Millable) string {
	switch {
	case !m.OK:
		return "no: " + kindName(m.Findings[0].Kind)
	case m.MadeBy == mill.Lathe:
		return "a lathe's work"
	case m.MadeBy == mill.Saw:
		return "cut from tube"
	case len(m.Findings) > 0:
		return "yes, with care"
	}
	return "yes"
}

func kindName(k mill.Kind) string { return strings.ReplaceAll(string(k), "-", textwrap.Tie) }

// millableTable lists what is in the way of a cutter, lettered as on the views.
func millableTable(m mill.Millable) render.Table {
	t := render.Table{Title: "Can it be milled: " + millable(m), Header: []string{"", "place, mm", "found", "limit", "", "what to change"}, Align: "llrrll"}
	for i, f := range m.Findings {
		word := "hard"
		if f.Blocks {
			word = "blocks"
		}
		at := quantity.Short(f.Where[0], 3) + "," + textwrap.Tie + quantity.Short(f.Where[1], 3) + "," + textwrap.Tie + quantity.Short(f.Where[2], 3)
		t.Rows = append(t.Rows, []string{
			letter(i) + textwrap.Tie + kindName(f.Kind), at, quantity.Number(f.Value, 3), quantity.Number(f.Limit, 3), word, fullStop(capital(f.Says)) + " " + fullStop(capital(f.Change)),
		})
	}
	return t
}

// millablePlaces are the letters of the findings, where they are on the part.
func millablePlaces(places []r3.Vec) []figure.PointMark {
	var out []figure.PointMark
	for i, at := range places {
		out = append(out, figure.PointMark{At: at, Text: letter(i)})
	}
	return out
}

// millingBlocks say whether the redesign can be milled, where there is more to say
// than yes.
func millingBlocks(r swap.Result) []render.Block {
	if r.Millable == nil || len(r.Millable.Findings) == 0 {
		return nil
	}
	return []render.Block{millableTable(*r.Millable)}
}
