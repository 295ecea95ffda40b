package swap

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
)

// Ranking is what a comparison with several redesigns prints: every result,
// best first.
type Ranking struct {
	Old       Part      `json:"old"`
	Redesigns []Result  `json:"redesigns"`
	Refused   []Refused `json:"refused"` // in the order in which they were named
	Goal      Goal      `json:"goal"`
	MaxCost   *float64  `json:"max_cost"` // that was set
}

// Refused is a redesign that no comparison could be made of, such as one without a match
// of a place that is held, and why.
type Refused struct {
	File string `json:"file"`
	Why  string `json:"why"`
}

// Rank decides every case, on all cores, and puts the results in order: by verdict
// (swap, check first, keep), what bolts on before what does not; those that meet
// everything by the goal, best first, and those that miss by how near they are to
// meeting. A redesign that cannot be compared is left out with its name; where none can,
// that is an error. The cases differ in their redesign's mesh alone. progress is told
// which share is done; nil says nothing.
func Rank(ctx context.Context, cases []Case, progress func(float64)) (Ranking, error) {
	results, refused := make([]Result, len(cases)), make([]error, len(cases))
	old := &shared{}
	err := each(ctx, len(cases), progress, func(ctx context.Context, i int) error {
		results[i], refused[i] = rankedOn(ctx, cases[i], old)
		return ctx.Err()
	})
	if err != nil {
		return Ranking{}, err
	}
	r := Ranking{Redesigns: []Result{}, Refused: []Refused{}}
	for i, why := range refused {
		if file := cases[i].New.Loaded.Path; why != nil {
			r.Refused = append(r.Refused, Refused{file, why.Error()})
		} else {
			r.Redesigns = append(r.Redesigns, results[i])
		}
	}
	if len(r.Redesigns) == 0 {
		return Ranking{}, fmt.Errorf("%s: %w", cases[0].New.Loaded.Path, refused[0])
	}
	l := cases[0].Limits
	slices.SortStableFunc(r.Redesigns, func(a, b Result) int { return better(a, b, l.Goal) })
	r.Old, r.Goal, r.MaxCost = r.Redesigns[0].Old, cmp.Or(l.Goal, Lighter), l.MaxCost
	return r, nil
}

// rankedOn is decideOn, with what a redesign that misses needs.
func rankedOn(ctx context.Context, c Case, old *shared) (Result, error) {
	d, err := decisionOn(ctx, c, old, &shared{}, thorough)
	if err != nil {
		return Result{}, err
	}
	r := say(d)
	r.Needed = needed(d)
	return r, nil
}

// better orders results, best first.
func better(a, b Result, goal Goal) int {
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
		cmp.Compare(a.lacks(), b.lacks()),
		cmp.Compare(b.worth(goal), a.worth(goal)),
		cmp.Compare(b.Saving.Total.Nominal, a.Saving.Total.Nominal),
		cmp.Compare(a.New.File, b.New.File),
	)
}

// lacks is how far a result is from meeting everything: nothing for one that does, and
// most where no change that is computed would do.
func (r Result) lacks() float64 {
	switch {
	case r.Needed == nil:
		return 0
	case r.Needed.Change == nil:
		return math.Inf(1)
	}
	return *r.Needed.Change
}

// worth is what a result is worth for a goal, more for better.
func (r Result) worth(goal Goal) float64 {
	switch goal {
	case Stiffer:
		least := math.Inf(1)
		for _, s := range r.Stiffness {
			if s.Ratio != nil {
				least = min(least, s.Ratio.Nominal)
			}
		}
		return least
	case Cheaper:
		if r.Cost != nil && r.Cost.Total != nil {
			return -*r.Cost.Total
		}
		return math.Inf(-1)
	}
	return r.Saving.Total.Nominal
}
