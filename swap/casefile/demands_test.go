package casefile

import (
	"strings"
	"testing"

	"swapworth/swap"
)

// Every demand has its key, which takes the quantity that its flag takes.
func TestEveryDemandHasItsKey(t *testing.T) {
	typed := map[string]string{"mass": "60g", "length": "0.1mm", "frequency": "200Hz", "number": "60", "hours": "4h"}
	for _, d := range swap.AllDemands() {
		text := typed[d.Kind]
		f, err := Parse([]byte("[criteria]\n" + d.Name + " = \"" + text + "\"\n"))
		if err != nil {
			t.Errorf("%s: %v", d.Name, err)
			continue
		}
		var set File
		if err := set.Criteria.SetDemand(d, text); err != nil {
			t.Errorf("--%s %s: %v", d.Name, text, err)
		}
		one, err := f.Criteria.limits()
		if err != nil {
			t.Fatal(err)
		}
		two, _ := set.Criteria.limits()
		a, b := *d.Limit(&one.Demands), *d.Limit(&two.Demands)
		if a == nil || b == nil || *a != *b || *a <= 0 {
			t.Errorf("%s: %v from a case file, %v from the flag", d.Name, a, b)
		}
		if err := set.Criteria.SetDemand(d, "3 parsec"); err == nil {
			t.Errorf("--%s takes parsecs", d.Name)
		}
		f, err = Parse([]byte("[criteria]\n" + d.Name + " = 0\n"))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Criteria.limits(); (err == nil) != d.Zero || err != nil && !strings.Contains(err.Error(), "--"+d.Name) {
			t.Errorf("--%s 0: %v", d.Name, err)
		}
	}
}

func TestAGoalBringsItsUsualLimits(t *testing.T) {
	for text, ratio := range map[string]float64{"": 0.9, "goal = \"lighter\"": 0.9, "goal = \"stiffer\"": 1.1, "goal = \"stiffer\"\nmin-stiffness-ratio = 1.5": 1.5} {
		f, err := Parse([]byte("[criteria]\n" + text + "\n"))
		if err != nil {
			t.Fatal(err)
		}
		if l, err := f.Criteria.limits(); err != nil || l.MinStiffnessRatio != ratio {
			t.Errorf("%q asks for a ratio of %g (%v), want %g", text, l.MinStiffnessRatio, err, ratio)
		}
	}
}
