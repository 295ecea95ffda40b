package quantity_test

import (
	"encoding"
	"fmt"
	"math"
	"strings"
	"testing"

	"swapworth/internal/property"
	"swapworth/quantity"

	"github.com/spf13/pflag"
	"pgregory.net/rapid"
)

// value is what every quantity promises to be.
type value interface {
	pflag.Value
	encoding.TextUnmarshaler
	encoding.TextMarshaler
}

var (
	_ value = new(quantity.Length)
	_ value = new(quantity.Mass)
	_ value = new(quantity.Force)
	_ value = new(quantity.Stress)
	_ value = new(quantity.Density)
	_ value = new(quantity.Inertia)
	_ value = new(quantity.Hours)
	_ value = new(quantity.Minutes)
	_ value = new(quantity.Fraction)
	_ value = new(quantity.Point)
	_ value = new(quantity.Weight)
)

// Conversions are exact by definition (ISO 80000-3 and -4: inch, pound,
// standard gravity) or rounded as NIST SP 811 appendix B prints them.
func TestUnitsConvertAsTheStandardsSay(t *testing.T) {
	type scalar interface{ Set(string) error }
	check := func(q scalar, got func() float64, text string, want float64) {
		t.Helper()
		if err := q.Set(text); err != nil {
			t.Errorf("%q: %v", text, err)
		} else if math.Abs(got()-want) > 1e-6*math.Abs(want) {
			t.Errorf("%q = %v, want %v", text, got(), want)
		}
	}
	var l quantity.Length
	for text, want := range map[string]float64{
		"4mm": 4, "4": 4, " 4 mm ": 4, "0.25in": 6.35, `0.25"`: 6.35, "1 ft": 304.8,
		"1.2m": 1200, "5cm": 50, "10 µm": 0.01, "2 thou": 0.0508, "1e2mm": 100, "4MM": 4,
		"-3.5": -3.5, ".5": 0.5, "5.": 5, "+2": 2,
	} {
		check(&l, func() float64 { return float64(l) }, text, want)
	}
	var m quantity.Mass
	for text, want := range map[string]float64{
		"65g": 65, "0.14 lb": 63.5029318, "1oz": 28.349523125, "0.2kg": 200, "5mg": 0.005,
	} {
		check(&m, func() float64 { return float64(m) }, text, want)
	}
	var f quantity.Force
	for text, want := range map[string]float64{
		"20N": 20, "5 lbf": 22.2411081, "1kgf": 9.80665, "2kN": 2000, "20 n": 20,
	} {
		check(&f, func() float64 { return float64(f) }, text, want)
	}
	var s quantity.Stress
	for text, want := range map[string]float64{
		"70000MPa": 70000, "70GPa": 70000, "210000 N/mm²": 210000, "1 psi": 6.894757e-3,
		"40ksi": 275.79029, "10 Msi": 68947.57, "1bar": 0.1, "100 mpa": 100,
	} {
		check(&s, func() float64 { return float64(s) }, text, want)
	}
	var d quantity.Density
	for text, want := range map[string]float64{
		"2700": 2700, "2.7 g/cm3": 2700, "2.7g/cm³": 2700, "0.098 lb/in3": 2712.6312,
	} {
		check(&d, func() float64 { return float64(d) }, text, want)
	}
	var i quantity.Inertia
	for text, want := range map[string]float64{
		"1200 kg mm2": 1200, "0.0012 kg m2": 1200, "1200kg·mm²": 1200, "12 kg*cm^2": 1200,
		"1 lb in2": 292.6397,
	} {
		check(&i, func() float64 { return float64(i) }, text, want)
	}
	var h quantity.Hours
	for text, want := range map[string]float64{"90min": 1.5, "1.5h": 1.5, "2 hours": 2, "36s": 0.01} {
		check(&h, func() float64 { return float64(h) }, text, want)
	}
	var p quantity.Fraction
	for text, want := range map[string]float64{"1%": 0.01, "1": 0.01, "12.5 %": 0.125} {
		check(&p, func() float64 { return float64(p) }, text, want)
	}
}

