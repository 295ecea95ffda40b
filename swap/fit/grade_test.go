package fit

import (
	"math"
	"strings"
	"testing"
)

// IT7 of ISO 286-1 at 3, 10, 22, 40, 62 and 100 mm, as tabled at mechguru.com (DIN
// ISO 286 standard tolerance zone size table); 16 i with i = 0.45 D^(1/3) + 0.001 D
// of the same standard comes within 10 % at the middle of the steps.
func TestGradeSevenOfISO286(t *testing.T) {
	for nominal, um := range map[float64]float64{3: 10, 10: 15, 22: 21, 40: 25, 62: 30, 100: 35, 600: 0} {
		if got := 1000 * gradeSeven(nominal); math.Abs(got-um) > 1e-9 {
			t.Errorf("IT7 at %g mm is %g um, want %g", nominal, got, um)
		}
	}
	for _, step := range [][2]float64{{10, 18}, {18, 30}, {30, 50}, {50, 80}, {80, 120}, {120, 180}} {
		d := math.Sqrt(step[0] * step[1])
		if i := 16 * (0.45*math.Cbrt(d) + 0.001*d); math.Abs(i/(1000*gradeSeven(d))-1) > 0.1 {
			t.Errorf("16 i at %.1f mm is %.1f um, the table says %g", d, i, 1000*gradeSeven(d))
		}
	}
}

func TestABearingsBoreIsNoClearanceOfALargeScrew(t *testing.T) {
	for d, want := range map[float64]string{
		22: "22 mm bearing seat", 22.02: "22 mm bearing seat", 22.05: "22 mm bearing seat, but off H7", 21.95: "22 mm bearing seat, but off H7",
		13: "13 mm bearing seat; M12 clearance, fine", 11: "M10 clearance, medium", 21: "M18 clearance, coarse",
	} {
		got := strings.Join(Suits(d), "; ")
		if d == 21 {
			if strings.Contains(got, "bearing") {
				t.Errorf("%g mm suits %q", d, got)
			}
			continue
		}
		if got != want {
			t.Errorf("%g mm suits %q, want %q", d, got, want)
		}
	}
	for _, c := range []struct {
		old, new float64
		hole     bool
		lost     bool
	}{
		{22, 22.05, true, true}, {22, 22.02, true, false}, {22, 21.98, true, true}, {22.05, 22.1, true, false},
		{11, 11.05, true, false}, {5.5, 5.55, true, false}, {6, 6.03, true, true}, {7, 7.05, true, false},
		{22, 24, true, false}, {20, 19.97, false, true}, {20, 19.99, false, false}, {20, 20.03, false, true},
	} {
		if _, lost := fitLost(c.old, c.new, c.hole); lost != c.lost {
			t.Errorf("%g -> %g mm, hole %v: lost %v", c.old, c.new, c.hole, lost)
		}
	}
}
