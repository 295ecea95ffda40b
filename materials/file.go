package materials

import (
	"bytes"
	"errors"
	"fmt"
	"slices"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// tableFile is a material table as it stands in a TOML file.
type tableFile struct {
	Family   []familyRow   `toml:"family"`
	Material []materialRow `toml:"material"`
}

type familyRow struct {
	Name           string   `toml:"name"`
	Aliases        []string `toml:"aliases"`
	Kind           Kind     `toml:"kind"`
	Representative string   `toml:"representative"`
	Common         []string `toml:"common"`
	Unlikely       bool     `toml:"unlikely"`
	Traits         []Trait  `toml:"traits"`
	Expansion      valueRow `toml:"expansion_um_m_k"`
	AnodicIndex    valueRow `toml:"anodic_index_v"`
}

type materialRow struct {
	Name    string   `toml:"name"`
	Aliases []string `toml:"aliases"`
	Family  string   `toml:"family"`
	Note    string   `toml:"note"`
	Printed bool     `toml:"printed"`
	Fill    *float64 `toml:"fill"`
	Density struct {
		Low     *float64 `toml:"low"`
		Nominal *float64 `toml:"nominal"`
		High    *float64 `toml:"high"`
		Source  string   `toml:"source"`
	} `toml:"density_kg_m3"`
	YoungsModulus valueRow    `toml:"youngs_modulus_mpa"`
	Poisson       valueRow    `toml:"poisson"`
	Strength      strengthRow `toml:"strength_mpa"`
	Tensile       valueRow    `toml:"tensile_strength_mpa"`
	Fatigue       fatigueRow  `toml:"fatigue_mpa"`
	Magnet        struct {
		Holds  bool   `toml:"holds"`
		Source string `toml:"source"`
	} `toml:"magnet"`
	Colour struct {
		Groups []string `toml:"groups"`
		Source string   `toml:"source"`
	} `toml:"colour"`
	Price struct {
		Value       *float64 `toml:"value"`
		Placeholder *float64 `toml:"placeholder"`
	} `toml:"price_per_kg"`
	Traits      *[]Trait        `toml:"traits"`
	Expansion   valueRow        `toml:"expansion_um_m_k"`
	Softens     valueRow        `toml:"softens_c"`
	Moisture    valueRow        `toml:"moisture_percent"`
	AnodicIndex valueRow        `toml:"anodic_index_v"`
	Directional *directionalRow `toml:"directional"`
	AsMeant     bool            `toml:"as_meant"`
}

// directionalRow has the low and the high value of each property.
type directionalRow struct {
	Shear           []float64 `toml:"shear_mpa"`
	Through         []float64 `toml:"through_mpa"`
	ThroughStrength []float64 `toml:"through_strength_mpa"`
	Source          string    `toml:"source"`
}

type valueRow struct {
	Value  float64 `toml:"value"`
	Low    float64 `toml:"low"`
	High   float64 `toml:"high"`
	Source string  `toml:"source"`
}

type strengthRow struct {
	Value  float64 `toml:"value"`
	Low    float64 `toml:"low"`
	High   float64 `toml:"high"`
	Name   string  `toml:"name"`
	From   float64 `toml:"from_mm"`
	To     float64 `toml:"to_mm"`
	Source string  `toml:"source"`
}

type fatigueRow struct {
	Value  float64 `toml:"value"`
	Cycles float64 `toml:"cycles"`
	Source string  `toml:"source"`
}

// rowError is what is wrong with one row, before its place is known. Key is the
// one that is wrong, or empty for the row as a whole.
type rowError struct{ key, what string }

func (e rowError) Error() string { return e.what }

// add lays the rows of a TOML text over the table, or leaves the table as it is
// and returns an error that names file, line and column.
func (t *Table) add(data []byte, file string) error {
	var read tableFile
	d := toml.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&read); err != nil {
		return fmt.Errorf("%s: %w", file, Located(err))
	}
	next := Table{families: slices.Clone(t.families), materials: slices.Clone(t.materials)}
	for i, row := range read.Family {
		if err := next.addFamily(row); err != nil {
			return placed(file, data, "family", i, err)
		}
	}
	names := map[string]bool{}
	for i, row := range read.Material {
		m, err := next.material(row)
		if err == nil && names[key(row.Name)] {
			err = rowError{"name", fmt.Sprintf("material %q: a second row of that name in one file: leave one, or give it another name", row.Name)}
		}
		if err != nil {
			return placed(file, data, "material", i, err)
		}
		names[key(row.Name)] = true
		m.Table = file
		next.put(m)
	}
	next.index()
	for i, row := range read.Family {
		if err := next.checkFamily(row); err != nil {
			return placed(file, data, "family", i, err)
		}
	}
	*t = next
	return nil
}

