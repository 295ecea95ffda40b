package swap

import (
	"strings"
	"testing"
)

// By hand: at the hold the stock part of 20 x 5 mm bears 6 F L/(b t^2) = 6 x 120/(20 x 25) F
// = 1.44 F; steel yields at 235 MPa, at 163 N, and at half of that, 81.6 N, has the usual
// safety of 2. It weighs 94.2 g, so what moves is tried as 188 g and 18.8 kg.
func TestWhatNobodySaidIsTriedWhereItIsAskedFor(t *testing.T) {
	c := steelCase(t)
	if got := decide(t, c).Explored.Tried; len(triedOf(got, LoadSize)) > 0 {
		t.Error("a load was tried that nobody asked about")
	}
	c.Explore = true
	r := decide(t, c)
	for what, want := range map[string][]string{
		LoadSize:   {"81.6 N"},
		MovingMass: {"188 g", "18840 g"},
		PartCount:  nil, // nothing gains by it before the moving mass is known
	} {
		got := triedOf(r.Explored.Tried, what)
		if len(got) != len(want) {
			t.Errorf("%s: tried %v, want %v", what, got, want)
			continue
		}
		for i := range want {
			if !strings.HasPrefix(got[i].To, want[i]) {
				t.Errorf("%s: tried %q, want %q", what, got[i].To, want[i])
			}
		}
	}
	c.Machine.MovingMass = 300
	if got := triedOf(decide(t, c).Explored.Tried, PartCount); len(got) != 1 || got[0].To != "2" {
		t.Errorf("of 300 g that move two parts of 94 g may be part, but not four: tried %v", got)
	}
}

func triedOf(all []Tried, what string) (out []Tried) {
	for _, one := range all {
		if one.Assumption == what {
			out = append(out, one)
		}
	}
	return out
}
