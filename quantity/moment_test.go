package quantity

import "testing"

func TestAMomentIsReadInItsUnits(t *testing.T) {
	for text, want := range map[string]float64{
		"2 N m": 2000, "2Nm": 2000, "-500": -500, "1 kN m": 1e6,
		"1 lbf in": 4.4482216152605 * 25.4, // exact by definition
	} {
		var m Moment
		if err := m.Set(text); err != nil || abs(float64(m)-want) > 1e-9*abs(want) {
			t.Errorf("%q: %v, %v, want %v N mm", text, float64(m), err, want)
		}
	}
	var m Moment
	if err := m.Set("20N"); err == nil {
		t.Error("a force was taken for a moment")
	}
}

func abs(x float64) float64 { return max(x, -x) }
