package worlds

import (
	"testing"
)

// Of 95 % ranges about that share hold the truth in worlds that spread by 0.7 to 1.4 times
// what is stated, firm verdicts are hardly ever wrong, and weighed parts of known alloys
// are mostly decided. docs/evidence.md has a long run; this one is short, of plain bars
// whose truth is a formula, and its limits leave three standard deviations of a count.
func TestTheOddsAreThoseOneCanBetOn(t *testing.T) {
	const n = 80
	got, err := Run(t.Context(), Bars(), n, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%+v", got)
	for name, c := range map[string]Coverage{"saving": got.Saving, "ratio": got.Ratio, "safety": got.Safety} {
		if c.Of != n || c.Share() < 0.87 || c.Held == n {
			t.Errorf("%s: %d of %d ranges hold the truth, want 93 to 98 %%", name, c.Held, c.Of)
		}
	}
	if got.Firm() < n/2 || float64(got.Wrong()) > 0.04*float64(got.Firm()) {
		t.Errorf("%d of %d firm verdicts are wrong, want at most 1 %%", got.Wrong(), got.Firm())
	}
	if 3*got.WeighedChecks > got.Weighed {
		t.Errorf("%d of %d weighed parts are to be checked first, want at most a third", got.WeighedChecks, got.Weighed)
	}
}

// The same seed draws the same worlds.
func TestWorldsComeFromTheirSeed(t *testing.T) {
	run := func(seed uint64) Tally {
		got, err := Run(t.Context(), Bars(), 4, seed, nil)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	if a, b := run(1), run(1); a != b {
		t.Errorf("%+v and %+v from one seed", a, b)
	}
}
