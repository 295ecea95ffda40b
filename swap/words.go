package swap

import (
	"fmt"
	"slices"
	"strings"

	"swapworth/materials"
)

// cautions are printed with every comparison.
var cautions = []string{
	"An estimate, not a proof: linear elasticity on drawn shapes with handbook values.",
	"A part whose failure can hurt someone goes to a qualified engineer and the local code.",
	"At the mill: eye protection, the work clamped, no loose clothing or gloves, chips cleared with a brush and the spindle stopped.",
}

// reasons says why the verdict is what it is, the loudest first.
func reasons(table *materials.Table, old, new knowledge, j judged, a answer) []string {
	var out []string
	for _, one := range a.slips {
		out = append(out, one.reason)
	}
	for _, k := range []knowledge{old, new} {
		if k.contradiction != "" {
			out = append(out, k.contradiction)
		}
	}
	if t := firstOpen(telling(a.turnovers, a.verdict)); t != nil {
		out = append(out, materialReason(table, j.outcome.verdict, *t))
	}
	out = append(out, j.in.blocks...)
	out = append(out, decisive(j.outcome, j.in.limits.confidence())...)
	if open := strengthLeftOpen(j.in, j.outcome.criteria); open != "" {
		out = append(out, open)
	}
	return out
}

// describe says in a sentence how a criterion came out.
func (c Criterion) describe() string {
	if c.Value == nil {
		return fmt.Sprintf("The %s is not judged: give %s", strings.TrimSuffix(c.Name, " (%)"), c.Missing)
	}
	v, limit := *c.Value, number(*c.Limit)
	asks := func(limit string) string {
		if c.usual {
			return "the usual limit is " + limit
		}
		return limit + " was asked for"
	}
	switch c.kind {
	case savingCriterion:
		if v.Nominal < 0 {
			return fmt.Sprintf("The redesign is %s heavier; %s", percentSpan(v.Scale(-1)), asks("a saving of at least "+limit+" %"))
		}
		return fmt.Sprintf("It saves %s of the part; %s", percentSpan(v), asks("at least "+limit+" %"))
	case gainCriterion:
		if v == (Range{}) {
			return "The controller sets the acceleration, so saved mass gains none; " + asks("a gain of at least "+limit+" %")
		}
		return fmt.Sprintf("Acceleration at the same drive force changes by %s; %s", percentSpan(v), asks("a gain of at least "+limit+" %"))
	case demandCriterion:
		return c.demand.says(c)
	default:
		return fmt.Sprintf("The %s is %s; %s", c.Name, span(v), asks("at least "+limit))
	}
}

// firstOpen returns the first turnover that leaves the answer undecided.
func firstOpen(turns []Turnover) *Turnover {
	for i, t := range turns {
		if t.kind == undecided {
			return &turns[i]
		}
	}
	return nil
}

// materialReason says that the answer rests on a material nobody has checked.
func materialReason(table *materials.Table, base Verdict, t Turnover) string {
	to := t.To
	if m, err := table.Find(to); err == nil { // a designation tells few people the metal
		to += " (" + m.Family + ")"
	}
	return fmt.Sprintf("The answer rests on the %s being %s, which nobody has checked: if it is %s, %q becomes %q",
		strings.TrimPrefix(t.Assumption, "material of the "), t.From, to, base, t.Verdict)
}

// decisive describes the criteria that made the verdict: the missed ones of `keep`, or
// all that may be missed where none is for sure, the unsure and unjudged ones of
// `check first`, all of `swap`.
func decisive(o outcome, confidence float64) []string {
	var out []string
	alone := slices.ContainsFunc(o.criteria, func(c Criterion) bool { return c.Probability != nil && *c.Probability <= 1-confidence })
	for _, c := range o.criteria {
		missed := c.Probability != nil && (*c.Probability <= 1-confidence || !alone && *c.Probability < confidence)
		unsure := c.Probability == nil && c.kind != safetyCriterion || c.Probability != nil && *c.Probability < confidence
		met := c.Probability != nil && *c.Probability >= confidence
		if o.verdict == Keep && missed || o.verdict == CheckFirst && unsure || o.verdict == Swap && met {
			out = append(out, c.describe())
		}
	}
	if (o.verdict == CheckFirst || o.verdict == Keep && !alone) && o.all != nil && *o.all < confidence {
		out = append(out, fmt.Sprintf("All criteria together are met with a probability of %s %%; %s %% is asked", number(100**o.all), number(100*confidence)))
	}
	return out
}

// strengthLeftOpen says that strength was not judged, and what is known instead.
func strengthLeftOpen(in inputs, criteria []Criterion) string {
	for _, c := range criteria {
		if c.kind != safetyCriterion || c.Probability != nil {
			continue
		}
		text := "Strength is left open: give " + c.Missing
		for _, d := range in.directions {
			if f := in.new.yieldForce(d, d.new); f != nil {
				text += fmt.Sprintf("; the redesign yields at %s N along %s", number(*f), d.name)
			}
		}
		return text
	}
	return ""
}

