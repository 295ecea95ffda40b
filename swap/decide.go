package swap

import (
	"cmp"
	"context"
	"slices"

	"swapworth/swap/joint"
)

// Decide compares the redesign with the stock part. It measures both, settles
// what the case leaves open, finds stiffness and stress, propagates every
// uncertainty, holds the criteria against the result, and looks for the
// assumptions that would turn the answer over. It refuses meshes that are not
// closed and a moving mass that is less than the parts themselves.
func Decide(ctx context.Context, c Case) (Result, error) {
	return decideOn(ctx, c, &shared{}, &shared{})
}

// Decider decides cases of the same two meshes, which differ in what is stated, weighed
// and asked. What was measured and solved of the parts is kept: another weight or another
// limit takes a fraction of a second. The zero value is ready.
type Decider struct{ old, new shared }

// Decide is Decide with the parts of this decider.
func (d *Decider) Decide(ctx context.Context, c Case) (Result, error) {
	return decideOn(ctx, c, &d.old, &d.new)
}

// decideOn is Decide with parts that other cases share.
func decideOn(ctx context.Context, c Case, old, new *shared) (Result, error) {
	s, err := settle(c, old, new)
	if err != nil {
		return Result{}, err
	}
	a, err := s.answer(ctx, s.alternatives)
	if err != nil {
		return Result{}, err
	}
	return s.told(ctx, a)
}

// answer is a case that was judged.
type answer struct {
	in      inputs
	o       outcome
	bolts   []Bolt
	joint   *joint.Result
	turns   []Turnover
	tried   []Tried
	slips   []slip
	verdict Verdict
}

// answer finds stiffness, stress and cost, judges the case, and tries the alternatives
// to what was assumed that it is given.
func (s *situation) answer(ctx context.Context, alternatives func(context.Context, inputs) ([]alternative, error)) (a answer, err error) {
	directions, err := s.respondBoth(ctx, s.cases, quick)
	if err != nil {
		return a, err
	}
	if !s.hasty || !hopeless(s.inputs(directions)) {
		if err := s.settleSizes(ctx); err != nil {
			return a, err
		}
	}
	var refined []string
	if a.in, refined, err = s.refine(ctx, s.inputs(directions)); err != nil {
		return a, err
	}
	s.assumptions = append(s.assumptions, refined...)
	s.warnings = append(s.warnings, s.secondOpinion(a.in.directions)...)
	s.settleCost(&a.in)
	if a.bolts, err = s.judgeBolts(a.in); err != nil {
		return a, err
	}
	if a.joint, err = s.judgeJoint(a.in, a.bolts); err != nil {
		return a, err
	}
	a.in.blocks = append(a.in.blocks, jointBlocks(a.joint)...)
	a.o = judge(a.in)
	others, err := alternatives(ctx, a.in)
	if err != nil {
		return a, err
	}
	if a.turns, a.tried, err = turnovers(ctx, a.in, a.o.verdict, others); err != nil {
		return a, err
	}
	a.slips = s.slips()
	a.verdict = s.final(a.o.verdict, a.turns, a.slips)
	return a, nil
}

// told puts an answer into words, with what else a person wants to know.
func (s *situation) told(ctx context.Context, a answer) (Result, error) {
	in, o := a.in, a.o
	r := s.result(in, o)
	r.Joint, r.Bolts, r.Reactions = a.joint, a.bolts, s.reactions(in)
	r.Explored = s.explored(in, o.verdict, a.tried, a.slips)
	r.Verdict = a.verdict
	if r.Verdict != CheckFirst {
		r.Condition = conditionOf(a.turns)
	}
	r.Turnovers = orEmpty(telling(a.turns, r.Verdict))
	r.Reasons = s.reasons(in, o, r, a.slips)
	r.NextStep = s.nextStep(in, o, r, a.slips)
	r.Drivers = drivers(in)
	r.Drawing = s.drawing(in.directions)
	if err := s.pictured(ctx, &r); err != nil {
		return Result{}, err
	}
	var err error
	if r.AsMade, err = s.asMade(ctx, in); err != nil {
		return Result{}, err
	}
	r.Lesser, err = s.lesser(in)
	return r, err
}

// final applies the rules that stand above the probabilities: nothing is firm before
// a slip is settled or where a material that nobody knows would turn it, and no saving
// is promised against a weight that contradicts what the part is said to be.
func (s *situation) final(v Verdict, turns []Turnover, slips []slip) Verdict {
	open := slices.ContainsFunc(turns, func(t Turnover) bool { return t.kind == undecided })
	if open || len(slips) > 0 || v == Swap && s.contradicted() {
		return CheckFirst
	}
	return v
}

func (s *situation) contradicted() bool {
	return s.old.known.contradiction != "" || s.new.known.contradiction != ""
}

func (s *situation) result(in inputs, o outcome) Result {
	r := Result{
		Units:       s.c.Units,
		Old:         s.old.report(s.c.Old, in.old),
		New:         s.new.report(s.c.New, in.new),
		Count:       int(in.count),
		Saving:      o.saving,
		Motion:      s.motion(in, o),
		Criteria:    o.criteria,
		Probability: o.all,
		Fit:         s.fit,
		Millable:    s.millable,
		Lasting:     orEmpty(s.lasting()),
		Cost:        in.cost.spread(o),
		Milling:     s.milling,
		Cautions:    cautions,
		BreakEvens:  slices.Concat(breakEvens(in), s.thicknessBreakEven(in), s.moneyBreakEvens(in)),
		Assumptions: s.assumptions,
		Missing:     s.missing(in),
		Remembered:  s.c.Remembered,
	}
	for i, d := range in.directions {
		r.Stiffness = append(r.Stiffness, stiffnessOf(in, d, o.ratios[i]))
	}
	r.Warnings = s.allWarnings(in.directions)
	r.Assumptions, r.Missing = orEmpty(r.Assumptions), orEmpty(r.Missing)
	return r
}

// allWarnings gathers what the readers, the materials and the mechanics warn of.
func (s *situation) allWarnings(directions []direction) []string {
	all := slices.Concat(s.old.loaded.Warnings, s.new.loaded.Warnings, s.warnings)
	if thick := s.outsideThickness(); thick != "" {
		all = append(all, thick)
	}
	for _, d := range directions {
		all = slices.Concat(all, d.old.warnings, d.new.warnings)
	}
	return orEmpty(unique(all))
}

func (s *situation) motion(in inputs, o outcome) *Motion {
	m := s.c.Machine
	if m.MovingMass == 0 && m.Pivot == nil {
		return nil
	}
	out := &Motion{
		Kind: "linear", AccelerationGain: percent(o.gained.acceleration), FrequencyGain: percent(o.gained.frequency), ForceSaved: percent(o.gained.eased),
		DriveLimited: cmp.Or(m.Drive.Limited, LimitUnknown),
	}
	if grams := m.Drive.Mass(); grams > 0 {
		out.DriveMass = &grams
	}
	if m.MovingMass > 0 {
		out.MovingMass = &m.MovingMass
	}
	if m.Pivot != nil {
		out.Kind = "swinging"
		oldInertia, newInertia := in.old.inertia(in.old.mass()), in.new.inertia(in.new.mass())
		out.OldInertia, out.NewInertia = &oldInertia, &newInertia
	}
	if m.MovingInertia > 0 {
		out.MovingInertia = &m.MovingInertia
	}
	return out
}