// index rebuilds the look-up of names. A material's own name wins over any
// alias, and a later row's alias over an earlier one's.
func (t *Table) index() {
	t.rows, t.groups = map[string]int{}, map[string]int{}
	for i, m := range t.materials {
		for _, a := range m.Aliases {
			t.rows[key(a)] = i
		}
	}
	for i, m := range t.materials {
		t.rows[key(m.Name)] = i
	}
	for i, f := range t.families {
		t.groups[key(f.Name)] = i
		for _, a := range f.Aliases {
			t.groups[key(a)] = i
		}
	}
}

// put replaces the material of the same name, or adds it behind the last of its
// family.
func (t *Table) put(m Material) {
	for i := range t.materials {
		if key(t.materials[i].Name) == key(m.Name) {
			t.materials[i] = m
			return
		}
	}
	at := len(t.materials)
	for i, other := range t.materials {
		if other.Family == m.Family {
			at = i + 1
		}
	}
	t.materials = slices.Insert(t.materials, at, m)
}

func (t *Table) addFamily(row familyRow) error {
	if key(row.Name) == "" {
		return rowError{"name", "a family without a name"}
	}
	if !slices.Contains(kinds, row.Kind) {
		return rowError{"kind", fmt.Sprintf("family %q: kind %q: expected metal, plastic, laminate or wood", row.Name, row.Kind)}
	}
	if err := checkTraits(row.Name, row.Traits); err != nil {
		return err
	}
	f := Family{Name: row.Name, Aliases: row.Aliases, Kind: row.Kind, Representative: row.Representative, Common: row.Common,
		Unlikely: row.Unlikely, traits: row.Traits, expansion: Value(row.Expansion), anodicIndex: Value(row.AnodicIndex)}
	for i := range t.families {
		if t.families[i].Name == f.Name {
			t.families[i] = f
			return nil
		}
	}
	t.families = append(t.families, f)
	return nil
}

// checkFamily looks up the materials that a family names.
func (t *Table) checkFamily(row familyRow) error {
	for i, name := range append([]string{row.Representative}, row.Common...) {
		if _, ok := t.rows[key(name)]; !ok {
			where := "representative"
			if i > 0 {
				where = "common"
			}
			return rowError{where, fmt.Sprintf("family %q: %q is no material of the table", row.Name, name)}
		}
	}
	return nil
}

// placed adds to a row's error where it stands: the n-th [[array]] of the text
// and within it the key.
func placed(file string, data []byte, array string, n int, err error) error {
	var row rowError
	errors.As(err, &row)
	var p unstable.Parser
	p.Reset(data)
	found, seen := unstable.Range{}, -1
	for p.NextExpression() {
		e := p.Expression()
		name := e.Key()
		if !name.Next() {
			continue
		}
		first := name.Node()
		switch {
		case e.Kind == unstable.ArrayTable && string(first.Data) == array:
			if seen++; seen == n {
				found = first.Raw
			}
		case seen == n && e.Kind == unstable.KeyValue && string(first.Data) == row.key:
			found = first.Raw
		case seen == n && e.Kind == unstable.Table && name.Next() && string(name.Node().Data) == row.key:
			found = name.Node().Raw
		}
	}
	start := p.Shape(found).Start
	return fmt.Errorf("%s: %w", file, at(start.Line, start.Column, err))
}
