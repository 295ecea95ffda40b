package swap

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/feature"
	"swapworth/swap/last"
)

func said(all []last.Finding, kind last.Kind) *last.Finding {
	i := slices.IndexFunc(all, func(f last.Finding) bool { return f.Kind == kind })
	if i < 0 {
		return nil
	}
	return &all[i]
}

// The dangers a shop knows of, each in the result of a comparison and among the three
// that stand beside the verdict.
func TestComparisonSaysWhatIsDangerousOfEachMaterial(t *testing.T) {
	for name, want := range map[string]struct {
		kind last.Kind
		says string
	}{
		"AZ31B-H24":          {last.ChipsBurn, "water makes it worse"},
		"Ti-6Al-4V":          {last.ChipsBurn, "water makes it worse"},
		"carbon-fibre plate": {last.Dust, "lungs, and conducts"},
		"FR4":                {last.Dust, "lungs"},
		"beech":              {last.Dust, "lungs"},
		"PMMA":               {last.Brittle, "without yielding"},
		"EN-GJL-250":         {last.Brittle, "without yielding"},
		"POM":                {last.Creep, "bolt heads"},
		"PE-HD":              {last.Creep, "bolt heads"},
		"PA6":                {last.Moisture, "humid air"},
	} {
		c := milled(t, layers(t, opened(8, hole(10, 10, 15, 15), hole(80, 10, 85, 15))))
		c.New.Material = material(t, name)
		m, on := placedOf(t, c)
		p := lastingPart(c.Making, on, m.millable, onRedesign)
		p.Bolted = true // its square holes are none
		all := last.Findings(p, baseOf(c))
		f := said(all, want.kind)
		if f == nil || !strings.Contains(f.Says, want.says) {
			t.Errorf("%s: %+v", name, all)
			continue
		}
		if i := slices.IndexFunc(all, func(f last.Finding) bool { return f.Kind == want.kind }); i >= 3 {
			t.Errorf("%s: %s stands at place %d", name, want.kind, i+1)
		}
	}
}

func TestWhatLastsIsInTheResultAndChangesWithTheBase(t *testing.T) {
	c := milled(t, layers(t, opened(8), opened(12, hole(20, 10, 80, 30))))
	r := decide(t, c)
	f := said(r.Lasting, last.Expansion)
	if f == nil || !strings.Contains(f.Says, "6061-T6 on steel") {
		t.Fatalf("%+v", r.Lasting)
	}
	if b := said(r.Lasting, last.Bow); b == nil || b.Part != last.Redesign {
		t.Errorf("a pocket on one side of rolled plate: %+v", r.Lasting)
	}
	c.BoltedTo = material(t, "6061-T6")
	if f := said(lastingOf(t, c), last.Expansion); f == nil || f.Part != last.Stock { // which is steel
		t.Errorf("on aluminium: %+v", f)
	}
}

// A floor of 0.7 x 72 x 32 mm under a pocket, all around clamped: the solid's own
// measure of it, and the plate formula's.
func TestAThinFloorIsMeasuredOnTheMesh(t *testing.T) {
	c := milled(t, layers(t, opened(0.7), opened(12, hole(4, 4, 96, 36))))
	m, _ := placedOf(t, c)
	if len(m.millable.Floors) == 0 {
		t.Fatal("no floor was found")
	}
	f := m.millable.Floors[0]
	sides := []float64{f.Size[0], f.Size[1]}
	slices.Sort(sides)
	if math.Abs(f.Thickness-0.7) > 1e-6 || math.Abs(sides[0]-32) > 1e-6 || math.Abs(sides[1]-92) > 1e-6 || f.Held != [2]int{2, 2} {
		t.Errorf("%+v", f)
	}
	if got := said(lastingOf(t, c), last.ThinFloor); got == nil || !strings.Contains(got.Says, "92 x 32 mm, 0.7 mm thin") {
		t.Errorf("%+v", lastingOf(t, c))
	}
	thick := milled(t, layers(t, opened(8), opened(12, hole(4, 4, 96, 36))))
	if got := said(lastingOf(t, thick), last.ThinFloor); got != nil {
		t.Errorf("a floor of 8 mm: %+v", got)
	}
}

// lastingOf is what becomes of both parts of a case.
func lastingOf(t *testing.T, c Case) []last.Finding {
	t.Helper()
	m, p := placedOf(t, c)
	return lasting(baseOf(c), c.Making, p, m.millable)
}

// Clearance holes of ISO 273 hold bolts; dowels of ISO 2338, shafts and bearings wear.
func TestBoresAreToldFromBoltHoles(t *testing.T) {
	for d, want := range map[float64]bool{4.5: false, 5.5: false, 6.6: false, 9: false, 11: false, 13.5: false, 4.2: false, 5: false,
		4: true, 6: true, 8: true, 10: true, 16: true, 22: true, 30: true} {
		if got := wears(feature.Hole{Diameter: d}, false); got != want {
			t.Errorf("%g mm: %v", d, got)
		}
		if wears(feature.Hole{Diameter: d}, true) {
			t.Errorf("%g mm holds a bolt", d)
		}
	}
}

// A twisted bar of carbon plate has a fifth of what an isotropic computation gives, and
// the interval of its stiffness reaches down to it.
func TestTwistOfCarbonPlateIsARange(t *testing.T) {
	c := steelCase(t)
	c.New.Material = material(t, "carbon-fibre plate")
	c.Loading.Method, c.Loading.Cases = Auto, []LoadCase{{Name: "twist", Loads: Loads{Moment: r3.Vec{X: 1000}}}}
	r := decide(t, c)
	ratio := r.Stiffness[0].Ratio
	if ratio == nil || ratio.Low > 0.35*ratio.Nominal {
		t.Errorf("ratio %v", ratio)
	}
	if !strings.Contains(strings.Join(r.Warnings, "\n"), "stiffness in twist") {
		t.Errorf("warnings %q", r.Warnings)
	}
}

func TestAStrengthOfOtherStockIsWarnedOf(t *testing.T) {
	c := milled(t, layers(t, opened(8), opened(12, hole(20, 10, 80, 30))))
	c.New.Material = material(t, "CuZn37") // sheet to 5 mm
	m, _ := placedOf(t, c)
	j := judged{price: priceOf(c, m, inputs{})}
	if said := strings.Join(warningsOf(decision{measured: m, judged: j}), "\n"); !strings.Contains(said, "0.2 to 5 mm") {
		t.Errorf("%q", said)
	}
}
