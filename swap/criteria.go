package swap

import (
	"slices"

	"swapworth/swap/internal/draw"
)

// Verdict is one of the three answers.
type Verdict string

// The three answers.
const (
	Swap       Verdict = "swap"
	Keep       Verdict = "keep"
	CheckFirst Verdict = "check first"
)

// Saving is old minus new: positive when the redesign is lighter.
type Saving struct {
	PerPart Range `json:"per_part_g"`
	Total   Range `json:"total_g"`
	Percent Range `json:"percent"`
}

// outcome is what one set of inputs comes to.
type outcome struct {
	saving       Saving
	gained       gained
	ratios       []*Range // of stiffness, by direction; nil where it was refused
	hours, total *Range
	criteria     []Criterion
	all          *float64 // the probability that every judged criterion is met; nil for none
	verdict      Verdict
}

// judge propagates the inputs and holds the criteria against them.
func judge(in inputs) outcome {
	o := outcome{ratios: make([]*Range, len(in.directions))}
	oldMass, newMass := in.masses()
	o.saving = savingOf(in, oldMass, newMass)
	gained, rulings := judgeGain(in, oldMass, newMass)
	o.gained = gained
	rulings = append(rulings, judgeSaving(in, o.saving, oldMass, newMass)...)
	for i, d := range in.directions {
		ratio, stiff := judgeStiffness(in, d)
		o.ratios[i] = ratio
		rulings = append(rulings, stiff, judgeSafety(in, d))
	}
	rulings = append(rulings, judgePrice(in)...)
	for i := range demands {
		rulings = append(rulings, demands[i].judge(in)...)
	}
	if in.cost != nil && !in.verdictOnly {
		o.hours, o.total = spread(in, takes(in)), spread(in, costs(in, "cost"))
	}
	o.criteria = criteriaOf(rulings, in.limits)
	o.all, o.verdict = conclude(rulings, in.limits.confidence(), len(in.blocks) > 0)
	return o
}

// spread is the 95 % interval of what is known, nil where nothing is.
func spread(in inputs, m sampled) *Range {
	if m.missing != "" {
		return nil
	}
	r := in.interval(m.sample, m.nominal)
	return &r
}

func savingOf(in inputs, oldMass, newMass []float64) Saving {
	each, percent := make([]float64, draw.Count), make([]float64, draw.Count)
	for i := range each {
		each[i] = oldMass[i] - newMass[i]
		percent[i] = 100 * each[i] / oldMass[i]
	}
	nominal := in.old.mass() - in.new.mass()
	one := in.interval(each, nominal)
	return Saving{
		PerPart: one,
		Total:   one.Scale(in.count),
		Percent: in.interval(percent, 100*nominal/in.old.mass()),
	}
}

const gainName = "acceleration gain (%)"

// gained is what the saving buys, as fractions: of acceleration, of the frequency on the
// mount, and of the drive force that it spares. Nil where the motion is not known.
type gained struct{ acceleration, frequency, eased *Range }

// judgeGain finds what the saving buys, and judges it where it is asked for.
func judgeGain(in inputs, oldMass, newMass []float64) (gained, []ruling) {
	limit := in.limits.MinGain
	if !in.machine.known() {
		if in.limits.GainAsked {
			return gained{}, []ruling{notRuled(gainCriterion, gainName, 100*limit, in.machine.missing())}
		}
		return gained{}, nil
	}
	saved, nominal := drawnOf(in.saved, oldMass, newMass), in.saved(in.old.mass(), in.new.mass())
	var met []bool
	bought := func(of func(saved float64) float64) *Range {
		sample := make([]float64, len(saved))
		for i, s := range saved {
			sample[i] = of(s)
		}
		if met == nil { // of the acceleration, which comes first
			met = atLeast(sample, limit)
		}
		r := in.interval(sample, of(nominal))
		return &r
	}
	g := gained{bought(in.machine.gain), bought(in.machine.ring), bought(in.machine.eased)}
	if !in.limits.asksGain(in.machine) {
		return g, nil
	}
	return g, []ruling{ruled(gainCriterion, gainName, 100*limit, g.acceleration.Scale(100), met, g.acceleration.Nominal >= limit)}
}

