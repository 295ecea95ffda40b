package swap

import (
	"math"
	"strings"
	"testing"

	"swapworth/mass"
)

// A cantilever of 120 x 20 x 5 mm in aluminium under 5 N at its end: it weighs 32.4 g at
// 2.7 g/cm3, moves F L^3/(3 E I) = 5*120^3/(3*E*208.3) and rings at 1.8751^2/(2 pi L^2)
// sqrt(E I/(rho A)) (beam tables, from memory).
func TestAbsoluteLimitsAreHeldAgainstTheRedesignItself(t *testing.T) {
	t.Parallel()
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.Loading.Force = 5
	e, rho := c.New.Material.YoungsModulus.Value, c.New.Material.Density.Nominal
	moves := 5 * 120.0 * 120 * 120 / (3 * e * 20 * 125 / 12)
	rings := 1.8751 * 1.8751 / (2 * math.Pi * 120 * 120) * math.Sqrt(e*(20*125/12.0)/(rho*1e-12*100))
	found := func(mostMass, mostMove, leastHz float64) (all []Criterion, v Verdict) {
		c.Limits.MaxMass, c.Limits.MaxDeflection, c.Limits.MinFrequency = &mostMass, &mostMove, &leastHz
		r := decide(t, c)
		for _, one := range r.Criteria {
			if one.kind == demandCriterion {
				all = append(all, one)
			}
		}
		return all, r.Verdict
	}
	met, verdict := found(40, 1.2*moves, 0.9*rings)
	if len(met) != 3 || verdict != Swap {
		t.Fatalf("%q with %+v, want swap", verdict, met)
	}
	for i, want := range []float64{rho * 12e-3, moves, rings} {
		if one := met[i]; math.Abs(one.Value.Nominal/want-1) > 0.01 || !*one.Met {
			t.Errorf("%s: %v, want about %g and met", one.Name, *one.Value, want)
		}
	}
	for i, limits := range [][3]float64{{30, 1.2 * moves, 0.9 * rings}, {40, 0.9 * moves, 0.9 * rings}, {40, 1.2 * moves, 1.1 * rings}} {
		if missed, v := found(limits[0], limits[1], limits[2]); v != Keep || *missed[i].Met {
			t.Errorf("limits %v: %q with %+v, want keep", limits, v, missed)
		}
	}
	c.Loading.Force = 0
	if open, v := found(40, 1, 10); v == Swap || !strings.Contains(open[1].Missing, "--load") {
		t.Errorf("%q without a load, %+v: the deflection is open", v, open)
	}
}
