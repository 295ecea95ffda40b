package note

import (
	"swapworth/swap"
)

// compareFigures draws what the case and its result hold.
func compareFigures(r swap.Result, a About) []Figure {
	var out []Figure
	if r.Old.Mass != nil && r.New.Mass != nil {
		out = append(out, massFigure(r))
	}
	if rows := judgedRows(r); len(rows) > 0 {
		out = append(out, AgainstLimits("Criteria against their limits", rows))
	}
	if a.Case.Old.Loaded != nil && a.Case.New.Loaded != nil {
		out = append(out, ThreeViews([]PartView{
			{Name: "stock part", Mesh: a.Case.Old.Loaded.Mesh},
			{Name: "redesign", Mesh: a.Case.New.Loaded.Mesh},
		}))
	}
	return out
}

func massFigure(r swap.Result) Figure {
	return Intervals("Mass of both and what is saved", "g a piece", []IntervalRow{
		{Name: "stock part", Range: *r.Old.Mass, Series: 0},
		{Name: "redesign", Range: *r.New.Mass, Series: 1},
		{Name: "saving", Range: r.Saving.PerPart, Series: 2},
	})
}

func judgedRows(r swap.Result) []IntervalRow {
	var rows []IntervalRow
	for _, c := range r.Criteria {
		if c.Value != nil && c.Limit != nil && *c.Limit != 0 {
			rows = append(rows, IntervalRow{Name: c.Name, Range: *c.Value, Limit: c.Limit, AtMost: upperLimits[c.Name]})
		}
	}
	return rows
}
