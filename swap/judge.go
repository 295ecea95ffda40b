package swap

import "swapworth/materials"

// interval is the 95 % interval, or the nominal value alone where only the
// verdict is wanted: sorting the draws is what judging costs.
func (in inputs) interval(sample []float64, nominal float64) Range {
	if in.verdictOnly {
		return materials.Exactly(nominal)
	}
	return interval(sample, nominal)
}

// outcome is what one set of inputs comes to.
type outcome struct {
	saving    Saving
	gain      *Range // fraction
	frequency *Range // fraction
	eased     *Range // fraction of the drive force
	ratios    []*Range
	hours     *Range
	total     *Range
	criteria  []Criterion
	together  []bool   // by draw: whether every judged criterion is met; nil for none
	all       *float64 // the probability of that
	verdict   Verdict
}

// judge propagates the inputs and holds the criteria against them.
func judge(in inputs) outcome {
	var o outcome
	oldMass, newMass := in.masses()
	o.saving = in.saving(oldMass, newMass)
	if in.gainJudged() {
		o.findGain(in, oldMass, newMass)
	} else if in.limits.GainAsked {
		o.notJudged(gainCriterion, gainName, 100*in.limits.MinGain, in.machine.missing())
	}
	if in.asksSaving() {
		o.judgeSaving(in, oldMass, newMass)
	}
	for _, d := range in.directions {
		o.judgeStiffness(in, d)
		o.judgeSafety(in, d)
	}
	o.judgePrice(in)
	for i := range demands {
		demands[i].judge(&o, in)
	}
	if in.cost != nil && !in.verdictOnly {
		o.hours, o.total = in.spread(in.takes()), in.spread(in.costs("cost"))
	}
	o.markUsual(in.limits)
	o.conclude(in.limits.confidence(), len(in.blocks) > 0)
	return o
}

// spread is the 95 % interval of what is known, nil where nothing is.
func (in inputs) spread(m measured) *Range {
	if m.missing != "" {
		return nil
	}
	r := in.interval(m.sample, m.nominal)
	return &r
}

