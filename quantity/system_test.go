package quantity_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/quantity"
)

// Handbook values: 1 lbf/in = 0.175127 N/mm, 1 ksi = 6.894757 MPa, 1 lb/in3 =
// 27679.90 kg/m3, 1 lb in2 = 292.6397 kg mm2, 1 in4 = 416231.4 mm4, 1 lbf in =
// 112.9848 N mm (NIST Special Publication 811, appendix B.8).
func TestUnitsAreThoseOfTheHandbook(t *testing.T) {
	for _, c := range []struct {
		metric   string
		value    float64
		unit     string
		imperial float64
	}{
		{"N/mm", 0.1751268, "lbf/in", 1}, {"MPa", 6.894757, "ksi", 1}, {"kg/m3", 27679.90, "lb/in3", 1},
		{"kg mm2", 292.6397, "lb in2", 1}, {"g mm2", 292639.7, "lb in2", 1}, {"mm4", 416231.4, "in4", 1}, {"N mm", 112.9848, "lbf in", 1},
		{"N m", 0.1129848, "lbf in", 1}, {"g", 28.34952, "oz", 1}, {"g", 453.59237, "lb", 1}, {"kg", 0.45359237, "lb", 1},
		{"MPa", 0.006894757, "psi", 1}, {"GPa", 6.894757, "Msi", 1}, {"N", 4.448222, "lbf", 1}, {"mm", 25.4, "in", 1},
		{"mm3/min", 16387.064, "in3/min", 1}, {"g/cm3", 27.67990, "lb/in3", 1}, {"N mm/rad", 112.9848, "lbf in/rad", 1},
		{"m/s2", 0.3048, "ft/s2", 1}, {"m/min", 0.0254, "in/min", 1}, {"N m2", 0.002869815, "lbf in2", 1},
		{"mm6", 268535866.5, "in6", 1}, {"Hz", 12, "Hz", 12}, {"%", 3, "%", 3},
	} {
		unit, factor := quantity.Imperial.Unit(c.metric, c.value)
		got := c.value * factor
		if unit != c.unit || math.Abs(got-c.imperial) > 1e-6*c.imperial {
			t.Errorf("%g %s = %.7g %s, want %g %s", c.value, c.metric, got, unit, c.imperial, c.unit)
		}
	}
}

func TestAMetricTextIsWrittenInInches(t *testing.T) {
	for _, c := range []struct{ metric, want string }{
		{"it weighs 71 g, which over its volume is 2.69 g/cm3", "it weighs 2.5 oz, which over its volume is 0.0972 lb/in3"},
		{"64.5 (61.9\u00a0to\u00a067.2) g", "2.28 (2.18\u00a0to\u00a02.37) oz"},
		{"size 160 x 30 x 14 mm", "size 6.299 x 1.181 x 0.551 in"},
		{"marked at (30, 50, 6.35) mm", "marked at (1.181, 1.969, 0.25) in"},
		{"clamped thickness 5 -> 4 mm at holes 1, 2: bolts stand out 1 mm further", "clamped thickness 0.197 -> 0.157 in at holes 1, 2: bolts stand out 0.0394 in further"},
		{"the stress 2.4 and 6 mm from it: 3.23 MPa", "the stress 0.0945 and 0.236 in from it: 0.468 ksi"},
		{"6.2 N m", "54.9 lbf in"},
		{"M8 clearance, 7.5e+05 mm3", "M8 clearance, 45.8 in3"},
		{"Stock costs 9 a kg; 13.8 for each gram saved", "Stock costs 4.08 a lb; 390 for each ounce saved"},
		{"rect 40x4mm, 6061-T6, hole:3 mm", "rect 40x4mm, 6061-T6, hole:3 mm"},
		{"45 min, 12 %, 238 Hz, 5 grams", "45 min, 12 %, 238 Hz, 5 grams"},
		{"wear bores of 6, 8, 10 mm", "wear bores of 0.236, 0.315, 0.394 in"},
		{"clearance at holes 1, 2, 6 mm deep, grows by 23 um a metre and K", "clearance at holes 1, 2, 0.236 in deep, grows by 23 um a metre and K"},
		{"12.00 mm", "0.472 in"}, {"it takes 22.2 N at 3.18 mm", "it takes 5.00 lbf at 0.125 in"}, {"111 g", "3.9 oz"},
		{"a blank of 0.970 kg", "a blank of 2.14 lb"},
	} {
		if got := quantity.Imperial.Text(c.metric); got != c.want {
			t.Errorf("%q\nbecomes %q,\nwant    %q", c.metric, got, c.want)
		}
		if got := quantity.Metric.Text(c.metric); got != c.metric {
			t.Errorf("metric text %q becomes %q", c.metric, got)
		}
	}
}

