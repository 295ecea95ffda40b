package figure

import (
	"strings"
	"testing"

	"swapworth/quantity"
	"swapworth/swap"
)

func TestVariantsAreDrawnByMaterialWithTheFrontRinged(t *testing.T) {
	ratio := func(v float64) *float64 { return &v }
	v := swap.Variants{
		Limits: swap.VariedLimits{MinStiffnessRatio: 0.9},
		Variants: []swap.Variant{
			{Thickness: 4, Material: "6061-T6", Mass: 80, Ratio: ratio(0.5), Unbeaten: true},
			{Thickness: 6, Material: "6061-T6", Mass: 120, Ratio: ratio(1.6), Unbeaten: true},
			{Thickness: 4, Material: "S235", Mass: 232, Ratio: ratio(1.5)},
			{Thickness: 6, Material: "S235", Mass: 348, Ratio: ratio(5.1), Unbeaten: true},
			{Thickness: 40, Material: "S235", Mass: 2320, Refused: "too stubby"},
		},
	}
	f, ok := Variants(quantity.Metric, v)
	if !ok {
		t.Fatal("nothing was drawn")
	}
	figureGolden(t, "vary", f)
	for _, want := range []string{"6061-T6: 4 mm weighs 80.0 g at 0.500 (unbeaten)", "S235: 4 mm weighs 232 g at 1.50,"} {
		if !strings.Contains(f.Alt, want) {
			t.Errorf("%q does not say %q", f.Alt, want)
		}
	}
	if strings.Contains(f.Alt, "40 mm") {
		t.Error("a refused variant is drawn")
	}
	if _, ok := Variants(quantity.Metric, swap.Variants{Variants: v.Variants[4:]}); ok {
		t.Error("a figure of nothing")
	}
}
