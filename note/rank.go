package note

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"swapworth/note/figure"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// Rank lays a comparison with several redesigns out: a column each, best first,
// and the reasons of every verdict.
func Rank(r swap.Ranking, cases []swap.Case) render.Document {
	d := ShortRank(r)
	d.Blocks = append(d.Blocks,
		render.Later(func(u quantity.System) []render.Block { return rankFigures(u, r) }),
		render.Detail{Block: howSure})
	d.Blocks = append(d.Blocks, RememberedBlocks(cases[0].Remembered)...)
	d.Blocks = append(d.Blocks,
		render.Detail{Block: rankInputs(r, cases)},
		render.List{Title: "Cautions", Items: r.Redesigns[0].Cautions})
	return d
}

// ShortRank is the part of Rank that a person decides by: the table and the reasons.
func ShortRank(r swap.Ranking) render.Document {
	best := r.Redesigns[0]
	lead := []render.Line{{
		Text: fmt.Sprintf("Best of %d: %s. Verdict: %s", len(r.Redesigns), filepath.Base(best.New.File), best.Verdict),
		Tone: toneOf(best.Verdict),
	}}
	lead = append(lead, withinCost(r)...)
	for _, one := range r.Refused {
		lead = append(lead, render.Line{Text: fullStop("Not compared: " + filepath.Base(one.File) + ": " + one.Why), Tone: render.Caution})
	}
	paths := []string{r.Old.File}
	for _, one := range r.Redesigns {
		paths = append(paths, one.New.File)
	}
	d := render.Document{
		Title:  "Redesigns of " + filepath.Base(r.Old.File) + ", best first",
		Lead:   lead,
		Blocks: []render.Block{rankTable(r)},
		Units:  best.Units, Names: namesOf(paths...),
	}
	for _, one := range r.Redesigns {
		d.Blocks = append(d.Blocks, render.List{
			Title: fmt.Sprintf("%s: %s", filepath.Base(one.New.File), one.Verdict),
			Items: slices.Concat(one.Reasons, needs(one), []string{"Next: " + one.NextStep}),
		})
	}
	return d
}

// withinCost says which redesign saves most of those that cost no more than was asked.
func withinCost(r swap.Ranking) []render.Line {
	best := r.Redesigns[0]
	if r.MaxCost == nil || r.Goal != swap.Lighter || best.Verdict != swap.Swap || best.Cost == nil || best.Cost.Total == nil {
		return nil
	}
	return []render.Line{{Text: fmt.Sprintf("Largest saving within a cost of %s: %s g in all for %s.", best.Cost.Sum(quantity.Short(*r.MaxCost, 4)),
		quantity.Number(best.Saving.Total.Nominal, 3), best.Cost.Sum(quantity.Number(*best.Cost.Total, 3)))}}
}

// needs says what would make a redesign that misses a swap.
func needs(one swap.Result) []string {
	if one.Needed == nil || len(one.Needed.Says) == 0 {
		return nil
	}
	return []string{"What would do it: " + strings.Join(one.Needed.Says, ", and ")}
}

// rankInputs lists what the answers were computed from, the redesigns in the
// order of their columns.
func rankInputs(r swap.Ranking, cases []swap.Case) render.Table {
	parts := []partOf{{"stock part", cases[0].Old, r.Old}}
	for _, one := range r.Redesigns {
		for _, c := range cases {
			if c.New.Loaded.Path == one.New.File {
				parts = append(parts, partOf{filepath.Base(one.New.File), c.New, one.New})
				break
			}
		}
	}
	return inputTable(cases[0], parts...)
}

// rankTable has a column for the stock part and one for each redesign. What does
// not fit beside each other in a terminal follows below.
func rankTable(r swap.Ranking) render.Table {
	t := render.Table{Title: "Side by side", Header: []string{"", "stock part"}}
	for _, one := range r.Redesigns {
		t.Header = append(t.Header, filepath.Base(one.New.File))
	}
	row := func(name, old string, cell func(swap.Result) string) {
		cells := []string{name, old}
		for _, one := range r.Redesigns {
			cells = append(cells, cell(one))
		}
		if slices.ContainsFunc(cells[1:], func(c string) bool { return c != missing && c != "" }) {
			t.Rows = append(t.Rows, cells)
		}
	}
	row("verdict", "", func(one swap.Result) string { return string(one.Verdict) })
	row("material", textOr(r.Old.Material), func(one swap.Result) string { return textOr(one.New.Material) })
	row("mass each, g", optionalInterval(r.Old.Mass, 3), func(one swap.Result) string { return optionalInterval(one.New.Mass, 3) })
	row("saving, %", "", func(one swap.Result) string { return interval(one.Saving.Percent, 3) })
	for i, s := range r.Redesigns[0].Stiffness {
		row("stiffness ratio "+tied(s.Among()), "", func(one swap.Result) string { return optionalInterval(one.Stiffness[i].Ratio, 3) })
		row("deflection "+tied(s.Among())+", mm", optional(s.OldDeflection, 3), func(one swap.Result) string {
			return optional(one.Stiffness[i].NewDeflection, 3)
		})
		if asksFrequency(r) {
			row("natural frequency "+tied(s.Among())+", Hz", optional(s.OldFrequency, 3), func(one swap.Result) string {
				return optional(one.Stiffness[i].NewFrequency, 3)
			})
		}
		row("safety factor "+tied(s.Among()), optional(s.OldSafetyFactor, 3), func(one swap.Result) string {
			return optional(one.Stiffness[i].NewSafetyFactor, 3)
		})
	}
	row("bolts on", "", func(one swap.Result) string {
		switch {
		case one.Fit == nil:
			return missing
		case one.Fit.OK:
			return "yes"
		}
		return "no"
	})
	row(gainName(r.Redesigns[0].Motion)+", %", "", func(one swap.Result) string {
		if one.Motion == nil {
			return missing
		}
		return optionalInterval(one.Motion.AccelerationGain, 3)
	})
	row(r.Redesigns[0].Cost.In("cost in all"), "", func(one swap.Result) string {
		if one.Cost == nil {
			return missing
		}
		return optional(one.Cost.Total, 3)
	})
	row("all criteria met", "", func(one swap.Result) string { return chance(one.Probability) })
	row("what would do it", "", func(one swap.Result) string {
		if one.Needed == nil {
			return ""
		}
		return strings.Join(one.Needed.Says, "; ")
	})
	return t
}

// asksFrequency reports whether a frequency is a criterion.
func asksFrequency(r swap.Ranking) bool {
	return slices.ContainsFunc(r.Redesigns[0].Criteria, func(c swap.Criterion) bool { return strings.HasPrefix(c.Name, "natural frequency") })
}

// rankFigures shows all parts in three views.
func rankFigures(u quantity.System, r swap.Ranking) []render.Block {
	var views []figure.PartView
	for i, one := range r.Redesigns {
		name := filepath.Base(one.New.File)
		if one.Drawing == nil {
			continue
		}
		if len(views) == 0 {
			views = append(views, figure.PartView{Name: "stock part", Mesh: one.Drawing.Old.Mesh})
		}
		views = append(views, figure.PartView{Name: name, Series: i + 1, Mesh: one.Drawing.New.Mesh})
	}
	var out []render.Block
	for some := range slices.Chunk(views, 6) { // as many as a page holds
		out = append(out, render.Picture{Figure: figure.ThreeViews(u, some)})
	}
	return out
}
