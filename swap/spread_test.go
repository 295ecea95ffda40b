package swap

import (
	"math"
	"strings"
	"testing"

	"swapworth/mass"
	"swapworth/materials"
)

// judgedOn returns the criterion of a kind.
func judgedOn(t *testing.T, all []Criterion, kind criterionKind) Criterion {
	t.Helper()
	for _, c := range all {
		if c.kind == kind {
			return c
		}
	}
	t.Fatalf("no such criterion among %+v", all)
	return Criterion{}
}

// pulled is a bar of strength 4 MPa under 1 N whose peak is 1 MPa for a newton.
func pulled(peak stress) inputs {
	in := plates()
	in.limits, in.force = DefaultLimits(), materials.Exactly(1)
	in.new.strength = materials.Exactly(4)
	in.directions[0].new.stress = peak
	return in
}

// A peak that may be three times as high makes a safety factor of 4 anything from 4/3:
// of all peaks from 1 to 3 half are above the 2 at which it is 2.
func TestAPeakThatStillGrowsIsNotMetForSure(t *testing.T) {
	open := stress{perLoad: Range{Low: 1, Nominal: 1, High: 3}}
	c := judgedOn(t, judge(pulled(open)).criteria, safetyCriterion)
	if p := *c.Probability; math.Abs(p-0.5) > 0.02 || c.Value.Low > 1.4 || c.Value.Nominal != 4 {
		t.Errorf("met with %g, %v: want half, from 4/3", p, *c.Value)
	}
	settled := stress{perLoad: Range{Low: 0.95, Nominal: 1, High: 1.05}, resolved: true}
	if c := judgedOn(t, judge(pulled(settled)).criteria, safetyCriterion); *c.Probability != 1 {
		t.Errorf("a settled peak is met with %g", *c.Probability)
	}
}

// A peak that nothing bounds is not judged, and no swap rests on it.
func TestAPeakThatNothingBoundsIsInTheWayOfASwap(t *testing.T) {
	endless := pulled(stress{perLoad: Range{Low: 1, Nominal: 1, High: math.Inf(1)}})
	o := judge(endless)
	if c := judgedOn(t, o.criteria, safetyCriterion); c.Probability != nil || o.verdict != CheckFirst {
		t.Errorf("%q with %+v, want check first and not judged", o.verdict, c)
	}
	endless.force = Range{} // nobody asked
	if o := judge(endless); o.verdict != Swap {
		t.Errorf("without a load: %q, want swap that leaves strength open", o.verdict)
	}
}

// Nobody knows a load of 15 to 25 N better: the safety factor at 20 N is spread over
// 20/25 to 20/15 of itself.
func TestALoadBetweenBoundsSpreadsTheSafetyFactor(t *testing.T) {
	in := pulled(stress{perLoad: materials.Exactly(0.1), resolved: true})
	in.force = Range{Low: 15, Nominal: 20, High: 25}
	c := judgedOn(t, judge(in).criteria, safetyCriterion)
	if v := *c.Value; v.Nominal != 2 || math.Abs(v.Low-40/25.05) > 0.01 || math.Abs(v.High-40/14.95) > 0.03 {
		t.Errorf("safety factor %v, want 2 (1.6 to 2.68)", v)
	}
	if p := *c.Probability; math.Abs(p-0.5) > 0.02 {
		t.Errorf("at least 2 with %g, want half: above 20 N of 15 to 25", p)
	}
}

// Hours and prices are drawn between their bounds: 2 to 4 h at 20 to 30 an hour, with
// 10 of stock, are 85 in the middle, and 3 h are not passed in half of all draws.
func TestHoursAndPricesBetweenBoundsAreDrawn(t *testing.T) {
	c := steelCase(t)
	c.Making.Pricing = Pricing{Hours: &Range{Low: 2, Nominal: 3, High: 4}, HourlyValue: &Range{Low: 20, Nominal: 25, High: 30}}
	c.Limits.MaxHours, c.Limits.MaxCost = ptr(3.0), ptr(200.0)
	r := decide(t, c)
	if *r.Cost.Hours != 3 || math.Abs(r.Cost.HoursRange.Low-1.99) > 0.02 || math.Abs(r.Cost.HoursRange.High-4.01) > 0.02 {
		t.Errorf("hours %g %v, want 3 (2 to 4)", *r.Cost.Hours, r.Cost.HoursRange)
	}
	if want := *r.Cost.Stock + 75; math.Abs(*r.Cost.Total-want) > 1e-9 || r.Cost.TotalRange.Low > want-20 || r.Cost.TotalRange.Low < want-40 {
		t.Errorf("cost %g %v, want %g and no less than stock and 2 h at 20", *r.Cost.Total, r.Cost.TotalRange, want)
	}
	for _, one := range r.Criteria {
		if one.Name == "hours" && math.Abs(*one.Probability-0.5) > 0.02 {
			t.Errorf("at most 3 h with %g, want half", *one.Probability)
		}
	}
	c.Making.Pricing.Quoted = &Range{Low: 20, Nominal: 25, High: 30}
	if r := decide(t, c); *r.Cost.Total != 25 || math.Abs(r.Cost.TotalRange.High-30.05) > 0.1 {
		t.Errorf("quoted: %g %v", *r.Cost.Total, r.Cost.TotalRange)
	}
}

