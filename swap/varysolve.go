package swap

import (
	"context"
	"fmt"
	"math"
	"strings"

	"swapworth/materials"
)

// A thickness is solved for in steps of a hundredth of a mm, a tenth of what class f of
// ISO 2768-1 allows on one of 6 mm and less and a fifth of what a slide caliper tells.
const (
	perMM  = 100
	enough = 1.0 / perMM
)

// mostTrials bounds how many thicknesses of a material are compared beyond those asked
// for. A dozen halve the range that is searched down to a step.
const mostTrials = 12

// searchedUpTo is the largest thickness that is looked at, in mm: twice the thickest
// asked for or drawn.
func searchedUpTo(w varied, thickness []float64) float64 {
	return 2 * max(w.drawn, thickness[len(thickness)-1])
}

// solutions are what was solved for in every material.
type solutions struct {
	thinnest, unsettled []Solved
	none                []NoneEnough
}

// lightestOf is the lightest of some, nil where there is none.
func lightestOf(all []Solved) *Solved {
	var out *Solved
	for i, s := range all {
		if out == nil || s.Mass < out.Mass {
			out = &all[i]
		}
	}
	return out
}

// solveAll finds the thinnest redesign of every material that meets every criterion.
func solveAll(ctx context.Context, w varied, stuff []materials.Material, grid []trials) (solutions, error) {
	out := solutions{thinnest: []Solved{}, unsettled: []Solved{}, none: []NoneEnough{}}
	best, none := make([]*Solved, len(stuff)), make([]string, len(stuff))
	last := func(t trials) float64 { return t[len(t)-1].thickness }
	err := each(ctx, len(stuff), nil, func(ctx context.Context, i int) (err error) {
		best[i], none[i], err = thinnest(ctx, w, stuff[i], grid[i], searchedUpTo(w, []float64{last(grid[i])}))
		return err
	})
	if err != nil {
		return out, err
	}
	for i, s := range best {
		switch {
		case s == nil:
			out.none = append(out.none, NoneEnough{stuff[i].Name, none[i]})
		case s.Meets:
			out.thinnest = append(out.thinnest, *s)
		default:
			out.unsettled = append(out.unsettled, *s)
		}
	}
	return out, nil
}

// thinnest solves for the thinnest redesign in a material up to a thickness. Between
// trials it guesses, and what it guesses is tried, so that the answer is a comparison and
// no guess. Where there is none it says why.
func thinnest(ctx context.Context, w varied, m materials.Material, tried trials, highest float64) (*Solved, string, error) {
	asked := w.c.Limits.confidence()
	for range mostTrials {
		at, more := tried.next(thinnestShare*w.drawn, highest, asked)
		if !more {
			break
		}
		t, err := w.compare(ctx, at, m)
		if err != nil {
			return nil, "", err
		}
		tried = tried.with(t)
	}
	_, best := tried.around()
	if best == nil || best.tends != meetsAll {
		return nil, tried.nothing(asked), nil
	}
	nominal, err := nominal(ctx, w, tried, best)
	return &Solved{best.variant(), nominal}, "", err
}

// nominal is the thickness from which the redesign meets every criterion with nominal
// values, at most that of a trial that meets them with the confidence asked for.
func nominal(ctx context.Context, w varied, tried trials, best *trial) (float64, error) {
	met := func(o outcome) bool {
		for _, c := range o.criteria {
			if c.Met != nil && !*c.Met {
				return false
			}
		}
		return true
	}
	low := tried[0].thickness
	at, _ := tried.root(low, best.thickness, met)
	if near, _ := tried.nearest(at); near != nil && at/near.thickness < apartEnough {
		return at, nil
	}
	t, err := w.compare(ctx, at, best.material)
	if err != nil || t.refused != nil {
		return at, err
	}
	at, _ = tried.with(t).root(low, best.thickness, met)
	return at, nil
}

// apartEnough is the ratio of two thicknesses up to which one is guessed from the other
// as well as it is solved: stiffness as a power of the thickness is off by a quarter of
// the change of the power, under 1 %, times the square of its logarithm.
const apartEnough = 1.1

// around returns the trials between which the thinnest that meets everything lies: one
// that is too thin, nil for none, and the first above it that is not.
func (all trials) around() (below, above *trial) {
	for _, t := range all {
		if t.tends != tooThin {
			return below, t
		}
		below = t
	}
	return below, nil
}

// next is the thickness between two to try next; there is none where the answer is known.
func (all trials) next(low, high, asked float64) (at float64, more bool) {
	below, above := all.around()
	switch {
	case below == nil && above.thickness > low: // down, until something is too thin
		return max(above.thickness/2, low), true
	case below == nil || above == nil && below.thickness >= high:
		return 0, false
	}
	low = below.thickness
	if above != nil {
		high = above.thickness
	}
	if high-low <= 1.5*enough && above != nil {
		return 0, false
	}
	at, found := all.root(low, high, func(o outcome) bool { return tends(o, asked, tooThin) != tooThin })
	at = math.Ceil(at*perMM-1e-6) / perMM
	switch {
	case !found && above == nil:
		return high, true
	case above != nil && at >= high-enough/2 && above.tends == meetsAll:
		return 0, false // a step thinner is too thin
	}
	if above != nil {
		high -= enough / 2 // that itself was tried
	}
	return min(max(at, low+enough), high), true
}

// root is the least thickness between two at which a guess is so, found by halving.
func (all trials) root(low, high float64, so func(outcome) bool) (at float64, found bool) {
	is := func(t float64) bool {
		o, ok := all.guess(t)
		return ok && so(o)
	}
	if !is(high) {
		return high, false
	}
	for high-low > enough/10 {
		if middle := math.Sqrt(low * high); is(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	return high, true
}

// nothing says why no thickness of a material meets every criterion: what is least sure
// in the trial that comes nearest.
func (all trials) nothing(asked float64) string {
	var best *trial
	for _, t := range all {
		if t.refused == nil && t.judged.outcome.all != nil && (best == nil || *t.judged.outcome.all >= *best.judged.outcome.all) {
			best = t
		}
	}
	if best == nil {
		return all[0].why()
	}
	worst := Criterion{}
	for _, c := range best.judged.outcome.criteria {
		switch {
		case c.kind == safetyCriterion && c.Probability == nil || worst.Name != "" && worst.Probability == nil:
		case worst.Name == "", c.Probability == nil, *c.Probability < *worst.Probability:
			worst = c
		}
	}
	if worst.Probability != nil && *best.judged.outcome.all >= asked { // it is blocked
		return fmt.Sprintf("at %s mm %s", number(best.thickness), lowered(best.why()))
	}
	return fmt.Sprintf("at %s mm %s", number(best.thickness), lowered(worst.describe()))
}

// lowered is a sentence behind another word.
func lowered(text string) string { return strings.ToLower(text[:1]) + text[1:] }

// NoneEnough is a material in which no thickness meets every criterion, and why.
type NoneEnough struct {
	Material string `json:"material"`
	Why      string `json:"why"`
}

// Solved is the thinnest redesign of a material that meets every criterion with the
// confidence asked for, and the thickness from which it would with nominal values alone.
type Solved struct {
	Variant
	Nominal float64 `json:"nominal_thickness_mm"`
}
