package last_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"swapworth/materials"
	"swapworth/swap/last"
	"swapworth/swap/mill"
)

func find(t testing.TB, name string) materials.Material {
	t.Helper()
	m, err := materials.Default().Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// part is a milled plate with two bolts 100 mm apart.
func part(t testing.TB, material string) last.Part {
	return last.Part{Name: last.Redesign, Material: find(t, material), Milled: true, Length: 100, Over: "between its bolts", Bolted: true}
}

func of(kind last.Kind, all []last.Finding) *last.Finding {
	i := slices.IndexFunc(all, func(f last.Finding) bool { return f.Kind == kind })
	if i < 0 {
		return nil
	}
	return &all[i]
}

func TestEachKindIsSaidOfWhatHasItAndOfNothingElse(t *testing.T) {
	steel := find(t, "S235")
	for _, c := range []struct {
		material string
		kind     last.Kind
		says     string
	}{
		{"AZ31", last.ChipsBurn, "water makes it worse"}, {"Ti-6Al-4V", last.ChipsBurn, "water makes it worse"},
		{"CFRP", last.Dust, "conducts"}, {"FR4", last.Dust, "lungs"}, {"beech", last.Dust, "lungs"},
		{"PMMA", last.Brittle, "cracks"}, {"EN-GJL-250", last.Brittle, "cracks"},
		{"POM", last.Creep, "loose"}, {"PA6", last.Creep, "loose"}, {"PE-HD", last.Creep, "loose"},
		{"POM", last.Heat, "95 degrees"}, {"PLA", last.Heat, "too close"},
		{"PA6", last.Moisture, "0.9 mm on 100 mm"}, {"oak", last.Moisture, "across the grain"},
		{"CFRP", last.Grain, "in twist 11 to 18 %"}, {"PETG", last.Grain, "layers"},
		{"6061-T6", last.Galvanic, "stainless"}, {"AZ31", last.Galvanic, "steel bolts"}, {"CFRP", last.Galvanic, "aluminium"},
		{"6061-T6", last.Expansion, "0.011 mm at 10 K, 0.044 mm at 40 K, over 100 mm"},
		{"5052-H32", last.Other, "gums"},
	} {
		f := of(c.kind, last.Findings(part(t, c.material), steel))
		if f == nil || !strings.Contains(f.Says, c.says) || f.Why == "" || c.kind != last.Other && f.Change == "" {
			t.Errorf("%s, %s: %+v", c.material, c.kind, f)
		}
	}
	for _, f := range last.Findings(part(t, "S235"), steel) {
		t.Errorf("steel on steel: %+v", f)
	}
	stock := part(t, "AZ31")
	stock.Milled = false
	if f := of(last.ChipsBurn, last.Findings(stock, steel)); f != nil {
		t.Errorf("nobody mills the stock part: %+v", f)
	}
}

// 100 mm of aluminium on steel over 40 K: (23 - 12) 1e-6 x 100 x 40 = 0.044 mm, with the
// coefficients of EN 1999-1-1, 3.2.5 and EN 1993-1-1, 3.2.6.
func TestAluminiumGrowsTwiceAsMuchAsSteel(t *testing.T) {
	f := of(last.Expansion, last.Findings(part(t, "6082-T6"), find(t, "S235")))
	if f == nil || math.Abs(*f.Value-0.044) > 1e-9 {
		t.Fatalf("%+v", f)
	}
	if f := of(last.Expansion, last.Findings(part(t, "6082-T6"), find(t, "6061-T6"))); f != nil {
		t.Errorf("aluminium on aluminium: %+v", f)
	}
	if f := of(last.Expansion, last.Findings(part(t, "CFRP"), find(t, "6061-T6"))); f == nil || math.Abs(*f.Value-0.0836) > 1e-4 {
		t.Errorf("carbon on aluminium: %+v", f)
	}
}

// Frequencies of clamped rectangles, w a^2 sqrt(rho t/D) with a the long side: Leissa,
// Journal of Sound and Vibration 31 (1973), 35.992, 60.772 and 147.80 at a/b 1, 1.5 and
// 2.5, from memory. Deflection under a central force: Timoshenko and Woinowsky-Krieger,
// table 37, from memory. A strip buckles as a clamped column: 4 pi^2 D/(b^2 t), k = 4 and for a long
// plate 6.97 pi^2 D/(b^2 t) (Roark), pressed along.
func TestFloorsBendAsTheTablesOfPlatesSay(t *testing.T) {
	e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.3, Yield: 240, Density: 2700}
	const thick, b = 1.0, 40.0
	d := e.YoungsModulus / (12 * (1 - 0.09))
	for ratio, want := range map[float64]float64{1: 35.992, 1.5: 60.772, 2.5: 147.80} {
		got := last.ClampedPlate(ratio*b, b, thick, e).Frequency * 2 * math.Pi * (ratio * b) * (ratio * b) * math.Sqrt(2.7e-9*thick/d)
		if math.Abs(got/want-1) > 0.005 {
			t.Errorf("a/b %g: %g, want %g", ratio, got, want)
		}
	}
	for ratio, want := range map[float64]float64{1: 0.00560, 1.2: 0.00647, 2: 0.00722, 50: 0.00725} {
		if got := last.ClampedPlate(b, ratio*b, thick, e).PerNewton * d / (b * b); math.Abs(got/want-1) > 0.003 {
			t.Errorf("a/b %g: alpha %g, want %g", ratio, got, want)
		}
	}
	if k := last.ClampedPlate(1e4, b, thick, e).Buckles * b * b * thick / (math.Pi * math.Pi * d); math.Abs(k-6.97) > 0.05 {
		t.Errorf("a long clamped plate buckles at k = %g", k)
	}
	// A strip of 1 mm: 22.37/(2 pi 40^2) sqrt(D/(rho t)) = 3427 Hz, worked by hand.
	if f := last.Strip(b, 10, thick, true, e).Frequency; math.Abs(f-3427) > 10 {
		t.Errorf("%g Hz", f)
	}
	if f := last.Strip(b, 10, thick, false, e).Frequency; math.Abs(f/3427-3.516/22.373) > 1e-3 {
		t.Errorf("%g Hz with a free edge", f)
	}
}

