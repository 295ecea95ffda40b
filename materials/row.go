package materials

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// material checks one row and turns it into a Material.
func (t *Table) material(row materialRow) (Material, error) {
	if key(row.Name) == "" {
		return Material{}, rowError{"name", "a material without a name"}
	}
	family := t.family(row.Family)
	if family < 0 {
		return Material{}, rowError{"family", fmt.Sprintf("material %q: unknown family %q: name one of the table's or add a [[family]]",
			row.Name, row.Family)}
	}
	m := Material{
		Name: row.Name, Aliases: row.Aliases, Family: t.families[family].Name, Kind: t.families[family].Kind,
		Note: row.Note, Printed: row.Printed, Fill: 1,
		DensitySource: row.Density.Source,
		YoungsModulus: Value(row.YoungsModulus), Poisson: Value(row.Poisson),
		Strength: Strength(row.Strength), Tensile: Value(row.Tensile), Fatigue: Fatigue(row.Fatigue),
		Magnet: Magnet(row.Magnet), Colour: Colour(row.Colour),
		Expansion: Value(row.Expansion), Softens: Value(row.Softens), Moisture: Value(row.Moisture),
		AnodicIndex: Value(row.AnodicIndex),
	}
	inherit(&m, row, t.families[family])
	for _, check := range []func(*Material, materialRow) error{
		setDensity, checkValues, checkUnits, checkColours, setPrice, setDirectional, checkLasting, setFill,
	} {
		if err := check(&m, row); err != nil {
			return Material{}, err
		}
	}
	return m, nil
}

// family returns the index of a family by its name or an alias, or -1.
func (t *Table) family(name string) int {
	return slices.IndexFunc(t.families, func(f Family) bool {
		return key(f.Name) == key(name) ||
			slices.ContainsFunc(f.Aliases, func(a string) bool { return key(a) == key(name) })
	})
}

// setDensity lets a person give the nominal value alone.
func setDensity(m *Material, row materialRow) error {
	d := row.Density
	if d.Nominal == nil {
		return rowError{"density_kg_m3", fmt.Sprintf("material %q: density_kg_m3 needs a nominal value, such as { nominal = 2700 }", m.Name)}
	}
	m.Density = Exactly(*d.Nominal)
	if d.Low != nil {
		m.Density.Low = *d.Low
	}
	if d.High != nil {
		m.Density.High = *d.High
	}
	r := m.Density
	if !(0 < r.Low && r.Low <= r.Nominal && r.Nominal <= r.High && r.High < 25000) {
		return rowError{"density_kg_m3", fmt.Sprintf("material %q: density %s: expected 0 < low <= nominal <= high < 25000 kg/m3", m.Name, r)}
	}
	return nil
}

func checkValues(m *Material, _ materialRow) error {
	for _, v := range []struct {
		key       string
		value     float64
		low, high float64
	}{
		{"youngs_modulus_mpa", m.YoungsModulus.Value, 0, 2e6},
		{"poisson", m.Poisson.Value, 0, 0.5},
		{"strength_mpa", m.Strength.Value, 0, 1e5},
		{"tensile_strength_mpa", m.Tensile.Value, 0, 1e5},
		{"fatigue_mpa", m.Fatigue.Value, 0, 1e5},
	} {
		if !(v.low <= v.value && v.value < v.high) {
			return rowError{v.key, fmt.Sprintf("material %q: %s is %g: expected at least %g and less than %g",
				m.Name, v.key, v.value, v.low, v.high)}
		}
	}
	for _, v := range []struct {
		key string
		in  Range
	}{{"youngs_modulus_mpa", m.Modulus()}, {"strength_mpa", m.Strength.Bounds()}} {
		if r := v.in; !(0 <= r.Low && r.Low <= r.Nominal && r.Nominal <= r.High) {
			return rowError{v.key, fmt.Sprintf("material %q: %s is %s: expected low <= value <= high", m.Name, v.key, r)}
		}
	}
	if m.Fatigue.Value > 0 && (!(m.Fatigue.Cycles >= 1) || math.IsInf(m.Fatigue.Cycles, 0)) {
		return rowError{"fatigue_mpa", fmt.Sprintf("material %q: fatigue_mpa needs the cycles it holds for, such as cycles = 1e7", m.Name)}
	}
	if m.Strength.Value > 0 && m.Strength.Name == "" {
		m.Strength.Name = "yield strength"
	}
	return nil
}

func checkColours(m *Material, _ materialRow) error {
	for _, c := range m.Colour.Groups {
		if !slices.Contains(Colours, c) {
			return rowError{"colour", fmt.Sprintf("material %q: unknown colour group %q: expected some of %v", m.Name, c, Colours)}
		}
	}
	if len(m.Colour.Groups) == 0 {
		m.Colour.Groups = []string{"any"}
	}
	return nil
}

func setPrice(m *Material, row materialRow) error {
	price := row.Price.Value
	if price == nil {
		price, m.PricePlaceholder = row.Price.Placeholder, true
	}
	if price == nil {
		return nil
	}
	if !(*price >= 0) || math.IsInf(*price, 0) {
		return rowError{"price_per_kg", fmt.Sprintf("material %q: a price of %g per kg is not possible", m.Name, *price)}
	}
	m.PricePerKg = *price
	return nil
}

func setFill(m *Material, row materialRow) error {
	if row.Fill == nil {
		return nil
	}
	filled, err := m.withFill(*row.Fill)
	if err != nil {
		return rowError{"fill", err.Error()}
	}
	*m = filled
	return nil
}

// key is what names are compared by: letters and digits in small letters, with
// the point of "1.4301". Spaces, hyphens and slashes carry no meaning, so
// "6061 t6" is "6061-T6".
func key(name string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '\t', '-', '_', '/', ',', '\u2010', '\u2011', '\u2013':
			return -1
		}
		return r
	}, strings.ToLower(strings.TrimSpace(name)))
}