// missing says what each input that was not given would add.
func missing(c Case, in inputs) []string {
	var out []string
	add := func(absent bool, text string) {
		if absent {
			out = append(out, text)
		}
	}
	add(in.old.weighed == nil, "--old-weight: the stock part's mass as it is, and with it what it is made of")
	add(c.Old.Material == nil && in.old.weighed == nil, "--old-material: mass and stiffness of the stock part")
	add(c.New.Material == nil, "--new-material: mass and stiffness of the redesign")
	add(in.force.Nominal <= 0 && !c.Loading.named(), "--load: deflection, stress and the safety factor to yield")
	add(!in.machine.known() && in.machine.Pivot == nil, "--moving-mass (or --pivot and --moving-inertia): what the saving buys in acceleration")
	add(in.machine.MovingMass > 0 && in.machine.Drive.mass() == 0 && in.machine.Drive.Limited != BySpeed,
		"--drive-inertia with --travel-per-turn or --pulley: what the motor turns is accelerated too, and makes the gain smaller")
	add(in.machine.Pivot != nil && in.machine.MovingInertia == 0, "--moving-inertia: what the saving buys in acceleration of the swinging arm")
	add(in.cost.Total == nil, "--hourly-value or --quoted-price: what the swap costs")
	return out
}

// nextStep is the one thing to do next.
func nextStep(c Case, m measured, j judged, a answer) string {
	turns := telling(a.turnovers, a.verdict)
	open := firstOpen(turns)
	switch {
	case len(a.slips) > 0:
		return a.slips[0].next
	case contradicted(m.old.known, m.new.known):
		return settleContradiction(m.old.known, c.Old, a.verdict)
	case open != nil && open.Check == weighThePart:
		return "Weigh the part and give --old-weight"
	case open != nil:
		return "Decide what the redesign will be cut from and give --new-material"
	case a.condition() != nil:
		return settleCondition(turns)
	case a.verdict == CheckFirst && m.millable != nil && !m.millable.OK:
		return "Change the drawing where it cannot be milled, or ask a supplier's price for it and give --quoted-price"
	case a.verdict == CheckFirst:
		return settleUnsure(j.outcome.criteria, c.Old, c.Limits.confidence())
	case j.in.force.Nominal <= 0 && !c.Loading.named() && a.verdict == Swap:
		return "Give the load with --load, so that strength is judged too"
	case a.verdict == Swap:
		return "Bolt pattern and stock first, then cut"
	default:
		return "Leave the stock part on, or look at the break-evens for a redesign that would pay"
	}
}

// settleCondition names the cheapest check that makes a conditional verdict firm.
func settleCondition(turns []Turnover) string {
	for _, t := range turns {
		if t.kind == condition {
			return strings.ToUpper(t.Check[:1]) + t.Check[1:]
		}
	}
	return "Settle what the verdict holds under"
}

// settleContradiction says how to find out which of two statements is wrong.
func settleContradiction(k knowledge, stock Side, v Verdict) string {
	switch {
	case k.contradiction == "":
		return "Find out why the redesign weighs what it does: compare the made part with its model"
	case stock.Weight == nil:
		return "Weigh the part and give --old-weight"
	case v == Keep:
		return "Leave the stock part on; if you doubt the scale, weigh it again with all hardware off"
	default:
		return "Settle what the stock part is: weigh it again with all hardware off, and compare the model with the part"
	}
}

// settleUnsure names the check that would settle the first unsure criterion.
func settleUnsure(criteria []Criterion, stock Side, confidence float64) string {
	for _, c := range criteria {
		if c.Probability != nil && (*c.Probability >= confidence || *c.Probability <= 1-confidence) {
			continue
		}
		switch c.kind {
		case gainCriterion, savingCriterion:
			if c.Probability == nil {
				return "Give " + c.Missing
			}
			if stock.Weight == nil {
				return "Weigh the part and give --old-weight"
			}
			return "Weigh the stock part on a finer scale"
		case stiffnessCriterion:
			return "Run it again with --check solid, which solves on the full budget"
		case safetyCriterion:
			if c.Probability != nil {
				return "Measure the load, and run it again with --check solid"
			}
		case demandCriterion:
			return c.demand.settle(c)
		}
	}
	return "Settle the findings above"
}

// telling drops turnovers that end in the verdict given anyway, except those of
// materials, which may be what the verdict comes from.
func telling(all []Turnover, final Verdict) []Turnover {
	return slices.DeleteFunc(slices.Clone(all), func(t Turnover) bool {
		return t.Verdict == final && t.Assumption != StockMaterial && t.kind != undecided
	})
}

// condition joins what a firm verdict holds under, nil where nothing turns it.
func (a answer) condition() *string {
	if a.verdict == CheckFirst {
		return nil
	}
	var all []string
	for _, t := range a.turnovers {
		if t.kind == condition && !slices.Contains(all, t.given) {
			all = append(all, t.given)
		}
	}
	if len(all) == 0 {
		return nil
	}
	text := "if " + strings.Join(all, " and ")
	return &text
}
