package materials

import (
	"fmt"
	"slices"
)

// inherit gives a row what its family has and the row does not say.
func inherit(m *Material, row materialRow, f Family) {
	m.Traits = f.traits
	if row.Traits != nil {
		m.Traits = *row.Traits
	}
	if m.Traits == nil {
		m.Traits = []Trait{}
	}
	if m.Expansion == (Value{}) {
		m.Expansion = f.expansion
	}
	if m.AnodicIndex == (Value{}) {
		m.AnodicIndex = f.anodicIndex
	}
}

func checkTraits(name string, of []Trait) error {
	for _, t := range of {
		if !slices.Contains(traits, t) {
			return rowError{"traits", fmt.Sprintf("%q: unknown trait %q: expected some of %q", name, t, traits)}
		}
	}
	return nil
}

// checkLasting bounds what decides whether a part lasts by what no material exceeds:
// wax grows by 300 um/m K, and no plastic stands 600 degrees.
func checkLasting(m *Material, _ materialRow) error {
	if err := checkTraits(m.Name, m.Traits); err != nil {
		return err
	}
	for _, v := range []struct {
		key             string
		in              Value
		least, tooLarge float64
	}{
		{"expansion_um_m_k", m.Expansion, -20, 1000},
		{"softens_c", m.Softens, -100, 600},
		{"moisture_percent", m.Moisture, 0, 50},
		{"anodic_index_v", m.AnodicIndex, 0, 5},
	} {
		if !(v.least <= v.in.Value && v.in.Value < v.tooLarge) {
			return rowError{v.key, fmt.Sprintf("material %q: %s is %g: expected at least %g and less than %g",
				m.Name, v.key, v.in.Value, v.least, v.tooLarge)}
		}
	}
	if s := m.Strength; !(0 <= s.From && s.From <= s.To) {
		return rowError{"strength_mpa", fmt.Sprintf("material %q: the strength is said to hold from %g to %g mm: expected 0 <= from_mm <= to_mm", m.Name, s.From, s.To)}
	}
	return nil
}

// setDirectional reads what a material has across its fibres.
func setDirectional(m *Material, row materialRow) error {
	d := row.Directional
	if d == nil {
		return nil
	}
	m.Directional = &Directional{Source: d.Source}
	for _, p := range []struct {
		name string
		from []float64
		to   *Range
	}{
		{"shear_mpa", d.Shear, &m.Directional.Shear},
		{"through_mpa", d.Through, &m.Directional.Through},
		{"through_strength_mpa", d.ThroughStrength, &m.Directional.ThroughStrength},
	} {
		if len(p.from) != 2 || !(0 < p.from[0] && p.from[0] <= p.from[1]) {
			return rowError{"directional", fmt.Sprintf("material %q: directional.%s is %g: expected [low, high], both above 0", m.Name, p.name, p.from)}
		}
		*p.to = Range{p.from[0], (p.from[0] + p.from[1]) / 2, p.from[1]}
	}
	return nil
}

const (
	// lightest is the density in kg/m3 below which only foams lie: balsa begins at 100
	// (Wood Handbook, FPL-GTR-282). A number below it is most likely g/cm3 or lb/in3.
	lightest = 100.0
	// softestMetal is below what any metal that is milled has as Young's modulus, MPa:
	// lead has 16 000. A number below it is most likely GPa.
	softestMetal = 1000.0
	// softestPlastic is below what any plastic that is milled has, MPa: rubber begins
	// there.
	softestPlastic = 10.0
	// weakest is below the strength of anything that is milled, MPa: PTFE has 10.
	weakest = 1.0
)

// checkUnits asks about a number that is most likely in another unit.
func checkUnits(m *Material, row materialRow) error {
	if row.AsMeant {
		return nil
	}
	const wayOut = "; if it is meant so, add as_meant = true to the row"
	if d := m.Density.Nominal; d < lightest {
		meant := fmt.Sprintf("is it in g/cm3? Then give %.5g", 1000*d)
		if d < 1 {
			meant = fmt.Sprintf("is it in lb/in3 or g/cm3? Then give %.5g or %.5g", 27679.9047*d, 1000*d)
		}
		return rowError{"density_kg_m3", fmt.Sprintf("material %q: a density of %g kg/m3 is that of a foam: %s%s", m.Name, d, meant, wayOut)}
	}
	softest := softestPlastic
	if m.Kind == Metal {
		softest = softestMetal
	}
	if e := m.YoungsModulus.Value; 0 < e && e < softest {
		return rowError{"youngs_modulus_mpa", fmt.Sprintf("material %q: a Young's modulus of %g MPa is that of no %s: is it in GPa? Then give %.5g%s",
			m.Name, e, m.Kind, 1000*e, wayOut)}
	}
	if s := m.Strength.Value; 0 < s && s < weakest {
		return rowError{"strength_mpa", fmt.Sprintf("material %q: a strength of %g MPa holds nothing: is it in GPa? Then give %.5g%s", m.Name, s, 1000*s, wayOut)}
	}
	return nil
}
