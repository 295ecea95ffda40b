package swap

import "testing"

func criterion(kind criterionKind, probability float64) Criterion {
	c := Criterion{kind: kind}
	if probability >= 0 {
		c.Probability = &probability
	}
	return c
}

const unjudged = -1

func TestTheVerdictFollowsTheProbabilities(t *testing.T) {
	for _, c := range []struct {
		name     string
		criteria []Criterion
		blocked  bool
		want     Verdict
	}{
		{"all met surely", []Criterion{criterion(savingCriterion, 0.95), criterion(stiffnessCriterion, 0.9)}, false, Swap},
		{"one unsure", []Criterion{criterion(savingCriterion, 1), criterion(stiffnessCriterion, 0.89)}, false, CheckFirst},
		{"one missed surely", []Criterion{criterion(savingCriterion, 1), criterion(stiffnessCriterion, 0.1)}, false, Keep},
		{"one missed, another unsure", []Criterion{criterion(savingCriterion, 0.5), criterion(stiffnessCriterion, 0)}, false, Keep},
		{"strength not judged", []Criterion{criterion(savingCriterion, 1), criterion(safetyCriterion, unjudged)}, false, Swap},
		{"stiffness refused", []Criterion{criterion(savingCriterion, 1), criterion(stiffnessCriterion, unjudged)}, false, CheckFirst},
		{"cost asked for and unknown", []Criterion{criterion(savingCriterion, 1), criterion(costCriterion, unjudged)}, false, CheckFirst},
		{"does not bolt on", []Criterion{criterion(savingCriterion, 1)}, true, CheckFirst},
		{"does not bolt on and saves nothing", []Criterion{criterion(savingCriterion, 0)}, true, Keep},
	} {
		if got := verdictOf(c.criteria, c.blocked); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