func TestTheNameOfAFileIsNoAmount(t *testing.T) {
	if got := quantity.Imperial.Text("arm 5 mm.stl is 5 mm thick", "arm 5 mm.stl"); got != "arm 5 mm.stl is 0.197 in thick" {
		t.Errorf("got %q", got)
	}
}

func TestARowIsConvertedByItsLabel(t *testing.T) {
	for _, c := range []struct{ label, cell, wantLabel, wantCell string }{
		{"mass each, g", "71.0 (70.5\u00a0to\u00a071.5)", "mass each, oz", "2.50 (2.49\u00a0to\u00a02.52)"},
		{"mass each, g", "1203", "mass each, lb", "2.652"},
		{"stiffness along z, N/mm (solid)", "36.2", "stiffness along z, lbf/in (solid)", "207"},
		{"stiffness along z, N/mm", "times 0.968 (0.903 to 0.998)", "stiffness along z, lbf/in", "times 0.968 (0.903 to 0.998)"},
		{"at (mm)", "12.0, -1.0, 6.0", "at (in)", "0.472, -0.0394, 0.236"},
		{"force, N (x, y, z)", "0; -0.666; 10", "force, lbf (x, y, z)", "0; -0.150; 2.25"},
		{"MPa", "115", "ksi", "16.7"},
		{"largest equivalent stress, MPa", "120.0 at (0, 0, 25.4) mm", "largest equivalent stress, ksi", "17.40 at (0, 0, 1) in"},
		{"inertia about the pivot,\u00a0kg\u00a0mm2", "432", "inertia about the pivot,\u00a0lb\u00a0in2", "1.48"},
		{"price per kg", "9", "price per lb", "4.08"},
		{"cost per gram saved", "13.8", "cost per ounce saved", "390"},
		{"natural frequency, Hz", "238", "natural frequency, Hz", "238"},
		{"0.2 % proof stress, MPa", "EN 485-2 and ASTM B209 (35 ksi)", "0.2 % proof stress, ksi", "EN 485-2 and ASTM B209 (35 ksi)"},
		{"largest mass, g", "at most\u00a0111", "largest mass, oz", "at most\u00a03.9"},
		{"safety factor", "8.14", "safety factor", "8.14"},
	} {
		unit, size := quantity.UnitOf(c.label), quantity.Largest(c.cell)
		if got := quantity.Imperial.Labelled(c.label, size); got != c.wantLabel {
			t.Errorf("label %q becomes %q, want %q", c.label, got, c.wantLabel)
		}
		if got := quantity.Imperial.Cell(c.cell, unit, size); got != c.wantCell {
			t.Errorf("%s: %q becomes %q, want %q", c.label, c.cell, got, c.wantCell)
		}
	}
}

// A number of n digits is converted to within half a step of its last digit, or of
// the third digit where it has fewer.
func TestAConvertedTextMeansTheSame(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1e-3, 1e6).Draw(t, "value")
		digits := rapid.IntRange(3, 6).Draw(t, "digits")
		typed := quantity.Number(v, digits)
		var back quantity.Force
		if err := back.Set(quantity.Imperial.Text(typed + " N")); err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(back)-v) > 2*v*0.5*math.Pow10(1-digits)+1e-9 {
			t.Errorf("%g N as %s N comes back as %g", v, quantity.Imperial.Text(typed+" N"), float64(back))
		}
	})
}

func TestASystemIsReadByItsName(t *testing.T) {
	var s quantity.System
	for text, want := range map[string]quantity.System{"Imperial": quantity.Imperial, "metric": quantity.Metric, "inch": quantity.Imperial} {
		if err := s.Set(text); err != nil || s != want {
			t.Errorf("%q gives %v, %v", text, s, err)
		}
	}
	if err := s.Set("mm"); err == nil {
		t.Error("mm is no system of units")
	}
}
