package swap

import (
	"cmp"
	"context"
	"slices"
)

// The assumptions that are tried, by the name that a turnover has.
const (
	StockMaterial    = "material of the stock part" // costs most when it is wrong
	RedesignMaterial = "material of the redesign"
	HowHeld          = "how the part is held"
	LoadDirection    = "direction of the load"
	Facing           = "facing of the redesign"
	ScaleResolution  = "resolution of the scale"
	DriveLimit       = "what limits the drive"
	LeastSaving      = "least saving"
	LeastStiffness   = "least stiffness ratio"
	LeastSafety      = "least safety factor"
)

// Turnover is one unverified assumption whose alternative changes the answer.
type Turnover struct {
	Assumption string  `json:"assumption"`
	From       string  `json:"from"`
	To         string  `json:"to"`
	Verdict    Verdict `json:"verdict"`
	Check      string  `json:"check"`
	Saving     Range   `json:"saving_percent"` // under the alternative

	kind  kindOf
	given string // what the verdict holds under, for a condition
}

// Tried is one plausible answer in place of what was taken.
type Tried struct {
	Assumption string
	From, To   string
	Verdict    Verdict // by the numbers alone
	Blocks     bool    // nothing is firm while this one is open and turns the answer
	Effort     int     // of finding out: lower is cheaper
}

// kindOf says what an assumption that would turn the answer does to it.
type kindOf int

const (
	listed    kindOf = iota // is listed under what would turn the answer
	undecided               // makes it `check first`: a material or a unit
	condition               // stands in the line of the verdict: direction, support, a usual limit
)

// alternative is one unverified assumption, replaced by something plausible.
type alternative struct {
	assumption string
	from, to   string
	check      string
	effort     int // of the check: lower is cheaper
	kind       kindOf
	given      string // what holds as it was taken, for a condition
	apply      func(inputs) inputs
}

// weighThePart is the cheapest check of all: a kitchen scale tells steel from
// aluminium.
const weighThePart = "weigh the part"

// Effort of a check, cheapest first (common practice).
const (
	effortScale  = iota // put it on a kitchen scale
	effortLook          // a magnet, a scratch, a look at the machine
	effortDecide        // settle what the person plans
)

// turnoversOf judges every alternative and keeps those that change the answer,
// cheapest check first.
func turnoversOf(ctx context.Context, in inputs, base Verdict, alternatives []alternative) (found []Turnover, tried []Tried, err error) {
	alternatives = slices.SortedStableFunc(slices.Values(alternatives), func(a, b alternative) int { return cmp.Compare(a.effort, b.effort) })
	quick := in
	quick.verdictOnly = true
	turned := make([]*outcome, len(alternatives))
	tried = make([]Tried, len(alternatives))
	err = each(ctx, len(alternatives), nil, func(_ context.Context, i int) error {
		verdict := judge(alternatives[i].apply(quick)).verdict
		tried[i] = alternatives[i].tried(verdict)
		if verdict != base {
			o := judge(alternatives[i].apply(in))
			turned[i] = &o
		}
		return nil
	})
	for i, a := range alternatives {
		if o := turned[i]; o != nil {
			found = append(found, Turnover{
				Assumption: a.assumption, From: a.from, To: a.to, Verdict: o.verdict, Check: a.check, Saving: o.saving.Percent,
				kind: a.kind, given: a.given,
			})
		}
	}
	return found, tried, err
}

func (a alternative) tried(v Verdict) Tried {
	return Tried{Assumption: a.assumption, From: a.from, To: a.to, Verdict: v, Blocks: a.kind == undecided, Effort: a.effort}
}