// One scale weighs both parts: what it is off moves the grams saved, and no share.
func TestTheErrorOfTheScaleIsCommonToBothParts(t *testing.T) {
	in := plates()
	weigh := func(p *partInputs, grams float64) {
		w := mass.Weighing{Grams: grams, Error: 0.01}
		r := w.Range()
		p.weighed, p.reading, p.scaleError = &r, w.Reading(), w.Error
	}
	weigh(&in.old, 100)
	weigh(&in.new, 70)
	s := judge(in).saving
	if math.Abs(s.Percent.High-s.Percent.Low) > 1e-9 || math.Abs(s.PerPart.High-s.PerPart.Low-0.605) > 0.01 {
		t.Errorf("saving %v g, %v %%; want 30 +- 0.303 g and 30 %% exactly", s.PerPart, s.Percent)
	}
	if r := in.old.massRange(); math.Abs(r.Low-99) > 1e-9 || math.Abs(r.High-101) > 1e-9 {
		t.Errorf("weighed %v, want 99 to 101 g", r)
	}
}

// A part said to be of aluminium may be of 5754, with a third of the strength of 6061:
// what has a safety factor of 5.05 in the one has 1.68 in the other, and the verdict
// turns with it.
func TestAFamilyNameMayTurnTheVerdict(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.New.Material, c.Loading.Force = material(t, "6061-T6"), 1
	c.Loading.Force = *decide(t, c).Stiffness[0].NewSafetyFactor / 5.05
	for name, want := range map[string]Verdict{"6061-T6": Swap, "5754-H111": CheckFirst, "aluminium": CheckFirst} {
		c.New.Material = material(t, name)
		r := decide(t, c)
		safety := judgedOn(t, r.Criteria, safetyCriterion)
		if r.Verdict != want {
			t.Errorf("%s: %q at a safety factor of %v, want %q", name, r.Verdict, *safety.Value, want)
		}
		if name == "5754-H111" && math.Abs(safety.Value.Nominal-1.68) > 0.01 {
			t.Errorf("in 5754 %g, want 1.68", safety.Value.Nominal)
		}
		if name != "aluminium" {
			continue
		}
		if v := safety.Value; v.Low > 1.8 || v.High < 9 || math.Abs(v.Nominal-5.05) > 0.01 {
			t.Errorf("in aluminium %v, want 5.05, from about that of 5754 to about that of 7075", *v)
		}
		if turn := r.Turnovers[0]; turn.From != "aluminium (stated)" || material(t, turn.To).Strength.Value > 80 || !strings.Contains(r.NextStep, "--new-material") {
			t.Errorf("turnovers %+v, next %q: want the soft alloy named", r.Turnovers, r.NextStep)
		}
	}
}

// Handbooks give 6082 70 000 MPa (EN 1999-1-1) and 6061 68 300 (MIL-HDBK-5J), and mean
// the same metal: a bar of the one is not for sure stiffer than the same bar of the
// other, nor by 2.5 %.
func TestTwoAlloysThatDifferBySourceAreAsStiffAsEachOther(t *testing.T) {
	in := plates()
	in.old, in.new = in.old.madeOf(*material(t, "6061-T6")), in.new.madeOf(*material(t, "6082-T6"))
	in.limits.MinStiffnessRatio = 1
	c := judgedOn(t, judge(in).criteria, stiffnessCriterion)
	if v := *c.Value; math.Abs(v.Low*v.High-1) > 0.005 || v.High < 1.03 {
		t.Errorf("ratio %v, want as far below 1 as above", v)
	}
	if p := *c.Probability; math.Abs(p-0.5) > 0.02 {
		t.Errorf("at least as stiff with %g, want even odds", p)
	}
}
