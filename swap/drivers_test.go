package swap

import (
	"math"
	"testing"

	"swapworth/materials"
	"swapworth/swap/internal/draw"
)

// plates is a redesign 30 g lighter than a stock part of 100 g, with round
// uncertainties.
func plates() inputs {
	return inputs{
		count: 1, draws: new(sampler),
		old: partInputs{volume: materials.Exactly(10_000), density: materials.PlusMinus(10_000, 500), modulus: materials.PlusMinus(70_000, 700)},
		new: partInputs{volume: materials.Exactly(10_000), density: materials.PlusMinus(7_000, 100), modulus: materials.PlusMinus(70_000, 1400)},
		directions: []direction{{loadCase: loadCase{name: "z"},
			old: response{perModulus: 1}, new: response{perModulus: 1},
		}},
	}
}

func TestTheWidestInputDrivesTheUncertainty(t *testing.T) {
	got := drivers(plates())
	want := []string{
		"density of the stock part", "density of the redesign",
		"Young's modulus of the redesign", "Young's modulus of the stock part",
	}
	if len(got) != len(want) {
		t.Fatalf("got %+v", got)
	}
	for i, d := range got {
		if d.Input != want[i] {
			t.Errorf("place %d: %s, want %s", i, d.Input, want[i])
		}
	}
	// Bounds that are known to a quarter: P(|x| > c) = 2 (1.25 - c - c ln(1.25/c)) between
	// 0.75 and 1.25 of them, which is 5 % at 1.009.
	half := 5 * 1.009
	r := got[0].Range
	if math.Abs(r.High-30-half) > 0.06 || math.Abs(30-r.Low-half) > 0.06 || r.Nominal != 30 {
		t.Errorf("the saving is moved over %v, want 30 +- %.3f", r, half)
	}
}

func TestAlonePartsOfTheVarianceAddUp(t *testing.T) {
	// For a difference of independent inputs the squares of the widths add up.
	in := plates()
	old, new := in.masses()
	for i := range old {
		old[i] -= new[i]
	}
	all := draw.Interval(old, 30)
	sum := 0.0
	for _, d := range drivers(in) {
		if d.Quantity == "saving each (g)" {
			sum += d.width() * d.width()
		}
	}
	if got := math.Sqrt(sum); math.Abs(got/(all.High-all.Low)-1) > 0.04 {
		t.Errorf("widths add up to %.3f g, the whole interval is %.3f g wide", got, all.High-all.Low)
	}
}

func TestASharedAlloyIsOneDriver(t *testing.T) {
	in := plates()
	in.old.alloy, in.new.alloy, in.sameLot = "6061-T6", "6061-T6", true
	for _, d := range drivers(in) {
		if d.Input == "density of the redesign" || d.Input == "Young's modulus of the redesign" {
			t.Errorf("%s is a driver of its own", d.Input)
		}
	}
}
