package swap

import (
	"slices"
	"testing"
)

func TestWhatBoltsOnRanksBeforeWhatSavesMore(t *testing.T) {
	redesign := func(file string, v Verdict, saving float64, misfits ...string) Result {
		r := Result{Verdict: v, Fit: &Fit{OK: len(misfits) == 0, Blocking: misfits}}
		r.New.File, r.Saving.Total.Nominal = file, saving
		return r
	}
	all := []Result{
		redesign("light but does not bolt on", Keep, 40, "hole 1 is missing"),
		redesign("light", Keep, 20),
		redesign("lighter", Keep, 30),
		redesign("worth it", Swap, 10),
	}
	slices.SortStableFunc(all, func(a, b Result) int { return better(a, b, Lighter) })
	for i, want := range []string{"worth it", "lighter", "light", "light but does not bolt on"} {
		if all[i].New.File != want {
			t.Errorf("place %d: %s, want %s", i+1, all[i].New.File, want)
		}
	}
}