func TestAWrongDimensionSaysWhatWasExpected(t *testing.T) {
	var f quantity.Force
	err := f.Set("20mm")
	if want := `"20mm": expected a force such as 20N or 5 lbf; mm is a unit of length`; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	for text, q := range map[string]value{
		"":            new(quantity.Length),
		"mm":          new(quantity.Length),
		"1,000 g":     new(quantity.Mass),
		"1.234,5 g":   new(quantity.Mass),
		"4 5mm":       new(quantity.Length),
		"0x10":        new(quantity.Length),
		"inf":         new(quantity.Length),
		"NaN mm":      new(quantity.Length),
		"1e999":       new(quantity.Length),
		"5 lb":        new(quantity.Force),
		"-1g":         new(quantity.Mass),
		"70 mPa":      new(quantity.Stress),
		"0.5Mg":       new(quantity.Mass),
		"20N":         new(quantity.Inertia),
		"-2h":         new(quantity.Hours),
		"0g":          new(quantity.Weight),
		"heavy":       new(quantity.Weight),
		"1,2":         new(quantity.Point),
		"1,2,3,4":     new(quantity.Point),
		"1,,3":        new(quantity.Point),
		"1mm,2,3kg":   new(quantity.Point),
		"7 000 kg/m3": new(quantity.Density),
		"half":        new(quantity.Fraction),
	} {
		before := q.String()
		if err := q.Set(text); err == nil {
			t.Errorf("%q was taken for a %s: %s", text, q.Type(), q)
		} else if strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: error runs over a line: %v", text, err)
		}
		if q.String() != before {
			t.Errorf("%q changed the value from %s to %s", text, before, q)
		}
	}
}

func TestAWeightRemembersItsLastDigit(t *testing.T) {
	for text, want := range map[string]quantity.Weight{
		"65g":     {Grams: 65, Step: 1},
		"65":      {Grams: 65, Step: 1},
		"64.8g":   {Grams: 64.8, Step: 0.1},
		"64.80 g": {Grams: 64.8, Step: 0.01},
		"0.065kg": {Grams: 65, Step: 1},
		"6.5e1g":  {Grams: 65, Step: 1},
		"0.14 lb": {Grams: 63.5029318, Step: 4.5359237},
	} {
		var w quantity.Weight
		if err := w.Set(text); err != nil {
			t.Fatal(err)
		}
		if math.Abs(w.Grams-want.Grams) > 1e-9 || math.Abs(w.Step-want.Step) > 1e-9 {
			t.Errorf("%q = %+v, want %+v", text, w, want)
		}
	}
}

func TestAUnitOnTheLastCoordinateCountsForAll(t *testing.T) {
	for text, want := range map[string]quantity.Point{
		"10,20,-5":     {10, 20, -5},
		"1, 2, 3in":    {25.4, 50.8, 76.2},
		"1cm,2,3in":    {10, 2, 76.2},
		"10mm,2cm,3in": {10, 20, 76.2},
	} {
		var p quantity.Point
		if err := p.Set(text); err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		for i := range p {
			if math.Abs(float64(p[i]-want[i])) > 1e-9 {
				t.Errorf("%q = %v, want %v", text, p, want)
			}
		}
	}
}

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1e-6, 1e6).Draw(t, "value")
		same := func(q value, back value, equal func() bool) {
			text, _ := q.MarshalText()
			if err := back.UnmarshalText(text); err != nil || !equal() {
				t.Fatalf("%s read back as %s: %v", text, back, err)
			}
		}
		m, m2 := quantity.Mass(v), quantity.Mass(0)
		same(&m, &m2, func() bool { return m == m2 })
		i, i2 := quantity.Inertia(v), quantity.Inertia(0)
		same(&i, &i2, func() bool { return i == i2 })
		f, f2 := quantity.Fraction(v/100), quantity.Fraction(0)
		same(&f, &f2, func() bool { return math.Abs(float64(f-f2)) <= 1e-15*v })
		p, p2 := quantity.Point{quantity.Length(v), quantity.Length(-v), 0}, quantity.Point{}
		same(&p, &p2, func() bool { return p == p2 })
	})
}

func TestWordsAndDecimalCommasAreUnderstood(t *testing.T) {
	for text, want := range map[string]quantity.Weight{
		"222,5 g": {Grams: 222.5, Step: 0.1}, "0,125kg": {Grams: 125, Step: 1}, ",5 lb": {Grams: 226.796185, Step: 45.359237},
		"65 grams": {Grams: 65, Step: 1}, "65 Grams": {Grams: 65, Step: 1}, "2 lbs": {Grams: 907.18474, Step: 453.59237},
		"3 ounces": {Grams: 85.048569375, Step: 28.349523125}, "1 pound": {Grams: 453.59237, Step: 453.59237},
		"222,50\u00a0g": {Grams: 222.5, Step: 0.01},
	} {
		var w quantity.Weight
		if err := w.Set(text); err != nil {
			t.Errorf("%q: %v", text, err)
		} else if math.Abs(w.Grams-want.Grams) > 1e-9 || math.Abs(w.Step-want.Step) > 1e-9 {
			t.Errorf("%q = %+v, want %+v", text, w, want)
		}
	}
	for text, want := range map[string]string{"4 inches": "101.6mm", "2 Meters": "2000mm", "12,7mm": "12.7mm"} {
		var l quantity.Length
		if err := l.Set(text); err != nil || l.String() != want {
			t.Errorf("%q = %s, %v; want %s", text, l, err, want)
		}
	}
}

