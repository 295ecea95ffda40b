package swap

import (
	"math"
	"strings"
	"testing"

	"swapworth/mass"
)

// Kinetic energy decides: 1/2 J w2 = 1/2 m v2 with v = p w/(2 pi). A rotor of 68 g cm2
// on a pulley of 20 teeth and 2 mm pitch counts as 6.8e-6 (2 pi/0.04)2 = 0.168 kg,
// on a screw of 8 mm a turn as 4.19 kg.
func TestWhatAMotorTurnsCountsAsMass(t *testing.T) {
	for _, c := range []struct{ travel, grams float64 }{{40, 167.8}, {8, 4194}} {
		if got := (Drive{Inertia: 6.8, Travel: c.travel}).mass(); math.Abs(got/c.grams-1) > 1e-3 {
			t.Errorf("%g mm a turn: %g g, want %g", c.travel, got, c.grams)
		}
	}
	if got := (Drive{Inertia: 6.8}).mass(); got != 0 {
		t.Errorf("without a travel: %g g", got)
	}
}

// driven is a bar of 120 x 20 x 5 weighed as steel, 94.2 g, against one in aluminium
// of 32.4 g, on an axis that moves 1 kg.
func driven(t *testing.T, d Drive) Case {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94.2, Resolution: 0.1}
	c.Machine = Machine{MovingMass: 1000, Drive: d}
	return c
}

func TestTheDriveItselfIsAccelerated(t *testing.T) {
	saved := 94.2 - 32.4
	bare := decide(t, driven(t, Drive{Limited: ByForce}))
	geared := decide(t, driven(t, Drive{Inertia: 6.8, Travel: 8, Limited: ByForce}))
	drive := Drive{Inertia: 6.8, Travel: 8}.mass()
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"gain without", bare.Motion.AccelerationGain.Nominal, 100 * (1000/(1000-saved) - 1)},
		{"gain with", geared.Motion.AccelerationGain.Nominal, 100 * ((1000+drive)/(1000+drive-saved) - 1)},
		{"frequency without", bare.Motion.FrequencyGain.Nominal, 100 * (math.Sqrt(1000/(1000-saved)) - 1)},
		{"frequency with, which the mount does not feel", geared.Motion.FrequencyGain.Nominal, 100 * (math.Sqrt(1000/(1000-saved)) - 1)},
		{"force saved", geared.Motion.ForceSaved.Nominal, 100 * saved / (1000 + drive)},
		{"drive", *geared.Motion.DriveMass, drive},
	} {
		if math.Abs(c.got-c.want) > 0.01*c.want {
			t.Errorf("%s: %g, want %g", c.what, c.got, c.want)
		}
	}
	for _, b := range geared.BreakEvens {
		if b.Quantity == "largest moving mass" && math.Abs(b.Value-(saved*1.01/0.01-drive)) > 0.01*b.Value {
			t.Errorf("largest moving mass %g", b.Value)
		}
	}
	if bare.Motion.DriveMass != nil {
		t.Errorf("a drive of %g g that nobody gave", *bare.Motion.DriveMass)
	}
}

func TestADriveThatItsControllerLimitsGainsNothing(t *testing.T) {
	r := decide(t, driven(t, Drive{Limited: BySpeed}))
	if g := r.Motion.AccelerationGain; r.Verdict != Keep || *g != (Range{}) {
		t.Errorf("verdict %q, gain %v", r.Verdict, g)
	}
	if !strings.Contains(strings.Join(r.Reasons, "\n"), "controller") || r.Motion.ForceSaved.Nominal < 6 || r.Motion.FrequencyGain.Nominal < 3 {
		t.Errorf("%q, %+v", r.Reasons, r.Motion)
	}
	for _, b := range r.BreakEvens {
		if strings.Contains(b.Meaning, "gain") {
			t.Errorf("%+v", b)
		}
	}
}

func TestAnUnknownDriveIsAnAssumptionAndTriedBothWays(t *testing.T) {
	for _, l := range []Limited{"", LimitUnknown} {
		r := decide(t, driven(t, Drive{Limited: l}))
		said, turned := false, false
		for _, a := range r.Assumptions {
			said = said || strings.Contains(a, "--drive-limited")
		}
		for _, o := range r.Turnovers {
			turned = turned || o.Assumption == "what limits the drive" && o.Verdict == Keep
		}
		if r.Verdict != Swap || !said || !turned || r.Motion.DriveLimited != LimitUnknown {
			t.Errorf("%q: verdict %q, assumed %v, turned %v, %+v", l, r.Verdict, said, turned, r.Motion)
		}
	}
	if r := decide(t, driven(t, Drive{Limited: ByForce})); len(r.Turnovers) != 0 && r.Turnovers[0].Assumption == "what limits the drive" {
		t.Errorf("tried where it is known: %+v", r.Turnovers)
	}
}
