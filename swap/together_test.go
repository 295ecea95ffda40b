package swap

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"swapworth/mass"
	"swapworth/materials"
)

// weighedPair is a bar against one of a material of like stiffness, both put on a fine
// scale: all that is open of its mass is a hundredth of a gram.
func weighedPair(t *testing.T, name string, oldGrams, newGrams float64) Member {
	t.Helper()
	volume := 120.0 * 20 * 5 // mm3
	limits := DefaultLimits()
	limits.MinStiffnessRatio, limits.StiffnessAsked = 0.1, true
	limits.MinGain, limits.GainAsked = 0.05, true
	steel, light := material(t, "S235"), material(t, "6061-T6")
	side := func(m *materials.Material, grams float64) Side {
		l := bar(120, 20, 5*grams/(m.Density.Nominal*volume*1e-6))
		l.Path = name + ".stl"
		return Side{Loaded: l, Material: m, Weight: &mass.Weighing{Grams: grams, Resolution: 0.01}}
	}
	return Member{name, Case{
		Old: side(steel, oldGrams), New: side(light, newGrams), Limits: limits, Table: materials.Default(),
		Machine: Machine{MovingMass: 1000, Drive: Drive{Limited: ByForce}},
		Loading: Loading{Method: ByBeam, Force: 1},
	}}
}

// By hand: 40 g and 10 g of 1000 g. Alone M/(M - dm) - 1 is 1000/960 - 1 = 4.167 % and
// 1000/990 - 1 = 1.010 %, together 1000/950 - 1 = 5.263 %: of 5 % each alone falls short
// and both together do not. Frequency grows by sqrt(1000/950) - 1 = 2.598 %.
func TestWhatNoPairGainsAloneAllMayGainTogether(t *testing.T) {
	got, err := DecideTogether(context.Background(), []Member{weighedPair(t, "large", 100, 60), weighedPair(t, "small", 80, 70)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{4.1667, 1.0101} {
		r := got.Pairs[i].Result
		if math.Abs(r.Motion.AccelerationGain.Nominal-want) > 1e-3 || r.Verdict != Keep || got.Pairs[i].InGroup != Swap {
			t.Errorf("%s gains %v and is %s alone, %s in the group; reasons %q", got.Pairs[i].Name, *r.Motion.AccelerationGain, r.Verdict, got.Pairs[i].InGroup, r.Reasons)
		}
	}
	if g, f := *got.All.Gain, *got.All.Frequency; math.Abs(g.Nominal-5.2632) > 1e-3 || math.Abs(f.Nominal-2.5978) > 1e-3 || math.Abs(got.All.Saving.Nominal-50) > 1e-9 {
		t.Errorf("together they save %v g, gain %v and ring %v", got.All.Saving, g, f)
	}
	if got.Verdict == nil || *got.Verdict != Swap || len(got.Worth.Pairs) != 2 {
		t.Errorf("together the verdict is %v, worth making %v: %q", got.Verdict, got.Worth, got.Reasons)
	}
}

// Independent draws add in squares: each saving is known to +-0.01 g evenly of two
// readings, so the sum of two spreads by sqrt(2) of one, not by 2.
func TestDrawsOfTwoPairsAreIndependent(t *testing.T) {
	one, err := decideMember(context.Background(), weighedPair(t, "a", 100, 60), 0)
	if err != nil {
		t.Fatal(err)
	}
	two, err := decideMember(context.Background(), weighedPair(t, "b", 100, 60), 1)
	if err != nil {
		t.Fatal(err)
	}
	alone, both := sumOf([]member{one}).Saving, sumOf([]member{one, two}).Saving
	ratio := (both.High - both.Low) / (alone.High - alone.Low)
	if ratio < 1.3 || ratio > 1.6 {
		t.Errorf("two pairs spread %.3f times as far as one, want about sqrt 2", ratio)
	}
}

// The cheaper gram comes first: as many hours for 40 g as for 10 g.
func TestPairsPayInTheOrderOfWhatAGramCosts(t *testing.T) {
	heavier := weighedPair(t, "heavier", 60, 65)
	got, err := DecideTogether(context.Background(), []Member{weighedPair(t, "small", 80, 70), heavier, weighedPair(t, "large", 100, 60)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, p := range got.Order {
		names = append(names, p.Name)
	}
	if !slices.Equal(names, []string{"large", "small"}) {
		t.Errorf("they pay in the order %v", names)
	}
	kept := weighedPair(t, "kept", 100, 60)
	kept.Case.Limits.MinStiffnessRatio = 5
	alone, err := DecideTogether(context.Background(), []Member{kept, weighedPair(t, "small", 80, 70)}, nil)
	if err != nil || len(alone.Order) != 1 || alone.Order[0].Name != "small" {
		t.Errorf("what is to be kept pays: %v, %v", alone.Order, err)
	}
	if last := got.Order[1]; math.Abs(last.SavedSoFar-50) > 1e-9 || math.Abs(*last.GainSoFar-5.2632) > 1e-3 || *got.Order[0].PerGram >= *last.PerGram {
		t.Errorf("the second step is %+v", last)
	}
}

func TestPairsOfDifferentMachinesAreRefused(t *testing.T) {
	other := weighedPair(t, "other", 80, 70)
	other.Case.Machine.MovingMass = 900
	_, err := DecideTogether(context.Background(), []Member{weighedPair(t, "one", 100, 60), other}, nil)
	if err == nil || !strings.Contains(err.Error(), "one and other move with different machines") {
		t.Errorf("error %v", err)
	}
	light := []Member{weighedPair(t, "one", 100, 60), weighedPair(t, "two", 100, 60)}
	for i := range light {
		light[i].Case.Machine.MovingMass = 150
	}
	if _, err = DecideTogether(context.Background(), light, nil); err == nil || !strings.Contains(err.Error(), "the stock parts of all pairs weigh 200 g") {
		t.Errorf("error %v", err)
	}
}