func judgeSaving(in inputs, saving Saving, oldMass, newMass []float64) []ruling {
	if !in.limits.asksSaving(in.machine) {
		return nil
	}
	limit := in.limits.MinSaving
	met := make([]bool, draw.Count)
	for i := range met {
		met[i] = oldMass[i]-newMass[i] >= limit*oldMass[i]
	}
	nominal := (in.old.mass() - in.new.mass()) / in.old.mass()
	return []ruling{ruled(savingCriterion, "saving (%)", 100*limit, saving.Percent, met, nominal >= limit)}
}

func judgeStiffness(in inputs, d direction) (*Range, ruling) {
	name, limit := "stiffness ratio "+d.among(), in.limits.MinStiffnessRatio
	if d.old.refused != "" || d.new.refused != "" {
		return nil, notRuled(stiffnessCriterion, name, limit, "--check solid")
	}
	sample := in.ratios(d)
	met := atLeast(sample, limit)
	nominal := in.nominalRatio(d)
	ratio := in.interval(sample, nominal)
	return &ratio, ruled(stiffnessCriterion, name, limit, ratio, met, nominal >= limit)
}

func judgeSafety(in inputs, d direction) ruling {
	name, limit := "safety factor "+d.among(), in.limits.MinSafetyFactor
	nominal := in.new.safetyFactor(d.new, in.load(d))
	if nominal == nil {
		return notRuled(safetyCriterion, name, limit, missingForSafety(in, d))
	}
	sample := in.safetyFactors(d)
	met := atLeast(sample, limit)
	if !d.new.stress.bounded() && shareOf(met) > 1-in.limits.confidence() {
		open := notRuled(safetyCriterion, name, limit, "--check solid: the peak of the stress has no limit on these grids")
		open.open = true
		return open
	}
	return ruled(safetyCriterion, name, limit, in.interval(sample, *nominal), met, *nominal >= limit)
}

// criteriaOf are the criteria of rulings. Limits that nobody set are told from those that
// were asked for.
func criteriaOf(rulings []ruling, l Limits) []Criterion {
	asked := map[criterionKind]bool{
		gainCriterion: l.GainAsked, savingCriterion: l.SavingAsked, stiffnessCriterion: l.StiffnessAsked,
		safetyCriterion: l.SafetyAsked, demandCriterion: true,
	}
	var out []Criterion
	for _, r := range rulings {
		c := r.Criterion
		c.usual = !asked[c.kind]
		out = append(out, c)
	}
	return out
}

// together says by draw whether every judged criterion is met; nil where none is judged.
func together(rulings []ruling) []bool {
	var all []bool
	for _, r := range rulings {
		switch {
		case r.met == nil:
		case all == nil:
			all = slices.Clone(r.met)
		default:
			for i, met := range r.met {
				all[i] = all[i] && met
			}
		}
	}
	return all
}

// conclude applies the rule: `swap` with all judged criteria met together at the
// confidence asked and nothing in the way, `keep` with some criterion, whichever it is,
// missed at it, otherwise `check first`. A stiffness that was refused is in the way; a safety factor that was
// not judged for want of a load or a strength is not, but the reasons say so; one whose
// peak nothing bounds is.
func conclude(rulings []ruling, asked float64, blocked bool) (all *float64, v Verdict) {
	const rounding = 1e-12
	if met := together(rulings); met != nil {
		p := shareOf(met)
		all = &p
	}
	sure := !blocked && all != nil && *all >= asked-rounding
	for _, c := range rulings {
		sure = sure && (c.Probability != nil || c.kind == safetyCriterion && !c.open)
	}
	switch {
	case all != nil && *all <= 1-asked+rounding:
		return all, Keep
	case sure:
		return all, Swap
	default:
		return all, CheckFirst
	}
}

// drawnOf is a quantity of both masses, for every draw of them.
func drawnOf(quantity func(oldMass, newMass float64) float64, oldMass, newMass []float64) []float64 {
	sample := make([]float64, len(oldMass))
	for i := range sample {
		sample[i] = quantity(oldMass[i], newMass[i])
	}
	return sample
}
