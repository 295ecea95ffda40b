package swap

import (
	"cmp"
	"context"
	"fmt"
	"slices"
)

// Ranking is what a comparison with several redesigns prints: every result,
// best first.
type Ranking struct {
	Old       Part     `json:"old"`
	Redesigns []Result `json:"redesigns"`
}

// Rank decides every case, on all cores, and puts the results in order: by
// verdict (swap, check first, keep), what bolts on before what does not, then by
// saving, largest first. The cases differ in their redesign's mesh alone.
// progress is told which share is done; nil says nothing.
func Rank(ctx context.Context, cases []Case, progress func(float64)) (Ranking, error) {
	results := make([]Result, len(cases))
	old := &shared{}
	err := each(ctx, len(cases), progress, func(ctx context.Context, i int) (err error) {
		if results[i], err = decideOn(ctx, cases[i], old); err != nil {
			return fmt.Errorf("%s: %w", cases[i].New.Loaded.Path, err)
		}
		return nil
	})
	if err != nil {
		return Ranking{}, err
	}
	slices.SortStableFunc(results, better)
	return Ranking{Old: results[0].Old, Redesigns: results}, nil
}

// better orders results, best first.
func better(a, b Result) int {
	order := []Verdict{Swap, CheckFirst, Keep}
	misfits := func(r Result) int {
		if r.Fit == nil {
			return 0
		}
		return len(r.Fit.Blocking)
	}
	return cmp.Or(
		cmp.Compare(slices.Index(order, a.Verdict), slices.Index(order, b.Verdict)),
		cmp.Compare(min(misfits(a), 1), min(misfits(b), 1)),
		cmp.Compare(b.Saving.Total.Nominal, a.Saving.Total.Nominal),
		cmp.Compare(a.New.File, b.New.File),
	)
}
