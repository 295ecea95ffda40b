package note

import (
	"fmt"
	"path/filepath"

	"swapworth/swap"
)

// Rank lays a comparison with several redesigns out: one row each, best first,
// and the reasons of every verdict.
func Rank(r swap.Ranking, about About) Document {
	best := r.Redesigns[0]
	d := Document{
		Title: "Redesigns of " + filepath.Base(r.Old.File) + ", best first",
		Lead: []Line{{
			Text: fmt.Sprintf("Best of %d: %s. Verdict: %s", len(r.Redesigns), filepath.Base(best.New.File), best.Verdict),
			Tone: toneOf(best.Verdict),
		}},
		Blocks: []Block{rankTable(r)},
	}
	for _, one := range r.Redesigns {
		d.Blocks = append(d.Blocks, List{
			Title: fmt.Sprintf("%s: %s", filepath.Base(one.New.File), one.Verdict), Items: append(one.Reasons, one.NextStep),
		})
	}
	d.Blocks = append(d.Blocks,
		List{Title: "Cautions", Items: best.Cautions},
		Detail{Lines{Title: "How this was made", Lines: madeBy(about)}})
	return d
}

// rankTable has a column for each redesign as long as they fit beside each
// other, else a row each.
func rankTable(r swap.Ranking) Table {
	t := Table{Title: "Side by side", Header: []string{"", "verdict", "mass, g", "saving, %", "stiffness ratio", "safety factor"}, Align: "llrrrr"}
	for _, one := range r.Redesigns {
		ratio, safety := Missing, Missing
		if s := weakest(one.Stiffness); s != nil {
			ratio, safety = Interval(*s.Ratio, 3), Optional(s.NewSafetyFactor, 3)
		}
		t.Rows = append(t.Rows, []string{
			filepath.Base(one.New.File), string(one.Verdict), Number(one.New.Mass.Nominal, 3),
			Interval(one.Saving.Percent, 3), ratio, safety,
		})
	}
	return t
}

// weakest returns the direction with the least stiffness ratio, nil where none
// was found.
func weakest(all []swap.Stiffness) *swap.Stiffness {
	var least *swap.Stiffness
	for i, s := range all {
		if s.Ratio != nil && (least == nil || s.Ratio.Nominal < least.Ratio.Nominal) {
			least = &all[i]
		}
	}
	return least
}
