package note

import (
	"math"
	"testing"
)

func TestAStressThatIsNoNumberHasTheColourOfNone(t *testing.T) {
	if got := rampColor(math.NaN()); got != rampColor(0) {
		t.Errorf("colour %v, want %v", got, rampColor(0))
	}
	if rampColor(2) != stressRamp[len(stressRamp)-1] {
		t.Error("more than the largest stress has not the last colour")
	}
}
