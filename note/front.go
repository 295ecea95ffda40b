package note

import (
	"cmp"
	"fmt"
	"slices"

	"swapworth/note/figure"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// frontLength is how long a finding or a warning may be on a first page: two lines.
const frontLength = 240

// front is what stands on the first page of a comparison below the verdict: both parts
// in pictures and numbers, the criteria, what could change the answer, the next step and
// the cautions. Who reads no further has what there is to know.
func front(r swap.Result) []render.Block {
	out := []render.Block{render.Later(func(u quantity.System) []render.Block { return frontPictures(u, r) })}
	table := shortTable(r, shortRows)
	table.Title = "Both parts"
	out = append(out, table, frontCriteria(r), render.Lines{Title: "Bolting on and milling", Lines: shortFindings(r, frontLength)})
	if len(r.Lasting) > 0 {
		out = append(out, lastingLines(r))
	}
	if w := shortWarningsOf(r, frontLength); len(w) > 0 {
		out = append(out, render.Lines{Title: "Warnings", Lines: lines(render.Caution, w...)})
	}
	return append(out, nextStep(r), render.List{Title: cautionsTitle, Items: r.Cautions})
}

// frontCriteriaRows is how many criteria a first page has room for.
const frontCriteriaRows = 8

// frontCriteria are all criteria, or of many those least likely to be met; the appendix
// then has them all.
func frontCriteria(r swap.Result) render.Table {
	if len(r.Criteria) <= frontCriteriaRows {
		return criteriaTable(r)
	}
	likely := func(c swap.Criterion) float64 {
		if c.Probability == nil {
			return -1 // not judged
		}
		return *c.Probability
	}
	some := r
	some.Criteria = slices.Clone(r.Criteria)
	slices.SortStableFunc(some.Criteria, func(a, b swap.Criterion) int { return cmp.Compare(likely(a), likely(b)) })
	some.Criteria = some.Criteria[:frontCriteriaRows]
	t := criteriaTable(some)
	t.Title = fmt.Sprintf("Criteria, the %d of %d least likely met", frontCriteriaRows, len(r.Criteria))
	return t
}

// frontPictures show both parts beside each other: three views and at a slant.
func frontPictures(u quantity.System, r swap.Result) []render.Block {
	if r.Drawing == nil {
		return nil
	}
	both := bothParts(r.Drawing)
	return []render.Block{render.Beside{
		{Figure: figure.ThreeViewsIn(figure.Half, u, both)}, {Figure: figure.Shaded(figure.Half, both)},
	}}
}
