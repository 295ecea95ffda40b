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

// tendency says what a thickness is short of.
type tendency int

const (
	tooThin tendency = iota
	meetsAll
	tooThick
)

// searched is the largest thickness that is looked at, in mm: twice the thickest
// asked for or drawn.
func (w *varying) searched() float64 {
	return 2 * max(w.drawn, w.thickness[len(w.thickness)-1])
}

// solveAll finds the thinnest redesign of every material that meets every criterion.
func (w *varying) solveAll(out *Variants) error {
	best, none := make([]*Solved, len(w.materials)), make([]string, len(w.materials))
	err := each(w.ctx, len(w.materials), nil, func(ctx context.Context, i int) (err error) {
		best[i], none[i], err = w.thinnest(ctx, w.materials[i])
		return err
	})
	if err != nil {
		return err
	}
	for i, s := range best {
		switch {
		case s == nil:
			out.None = append(out.None, NoneEnough{w.materials[i].Name, none[i]})
		case s.Meets:
			out.Thinnest = append(out.Thinnest, *s)
		default:
			out.Unsettled = append(out.Unsettled, *s)
		}
	}
	for i, s := range out.Thinnest {
		if out.Lightest == nil || s.Mass < out.Lightest.Mass {
			out.Lightest = &out.Thinnest[i]
		}
	}
	return nil
}

// thinnest solves for the thinnest redesign in a material. Between trials it guesses,
// and what it guesses is tried, so that the answer is a comparison and no guess. Where
// there is none it says why.
func (w *varying) thinnest(ctx context.Context, m materials.Material) (*Solved, string, error) {
	for range mostTrials {
		at, more := w.next(m)
		if !more {
			break
		}
		t, err := w.compare(ctx, at, m)
		if err != nil {
			return nil, "", err
		}
		w.keep(t)
	}
	_, best := w.around(m)
	if best == nil || w.tends(best) != meetsAll {
		return nil, w.nothing(m), nil
	}
	nominal, err := w.nominal(ctx, best)
	return &Solved{best.variant(), nominal}, "", err
}

// tends says what a trial is short of. What stands in the way of it alone, and not of
// the redesign as drawn, draws it towards that.
func (w *varying) tends(t *trial) tendency {
	towards := tooThick
	if t.thickness < w.drawn {
		towards = tooThin
	}
	if t.refused != nil || len(t.in.blocks) > 0 && !w.drawnBlocked() {
		return towards
	}
	return tends(t.o, t.in.limits.confidence(), towards)
}

// tends says what an outcome is short of: what is least sure decides. otherwise is for
// what cannot be judged.
func tends(o outcome, asked float64, otherwise tendency) tendency {
	thin, thick := 1.0, 1.0
	for _, c := range o.criteria {
		switch {
		case c.Probability == nil && c.kind == safetyCriterion:
		case c.Probability == nil:
			return otherwise
		case c.grows():
			thin = min(thin, *c.Probability)
		default:
			thick = min(thick, *c.Probability)
		}
	}
	switch {
	case o.all == nil:
		return otherwise
	case *o.all >= asked:
		return meetsAll
	case thick < thin:
		return tooThick
	}
	return tooThin
}

// grows reports whether more thickness helps a criterion.
func (c Criterion) grows() bool {
	switch c.kind {
	case stiffnessCriterion, safetyCriterion:
		return true
	case demandCriterion:
		return c.demand.grows
	}
	return false
}

// drawnBlocked reports whether something is in the way of the redesign as drawn.
func (w *varying) drawnBlocked() bool { return len(w.s.blocks) > 0 }

// around returns the trials between which the thinnest that meets everything lies: one
// that is too thin, nil for none, and the first above it that is not.
func (w *varying) around(m materials.Material) (below, above *trial) {
	for _, t := range *w.trials[m.Name] {
		if w.tends(t) != tooThin {
			return below, t
		}
		below = t
	}
	return below, nil
}

// next is the thickness to try next; there is none where the answer is known.
func (w *varying) next(m materials.Material) (at float64, more bool) {
	below, above := w.around(m)
	low, high := thinnestShare*w.drawn, w.searched()
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
	at, found := w.root(m, low, high, func(o outcome) bool { return tends(o, w.c.Limits.confidence(), tooThin) != tooThin })
	at = math.Ceil(at*perMM-1e-6) / perMM
	switch {
	case !found && above == nil:
		return high, true
	case above != nil && at >= high-enough/2 && w.tends(above) == meetsAll:
		return 0, false // a step thinner is too thin
	}
	if above != nil {
		high -= enough / 2 // that itself was tried
	}
	return min(max(at, low+enough), high), true
}

// root is the least thickness between two at which a guess is so, found by halving.
func (w *varying) root(m materials.Material, low, high float64, so func(outcome) bool) (at float64, found bool) {
	is := func(t float64) bool {
		o, ok := w.guess(t, m)
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

// nominal is the thickness from which the redesign meets every criterion with nominal
// values, at most that of a trial that meets them with the confidence asked for.
func (w *varying) nominal(ctx context.Context, best *trial) (float64, error) {
	met := func(o outcome) bool {
		for _, c := range o.criteria {
			if c.Met != nil && !*c.Met {
				return false
			}
		}
		return true
	}
	low := (*w.trials[best.material.Name])[0].thickness
	at, _ := w.root(best.material, low, best.thickness, met)
	if near, _ := w.nearest(at, best.material); near != nil && at/near.thickness < apartEnough {
		return at, nil
	}
	t, err := w.compare(ctx, at, best.material)
	if err != nil || t.refused != nil {
		return at, err
	}
	w.keep(t)
	at, _ = w.root(best.material, low, best.thickness, met)
	return at, nil
}

// apartEnough is the ratio of two thicknesses up to which one is guessed from the other
// as well as it is solved: stiffness as a power of the thickness is off by a quarter of
// the change of the power, under 1 %, times the square of its logarithm.
const apartEnough = 1.1

// nothing says why no thickness of a material meets every criterion: what is least sure
// in the trial that comes nearest.
func (w *varying) nothing(m materials.Material) string {
	var best *trial
	for _, t := range *w.trials[m.Name] {
		if t.refused == nil && t.o.all != nil && (best == nil || *t.o.all >= *best.o.all) {
			best = t
		}
	}
	if best == nil {
		return (*w.trials[m.Name])[0].why()
	}
	worst := Criterion{}
	for _, c := range best.o.criteria {
		switch {
		case c.kind == safetyCriterion && c.Probability == nil || worst.Name != "" && worst.Probability == nil:
		case worst.Name == "", c.Probability == nil, *c.Probability < *worst.Probability:
			worst = c
		}
	}
	if worst.Probability != nil && *best.o.all >= w.c.Limits.confidence() { // it is blocked
		return fmt.Sprintf("at %s mm %s", number(best.thickness), lowered(best.why()))
	}
	return fmt.Sprintf("at %s mm %s", number(best.thickness), lowered(worst.describe()))
}

// lowered is a sentence behind another word.
func lowered(text string) string { return strings.ToLower(text[:1]) + text[1:] }
