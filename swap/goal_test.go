package swap

import (
	"math"
	"strings"
	"testing"

	"swapworth/mass"
	"swapworth/materials"
)

// A bar of the same alloy, 6 mm in place of 5, is 1.2 times as heavy and (6/5)^3 = 1.728
// times as stiff.
func TestAGoalSaysWhatAThickerBarIsWorth(t *testing.T) {
	c := steelCase(t)
	c.Old, c.New = c.New, Side{Loaded: bar(120, 20, 6), Material: c.New.Material}
	c.Old.Weight = &mass.Weighing{Grams: 32.5, Resolution: 0.1}
	c.Limits = DefaultLimits()
	if r := decide(t, c); r.Verdict != Keep {
		t.Errorf("for the sake of mass: %q, want keep", r.Verdict)
	}
	c.Limits = Stiffer.Limits()
	r := decide(t, c)
	if r.Verdict != Swap || len(r.Criteria) != 2 {
		t.Fatalf("for the sake of stiffness: %q with %+v, want swap on stiffness alone", r.Verdict, r.Criteria)
	}
	if k := r.Criteria[0]; *k.Limit != 1.1 || math.Abs(k.Value.Nominal-1.728) > 0.01 {
		t.Errorf("stiffness %+v, want 1.728 against 1.1", k)
	}
	if !strings.Contains(strings.Join(r.Assumptions, "\n"), "--max-mass") {
		t.Errorf("assumed %q: nothing says that mass may grow", r.Assumptions)
	}
	// What nobody asked for may be asked for.
	for name, ask := range map[string]func(*Case){
		"a mass":   func(c *Case) { c.Limits.MaxMass = ptr(35.0) },
		"a saving": func(c *Case) { c.Limits.SavingAsked = true },
		"a gain":   func(c *Case) { c.Limits.GainAsked, c.Machine.MovingMass = true, 500 },
		"a ratio":  func(c *Case) { c.Limits.MinStiffnessRatio, c.Limits.StiffnessAsked = 2, true },
	} {
		asked := c
		ask(&asked)
		if r := decide(t, asked); r.Verdict != Keep {
			t.Errorf("%s that it has not: %q, want keep", name, r.Verdict)
		}
	}
	// A gain that may be a loss: 6.48 g of 500 g are 1.3 %.
	c.Limits.GainAsked, c.Limits.MinGain, c.Machine.MovingMass = true, -0.02, 500
	if r := decide(t, c); r.Verdict != Swap {
		t.Errorf("at most 2 %% slower: %q, want swap", r.Verdict)
	}
}

func TestTheGoalCheaperIsHeldAgainstThePriceOfStockParts(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.Limits.Goal = Cheaper
	c.Count = 2
	price := func(one, quoted *float64) Result {
		exactly := func(v *float64) *Range {
			if v == nil {
				return nil
			}
			return ptr(materials.Exactly(*v))
		}
		c.Making.Pricing = Pricing{StockPart: exactly(one), Quoted: exactly(quoted), Currency: "EUR"}
		return decide(t, c)
	}
	if r := price(ptr(45.0), ptr(80.0)); r.Verdict != Swap || *r.Cost.StockParts != 90 || r.Cost.Currency != "EUR" {
		t.Errorf("80 against twice 45: %q, want swap", r.Verdict)
	}
	r := price(ptr(45.0), ptr(95.0))
	if r.Verdict != Keep || !strings.Contains(strings.Join(r.Reasons, "\n"), "It costs 95 EUR; as many stock parts cost 90 EUR") {
		t.Errorf("95 against twice 45: %q, %q, want keep", r.Verdict, r.Reasons)
	}
	if r := price(nil, ptr(80.0)); r.Verdict != CheckFirst || !strings.Contains(r.NextStep, "--old-price") {
		t.Errorf("without a price of the stock part: %q, next %q", r.Verdict, r.NextStep)
	}
	if r := price(ptr(45.0), nil); r.Verdict != CheckFirst || !strings.Contains(r.NextStep, "--hourly-value") {
		t.Errorf("without a price of the redesign: %q, next %q", r.Verdict, r.NextStep)
	}
}