func (in inputs) saving(oldMass, newMass []float64) Saving {
	each, percent := make([]float64, draws), make([]float64, draws)
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

// findGain finds what the saving buys, and judges it where it is asked for.
func (o *outcome) findGain(in inputs, oldMass, newMass []float64) {
	nominal := in.gain(in.old.mass(), in.new.mass())
	gains := drawnOf(in.gain, oldMass, newMass)
	limit := in.limits.MinGain
	met := atLeast(gains, limit)
	gain := in.interval(gains, nominal)
	frequency := in.interval(drawnOf(in.ring, oldMass, newMass), in.ring(in.old.mass(), in.new.mass()))
	eased := in.interval(drawnOf(in.eased, oldMass, newMass), in.eased(in.old.mass(), in.new.mass()))
	o.gain, o.frequency, o.eased = &gain, &frequency, &eased
	if in.asksGain() {
		o.judged(gainCriterion, gainName, 100*limit, gain.Scale(100), met, nominal >= limit)
	}
}

func (o *outcome) judgeSaving(in inputs, oldMass, newMass []float64) {
	limit := in.limits.MinSaving
	met := make([]bool, draws)
	for i := range met {
		met[i] = oldMass[i]-newMass[i] >= limit*oldMass[i]
	}
	nominal := (in.old.mass() - in.new.mass()) / in.old.mass()
	o.judged(savingCriterion, "saving (%)", 100*limit, o.saving.Percent, met, nominal >= limit)
}

func (o *outcome) judgeStiffness(in inputs, d direction) {
	name, limit := "stiffness ratio "+d.among(), in.limits.MinStiffnessRatio
	if d.old.refused != "" || d.new.refused != "" {
		o.ratios = append(o.ratios, nil)
		o.notJudged(stiffnessCriterion, name, limit, "--check solid")
		return
	}
	sample := in.ratios(d)
	met := atLeast(sample, limit)
	nominal := in.nominalRatio(d)
	ratio := in.interval(sample, nominal)
	o.ratios = append(o.ratios, &ratio)
	o.judged(stiffnessCriterion, name, limit, ratio, met, nominal >= limit)
}

func (o *outcome) judgeSafety(in inputs, d direction) {
	name, limit := "safety factor "+d.among(), in.limits.MinSafetyFactor
	nominal := in.new.safetyFactor(d.new, in.load(d))
	if nominal == nil {
		o.notJudged(safetyCriterion, name, limit, missingForSafety(in, d))
		return
	}
	sample := in.safetyFactors(d)
	met := atLeast(sample, limit)
	if !d.new.stress.bounded() && shareOf(met) > 1-in.limits.confidence() {
		o.notJudged(safetyCriterion, name, limit, "--check solid: the peak of the stress has no limit on these grids")
		o.criteria[len(o.criteria)-1].open = true
		return
	}
	o.judged(safetyCriterion, name, limit, in.interval(sample, *nominal), met, *nominal >= limit)
}

// missingForSafety names the flag that would let the safety factor be judged.
func missingForSafety(in inputs, d direction) string {
	switch {
	case d.new.refused != "":
		return "--check solid"
	case in.load(d) <= 0:
		return "--load"
	default:
		return "--new-material with a known strength"
	}
}

// judged adds a criterion with what each draw says of it.
func (o *outcome) judged(kind criterionKind, name string, limit float64, value Range, met []bool, nominally bool) {
	probability := shareOf(met)
	o.criteria = append(o.criteria, Criterion{
		kind: kind, Name: name, Limit: &limit, Value: &value, Probability: &probability, Met: &nominally,
	})
	if o.together == nil {
		o.together = met
		return
	}
	both := make([]bool, len(met))
	for i := range both {
		both[i] = o.together[i] && met[i]
	}
	o.together = both
}

func atLeast(sample []float64, limit float64) []bool {
	met := make([]bool, len(sample))
	for i, v := range sample {
		met[i] = v >= limit
	}
	return met
}

// shareOf returns the share of draws that are true.
func shareOf(met []bool) float64 {
	n := 0
	for _, yes := range met {
		if yes {
			n++
		}
	}
	return float64(n) / float64(len(met))
}

func (o *outcome) notJudged(kind criterionKind, name string, limit float64, flag string) {
	o.criteria = append(o.criteria, Criterion{kind: kind, Name: name, Limit: &limit, Missing: flag})
}

// markUsual tells the limits that nobody set from those that were asked for.
func (o *outcome) markUsual(l Limits) {
	asked := map[criterionKind]bool{
		gainCriterion: l.GainAsked, savingCriterion: l.SavingAsked, stiffnessCriterion: l.StiffnessAsked,
		safetyCriterion: l.SafetyAsked, demandCriterion: true,
	}
	for i := range o.criteria {
		o.criteria[i].usual = !asked[o.criteria[i].kind]
	}
}

// conclude applies the rule: `swap` with all judged criteria met together at the
// confidence asked and nothing in the way, `keep` with some criterion, whichever it is,
// missed at it, otherwise `check first`. A stiffness that was refused is in the way; a safety factor that was
// not judged for want of a load or a strength is not, but the reasons say so; one whose
// peak nothing bounds is.
func (o *outcome) conclude(asked float64, blocked bool) {
	const rounding = 1e-12
	if o.together != nil {
		all := shareOf(o.together)
		o.all = &all
	}
	sure := !blocked && o.all != nil && *o.all >= asked-rounding
	for _, c := range o.criteria {
		sure = sure && (c.Probability != nil || c.kind == safetyCriterion && !c.open)
	}
	switch {
	case o.all != nil && *o.all <= 1-asked+rounding:
		o.verdict = Keep
	case sure:
		o.verdict = Swap
	default:
		o.verdict = CheckFirst
	}
}

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

// Criterion is one demand on the redesign. Probability and Met are nil when
// the criterion was not judged; Missing then names the flag that would judge it.
type Criterion struct {
	kind        criterionKind
	demand      *Demand  // that it comes from; nil for those that always hold
	usual       bool     // nobody set its limit
	open        bool     // all that it takes is known, and mechanics leaves it open
	Name        string   `json:"name"`
	Limit       *float64 `json:"limit"`
	AtMost      bool     `json:"at_most"` // the limit is an upper one
	Value       *Range   `json:"value"`
	Probability *float64 `json:"probability"`
	Met         *bool    `json:"met"`
	Missing     string   `json:"missing,omitempty"`
}

// criterionKind says what a criterion is about.
type criterionKind int

const (
	gainCriterion criterionKind = iota
	savingCriterion
	stiffnessCriterion
	safetyCriterion
	demandCriterion // a limit that a person set, of the list in demand.go
)

// drawnOf is a quantity of both masses, for every draw of them.
func drawnOf(quantity func(oldMass, newMass float64) float64, oldMass, newMass []float64) []float64 {
	sample := make([]float64, len(oldMass))
	for i := range sample {
		sample[i] = quantity(oldMass[i], newMass[i])
	}
	return sample
}
