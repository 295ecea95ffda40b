package swap

import (
	"context"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
)

// Common practice: a plate of 4 mm that is left at the 5 mm of its stock is 25 %
// heavier, and (5/4)^3 = 1.95 times as stiff as drawn.
func TestAPlateLeftAtStockThicknessIsHeavierAndTheVerdictKnows(t *testing.T) {
	t.Parallel()
	c := plainCase(t, bar(120, 20, 5), bar(120, 20, 4))
	c.Limits.MinStiffnessRatio = 0.4
	c.Old.Weight = &mass.Weighing{Grams: 32.4, Resolution: 0.1} // 12 cm3 of 2.70 g/cm3
	drawn := decide(t, c)
	if drawn.Verdict != Swap || math.Abs(drawn.Saving.Percent.Nominal-20) > 1e-9 {
		t.Errorf("as drawn: verdict %q, saving %v", drawn.Verdict, drawn.Saving.Percent)
	}
	c.Making.NotFaced = []NotFaced{{Side: r3.Vec{Z: 1}, Stock: 5, Name: "+z"}}
	made := decide(t, c)
	if made.Verdict != Keep || math.Abs(made.Saving.Percent.Nominal) > 1e-9 {
		t.Errorf("not faced: verdict %q, saving %v, want keep and nothing saved", made.Verdict, made.Saving.Percent)
	}
	if len(made.AsMade) != 2 {
		t.Fatalf("%d rows, want the part as drawn and as made", len(made.AsMade))
	}
	row := made.AsMade[1]
	if math.Abs(*row.ChangePercent-25) > 1e-9 || !row.Used || *row.VolumeError != 0 {
		t.Errorf("row %+v, want 25 %% more, exactly", row)
	}
	if gain := *row.StiffnessRatio / *made.AsMade[0].StiffnessRatio; math.Abs(gain/math.Pow(1.25, 3)-1) > 0.02 {
		t.Errorf("stiffness grows by %g, want 1.95", gain)
	}
}

func TestASkippedFacingPassIsATurnover(t *testing.T) {
	t.Parallel()
	aluminium := material(t, "6082-T6")
	c := Case{
		Old:     Side{Loaded: bar(120, 20, 5), Material: aluminium},
		New:     Side{Loaded: bar(120, 20, 4.4), Material: aluminium}, // from a 5 mm plate
		Loading: Loading{Method: ByBeam},
	}
	c.Limits = DefaultLimits()
	c.Limits.MinStiffnessRatio = 0.5
	for _, turn := range decide(t, c).Turnovers {
		if strings.Contains(turn.Assumption, "facing") && turn.Verdict == Keep {
			return
		}
	}
	t.Error("leaving the plate at 5 mm saves nothing, yet it is no turnover")
}

func TestMoneyIsLeftOpenUntilAnHourHasAValue(t *testing.T) {
	c := steelCase(t)
	r := decide(t, c)
	if r.Cost == nil || r.Cost.Hours == nil || r.Cost.Total != nil {
		t.Errorf("cost %+v, want hours but no total", r.Cost)
	}
	c.Making.Pricing.HourlyValue = ptr(materials.Exactly(30))
	r = decide(t, c)
	if want := *r.Cost.Hours*30 + *r.Cost.Stock; math.Abs(*r.Cost.Total-want) > 1e-9*want {
		t.Errorf("total %g, want %g", *r.Cost.Total, want)
	}
	if want := *r.Cost.Total / r.Saving.Total.Nominal; math.Abs(*r.Cost.PerGramSaved-want) > 1e-9*want {
		t.Errorf("a gram costs %g, want %g", *r.Cost.PerGramSaved, want)
	}
}

func TestALimitOnHoursOrCostIsJudged(t *testing.T) {
	c := steelCase(t)
	c.Old.Observed.Magnet = ptr(true)
	c.Limits.MaxHours = ptr(0.1)
	if r := decide(t, c); r.Verdict != Keep {
		t.Errorf("verdict %q with six minutes to spend, want keep", r.Verdict)
	}
	c.Limits.MaxHours, c.Limits.MaxCost = nil, ptr(50.0)
	if r := decide(t, c); r.Verdict != CheckFirst {
		t.Errorf("verdict %q with a cost limit and no price, want check first", r.Verdict)
	}
	c.Making.Pricing.Quoted = ptr(materials.Exactly(40.0))
	if r := decide(t, c); r.Verdict != Swap {
		t.Errorf("verdict %q with a price below the limit, want swap: %v", r.Verdict, r.Reasons)
	}
}