func TestARefusalSaysWhatWasExpectedAndWhatWasFound(t *testing.T) {
	for _, c := range []struct {
		q          value
		text, want string
	}{
		{new(quantity.Force), "5lb", "expected a force such as 20N or 5 lbf; lb is a unit of mass"},
		{new(quantity.Mass), "5lbf", "expected a mass such as 65g or 0.14 lb; lbf is a unit of force"},
		{new(quantity.Weight), "1,000 g", "is the comma a decimal one? Write 1000 or 1.000"},
		{new(quantity.Force), "1e308", "too large: expected a force of at most 1e+09N"},
		{new(quantity.Length), "1e9mm", "too large: expected a length of at most 1e+06mm"},
		{new(quantity.Weight), "1e-150g", "too small: expected a mass of at least 1e-06g"},
		{new(quantity.Weight), "1e-400g", "too small: expected a mass of at least 1e-06g"},
		{new(quantity.Stress), "1e20", "too large: expected a stress of at most 1e+07MPa"},
	} {
		if err := c.q.Set(c.text); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
	var n quantity.Count
	for _, text := range []string{"9e18", "9000000000000000000", "99999999999999999999", "1000001"} {
		if err := n.UnmarshalText([]byte(text)); err == nil || !strings.Contains(err.Error(), "at most 1000000") {
			t.Errorf("count %s: %v", text, err)
		}
	}
}

// A comma and a point mean the same wherever the comma can be but one.
func TestACommaReadsAsAPointOrIsRefused(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		digits := rapid.StringMatching(`[0-9]{1,5}[.][0-9]{1,6}`).Draw(t, "number")
		var point, comma quantity.Length
		errPoint, errComma := point.Set(digits+"mm"), comma.Set(strings.Replace(digits, ".", ",", 1)+"mm")
		if errPoint == nil && errComma == nil && point != comma {
			t.Fatalf("%s: %s with a point, %s with a comma", digits, point, comma)
		}
		if refused := errPoint == nil && errComma != nil; refused && len(digits)-strings.Index(digits, ".") != 4 {
			t.Fatalf("%s with a comma: %v", digits, errComma)
		}
	})
}

// FuzzTyped holds that what is read, written and read again is the same, that a
// space before the unit and around changes nothing, and that nothing is left over:
// a letter more is refused.
func FuzzTyped(f *testing.F) {
	for _, seed := range []string{"65g", "222,5 g", "0.14 lb", "5 lbf", "0.25in", "1200 kg mm2", "1e5mm", "12.5 %", "1,000", "70GPa"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, make := range []func() value{
			func() value { return new(quantity.Length) }, func() value { return new(quantity.Mass) },
			func() value { return new(quantity.Force) }, func() value { return new(quantity.Stress) },
			func() value { return new(quantity.Density) }, func() value { return new(quantity.Inertia) },
			func() value { return new(quantity.Hours) }, func() value { return new(quantity.Minutes) }, func() value { return new(quantity.Scalar) },
		} {
			q, again := make(), make()
			if q.Set(text) != nil {
				continue
			}
			if err := again.Set(q.String()); err != nil || again.String() != q.String() {
				t.Errorf("%q is %s, read again %s: %v", text, q, again, err)
			}
			if err := again.Set("  " + text + " "); err != nil || again.String() != q.String() {
				t.Errorf("%q with spaces around is %s, not %s: %v", text, again, q, err)
			}
			for _, rest := range []string{"!", " 1", "x"} {
				if err := again.Set(text + rest); err == nil {
					t.Errorf("%q was read as %s: the %q was dropped", text+rest, again, rest)
				}
			}
		}
	})
}

func FuzzNothingTypedPanics(f *testing.F) {
	for _, seed := range []string{"65g", "1,2,3in", "0.14 lb", "-", "e", "1e", "1e5000g", "²"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, q := range []value{
			new(quantity.Length), new(quantity.Weight), new(quantity.Point), new(quantity.Inertia),
		} {
			if q.Set(text) != nil {
				continue
			}
			if s := q.String(); strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
				t.Errorf("%q became %s", text, s)
			}
		}
	})
}

func ExampleWeight() {
	var w quantity.Weight
	if err := w.Set("0.065kg"); err != nil {
		fmt.Println(err)
	}
	fmt.Printf("%g g, last digit worth %g g\n", w.Grams, w.Step)
	// Output: 65 g, last digit worth 1 g
}

func ExampleForce() {
	var f quantity.Force
	fmt.Println(f.Set("20mm"))
	// Output: "20mm": expected a force such as 20N or 5 lbf; mm is a unit of length
}
