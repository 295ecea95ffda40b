package fit

import (
	"math"
	"strings"
	"testing"
)

// Clearance holes of ASME B18.2.8, normal and close; tapping drills of ASME B94.9; all
// inch, from memory.
func TestAHoleDrawnInInchesNamesTheInchScrew(t *testing.T) {
	for size, want := range map[float64]string{
		0.1285: "#4 clearance, normal", 0.221: "#10 clearance, normal", 17. / 64: "1/4 clearance, close", 9. / 32: "1/4 clearance, normal",
		11. / 32: "5/16 clearance, normal", 13. / 32: "3/8 clearance, normal", 0.201: "1/4-20 tapping drill", 0.136: "#8-32 tapping drill", 5. / 16: "3/8-16 tapping drill", 0.159: "#10-32 tapping drill",
	} {
		if got := Suits(size * inch); len(got) == 0 || !strings.Contains(strings.Join(got, "; "), want) {
			t.Errorf("%g in suits %q, want %q", size, got, want)
		}
	}
	// A metric size is metric: no inch size is nearer than one that is met exactly.
	for _, s := range screws {
		for _, d := range []float64{s.drill, s.fine, s.medium, s.generous, s.diameter} {
			for _, use := range Suits(d) {
				if strings.Contains(use, "#") || strings.Contains(use, "/") {
					t.Errorf("%g mm suits %q", d, use)
				}
			}
		}
	}
}

// The tables against the thread's own geometry: a tapping drill leaves 65 to 85 % of a
// full thread, 1.299 P high over both flanks (ASME B1.1), and clearance grows from
// close to loose.
func TestInchTablesAgreeWithTheThreads(t *testing.T) {
	for _, s := range inchScrews {
		share := (s.diameter - s.drill) / (1.299 / s.turns)
		if share < 0.65 || share > 0.87 {
			t.Errorf("%s: the drill leaves %.0f %% of the thread", s.name, 100*share)
		}
		if !(s.diameter < s.close && s.close < s.normal && s.normal < s.wide && s.wide < 1.4*s.diameter) {
			t.Errorf("%s: clearance %g, %g, %g", s.name, s.close, s.normal, s.wide)
		}
	}
	for _, c := range []struct{ diameter, pitch, tapping, clearance float64 }{
		{5, 0.8, 4.2, 5.5}, {6, 0.75, 5.25, 6.6}, {0.25 * inch, inch / 20, 0.201 * inch, 9. / 32 * inch}, {7, 0.5, 6.5, 0},
	} {
		if d := DrillsFor(c.diameter, c.pitch); math.Abs(d.Tapping-c.tapping) > 1e-9 || math.Abs(d.Clearance-c.clearance) > 1e-9 {
			t.Errorf("%g x %g: %+v", c.diameter, c.pitch, d)
		}
	}
}
