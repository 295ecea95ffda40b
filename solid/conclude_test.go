package solid

import (
	"math"
	"testing"
)

// The error quoted must cover the true limit whatever the order at which the
// grids come closer to it, also where the last change is small by chance.
func TestTheQuotedErrorCoversEveryLikelyOrder(t *testing.T) {
	const limit = 100.0
	covers := func(name string, k ...float64) {
		got, doubt := extrapolate(k, order)
		percent := 100*doubt + beyondGrids
		if off := 100 * math.Abs(limit/got-1); off > percent {
			t.Errorf("%s %.4g: limit %.4g +- %.2g %%, off by %.2g %%", name, k, got, percent, off)
		}
	}
	for _, p := range []float64{0.75, 1, 1.5, 2, 3, 4} {
		for _, start := range []float64{-20, 1, 20} {
			step := func(n float64) float64 { return limit + start*math.Pow(2, -p*n) }
			covers("steady", step(0), step(1), step(2))
			if p >= 1 {
				covers("two grids", step(1), step(2))
			}
		}
	}
	covers("turning round", 98, 101, 100.5)
	covers("stalled by chance", 108, 102, 101.4)
	if _, doubt := extrapolate([]float64{limit}, order); doubt != 1 {
		t.Errorf("one grid: doubt %g, want 1", doubt)
	}
	cases := []CaseResult{{}, {}, {springs: 0.1}}
	setErrors(cases, []float64{0.06, 0.001, 0.001}, beyondGrids)
	for n, want := range []float64{6.2, 2.2, 7.131} {
		near(t, "error", cases[n].ErrorPercent, want, 0.1)
	}
}