func TestAThinWideFloorDrumsAndBucklesAndAThickOneDoesNot(t *testing.T) {
	p := part(t, "6061-T6")
	p.Tooth = 250 // 5000 turns a minute, three flutes
	p.Floors = []mill.Floor{{Thickness: 4, Size: [2]float64{20, 20}, Held: [2]int{2, 2}}, {Thickness: 0.8, Size: [2]float64{120, 100}, Held: [2]int{2, 2}}}
	f := of(last.ThinFloor, last.Findings(p, find(t, "S235")))
	if f == nil || !strings.Contains(f.Says, "120 x 100 mm, 0.8 mm thin") || !strings.Contains(f.Says, "drums") || !strings.Contains(f.Says, "buckles") {
		t.Errorf("%+v", f)
	}
	p.Floors = p.Floors[:1]
	if f := of(last.ThinFloor, last.Findings(p, find(t, "S235"))); f != nil {
		t.Errorf("a thick floor: %+v", f)
	}
	open := mill.Floor{Thickness: 1, Size: [2]float64{30, 60}, Held: [2]int{1, 0}}
	closed := open
	closed.Held = [2]int{2, 2}
	if e := find(t, "6061-T6").Elastic(); !(last.Bends(open, e).Frequency < last.Bends(closed, e).Frequency/4) {
		t.Error("a floor with one wall rings as high as one with four")
	}
}

func TestPocketsOnOneSideBowRolledPlateAndCastPlateLess(t *testing.T) {
	steel := find(t, "S235")
	for material, want := range map[string]string{"6082-T6": "cast plate does so less", "cast tooling plate": "a little", "S235": ""} {
		p := part(t, material)
		p.OneSided = -0.08
		f := of(last.Bow, last.Findings(p, steel))
		if (f == nil) != (want == "") || f != nil && !strings.Contains(f.Says, want) {
			t.Errorf("%s: %+v", material, f)
		}
		p.OneSided = 0.01
		if f := of(last.Bow, last.Findings(p, steel)); f != nil {
			t.Errorf("%s, even on both sides: %+v", material, f)
		}
	}
}

func TestBoresWearInASofterMetal(t *testing.T) {
	p := part(t, "7075-T6")
	p.Bores = []float64{6, 16, 16}
	if f := of(last.Wear, last.Findings(p, find(t, "S235"))); f == nil || !strings.Contains(f.Says, "6, 16 mm") || !strings.Contains(f.Change, "bush") {
		t.Errorf("%+v", f)
	}
	p.Material = find(t, "C45")
	if f := of(last.Wear, last.Findings(p, find(t, "S235"))); f != nil {
		t.Errorf("in steel: %+v", f)
	}
}

// What hurts someone comes before what breaks, that before what drifts, and that before
// what wears; what only the stock part has goes with it.
func TestWhatMattersMostComesFirst(t *testing.T) {
	steel := find(t, "S235")
	old := part(t, "PMMA")
	old.Name, old.Milled = last.Stock, false
	all := last.Both(last.Findings(old, steel), last.Findings(part(t, "AZ31"), steel))
	if all[0].Kind != last.ChipsBurn || all[0].Part != last.Redesign || all[len(all)-1].Part != last.Stock {
		t.Errorf("%+v", all)
	}
	same := part(t, "6061-T6")
	same.Name, same.Milled = last.Stock, false
	all = last.Both(last.Findings(same, steel), last.Findings(part(t, "6061-T6"), steel))
	for _, f := range all {
		if f.Part != "both parts" {
			t.Errorf("said twice: %+v", f)
		}
	}
}

// A row of a person's own may begin its note with any letter, or with an abbreviation.
func TestANoteGoesOnAfterAColon(t *testing.T) {
	p := part(t, "S235")
	for note, want := range map[string]string{"Ölig.": "S235: ölig", "EN plate only.": "S235: EN plate only", "x": "S235: x"} {
		p.Material.Note = note
		if f := of(last.Other, last.Findings(p, find(t, "S235"))); f == nil || f.Says != want {
			t.Errorf("%q: %+v, want %q", note, f, want)
		}
	}
}