func TestWhatWouldDoLessIsPricedOnTheSameTable(t *testing.T) {
	c := steelCase(t)
	c.Making.Lesser = []Lesser{
		{Trim: &NotFaced{Side: r3.Vec{X: 1}, Stock: 12}},
		{Name: "thin bar", Buy: &Buy{Grams: 50, Price: 8}},
	}
	r := decide(t, c)
	// A tenth of the bar trimmed off saves a tenth of its 94.2 g.
	if got := r.Lesser[0].Saved; math.Abs(got-9.42) > 1e-6 {
		t.Errorf("trimming saves %g g, want 9.42", got)
	}
	if got := r.Lesser[1].Saved; math.Abs(got-44.2) > 1e-6 {
		t.Errorf("the bought bar saves %g g, want 44.2", got)
	}
	c.Old.Weight = &mass.Weighing{Grams: 33, Resolution: 1} // so it is no steel
	if got := decide(t, c).Lesser[0].Saved; math.Abs(got-3.3) > 1e-6 {
		t.Errorf("trimming a tenth off a bar of 33 g saves %g g", got)
	}
}

func TestARedesignThatLacksAHoleDoesNotBoltOn(t *testing.T) {
	t.Parallel()
	load := func(name string) *mesh.Loaded {
		l, err := mesh.Load("../testdata/"+name, mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	c := Case{
		Old:    Side{Loaded: load("reference/carriage_old.stl"), Material: material(t, "S235"), Observed: steelCase(t).Old.Observed},
		New:    Side{Loaded: bar(120, 70, 5), Material: material(t, "6061-T6")},
		Limits: DefaultLimits(), Loading: Loading{Method: ByBeam},
	}
	r := decide(t, c)
	if r.Fit.OK || len(r.Fit.Blocking) == 0 {
		t.Errorf("fit %+v, want missing holes", *r.Fit)
	}
	if r.Verdict == Swap {
		t.Error("verdict swap for a plate without its holes")
	}
}

func TestRedesignsAreRankedByVerdictAndSaving(t *testing.T) {
	base := steelCase(t)
	base.Table, base.Old.Observed.Magnet = materials.Default(), ptr(true)
	var cases []Case
	for _, thickness := range []float64{5.6, 5.5, 2} {
		c := base
		c.New.Loaded = bar(120, 20, thickness)
		cases = append(cases, c)
	}
	r, err := Rank(context.Background(), cases, nil)
	if err != nil {
		t.Fatal(err)
	}
	var got []float64
	for _, one := range r.Redesigns {
		got = append(got, one.New.Size[2])
	}
	if got[0] != 5.5 || got[1] != 5.6 || got[2] != 2 || r.Redesigns[2].Verdict != Keep {
		t.Errorf("ranked %v, want the lighter of those stiff enough first and the weak one last", got)
	}
}

func ptr[T any](v T) *T { return &v }

func TestTheThicknessBreakEvenIsWhereTheStiffnessIsMet(t *testing.T) {
	t.Parallel()
	c := plainCase(t, bar(200, 20, 5), bar(200, 20, 5))
	c.Loading.Method, c.Limits.MinStiffnessRatio = ByBeam, 0.5
	thin := find(t, decide(t, c).BreakEvens, "thinnest redesign").Value
	c.New.Loaded = bar(200, 20, thin)
	if got := decide(t, c).Stiffness[0].Ratio.Nominal; math.Abs(got-0.5) > 0.01 {
		t.Errorf("at %g mm the ratio is %g, want 0.5", thin, got)
	}
}

func TestTheValueOfAnHourAtWhichTheCostReachesItsLimit(t *testing.T) {
	c := steelCase(t)
	c.Limits.MaxCost = ptr(60.0)
	c.Making.Pricing.HourlyValue = ptr(materials.Exactly(find(t, decide(t, c).BreakEvens, "largest value of an hour").Value))
	if got := *decide(t, c).Cost.Total; math.Abs(got-60) > 1e-9 {
		t.Errorf("the cost is %g, want the limit of 60", got)
	}
}

func TestAQuotedPriceStandsWithoutAnEstimate(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.Making.Plan.BlankThickness = 1 // does not cover the part
	c.Limits.MaxCost = ptr(25.0)
	if r := decide(t, c); r.Cost == nil || r.Cost.Hours != nil || r.Cost.Total != nil || r.Verdict != CheckFirst {
		t.Errorf("cost %+v, verdict %q without a price", r.Cost, r.Verdict)
	}
	c.Making.Pricing.Quoted = ptr(materials.Exactly(20.0))
	r := decide(t, c)
	if want := 20 / r.Saving.Total.Nominal; *r.Cost.Total != 20 || math.Abs(*r.Cost.PerGramSaved-want) > 1e-12 || r.Verdict != Swap {
		t.Errorf("cost %+v, verdict %q, want 20 and swap: %v", r.Cost, r.Verdict, r.Reasons)
	}
}
