package materials

import (
	"fmt"
	"slices"
	"strconv"
)

// Kind is the coarse sort of a material, the one a person can tell by eye.
type Kind string

// The kinds of material a family may be.
const (
	Metal    Kind = "metal"
	Plastic  Kind = "plastic"
	Laminate Kind = "laminate"
	Wood     Kind = "wood"
)

var kinds = []Kind{Metal, Plastic, Laminate, Wood}

// Kinds lists the kinds, the most common in small machines first.
func Kinds() []Kind { return slices.Clone(kinds) }

// Colours are the colour groups that the cut surface of a material may show.
// "any" marks a material that is sold in all colours.
var Colours = []string{"grey", "yellow", "red", "black", "white", "clear", "brown", "green", "any"}

// Elastic is what a stress computation needs of a material: Young's modulus in
// MPa, Poisson's ratio, yield strength in MPa (0 where unknown) and nominal
// density in kg/m3.
type Elastic struct{ YoungsModulus, Poisson, Yield, Density float64 }

// Value is a number with where it comes from; 0 means unknown. Low and High bound
// what a delivered piece, and another handbook, may have; both 0 where the row gives
// no bounds.
type Value struct {
	Value  float64 `json:"value"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	Source string  `json:"source"`
}

// within returns the value with its bounds, or within the usual share of it where the
// row gives none.
func (v Value) within(usual float64) Range { return bounded(v.Value, v.Low, v.High, usual) }

func bounded(value, low, high, usual float64) Range {
	if low == 0 && high == 0 {
		return PlusMinus(value, usual*value)
	}
	return Range{low, value, high}
}

// usualScatter is how far Young's modulus of a metal may lie from the table's value
// where its row says no more, as a fraction: handbooks differ by as much for one alloy
// (common practice).
const usualScatter = 0.02

// Modulus returns Young's modulus with its bounds, MPa.
func (m Material) Modulus() Range { return m.YoungsModulus.within(usualScatter) }

// Bounds returns the strength with its bounds, MPa; a row that gives none has the
// standard's least value, which a piece of the alloy reaches.
func (s Strength) Bounds() Range { return bounded(s.Value, s.Low, s.High, 0) }

// Strength is the stress that may not be exceeded, in MPa. Name says what it
// is: the yield strength where a material has one, otherwise what stands in. It holds
// for stock from From to To mm thick; both 0 where the source gives no limits.
type Strength struct {
	Value  float64 `json:"value"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
	Name   string  `json:"name"`
	From   float64 `json:"from_mm"`
	To     float64 `json:"to_mm"`
	Source string  `json:"source"`
}

// HoldsAt reports whether the strength is given for stock of a thickness, mm.
func (s Strength) HoldsAt(thickness float64) bool {
	return s.To == 0 || s.From <= thickness && thickness <= s.To
}

// Fatigue is the amplitude of fully reversed stress, in MPa, that a smooth
// polished specimen survives for Cycles cycles; Value 0 means unknown.
type Fatigue struct {
	Value  float64 `json:"value"`
	Cycles float64 `json:"cycles"`
	Source string  `json:"source"`
}

// Magnet says whether a magnet holds on the bare material.
type Magnet struct {
	Holds  bool   `json:"holds"`
	Source string `json:"source"`
}

// Colour lists the groups, out of Colours, that a cut surface may show.
type Colour struct {
	Groups []string `json:"groups"`
	Source string   `json:"source"`
}

// Material is one row of the table. A part of volume V mm3 has the mass
// V * Density * 1e-6 g.
type Material struct {
	Name    string   `json:"name"`
	Aliases []string `json:"aliases"`
	Family  string   `json:"family"`
	Kind    Kind     `json:"kind"`
	Note    string   `json:"note"`

	Density       Range    `json:"density_kg_m3"`
	DensitySource string   `json:"density_source"`
	YoungsModulus Value    `json:"youngs_modulus_mpa"`
	Poisson       Value    `json:"poisson"`
	Strength      Strength `json:"strength_mpa"`
	Tensile       Value    `json:"tensile_strength_mpa"`
	Fatigue       Fatigue  `json:"fatigue_mpa"`
	Magnet        Magnet   `json:"magnet"`
	Colour        Colour   `json:"colour"`

	// What decides whether a part lasts. Expansion is the coefficient of linear thermal
	// expansion near room temperature, along fibres and grain. Softens is the
	// temperature in degrees Celsius at which a plastic gives way (ISO 75-2, method A,
	// 1.8 MPa). Moisture is how far it grows from dry to humid air, in percent of a
	// length, across the grain in wood. AnodicIndex is how far below gold a metal stands in the galvanic
	// series, V. All are 0 where unknown.
	Traits      []Trait      `json:"traits"`
	Expansion   Value        `json:"expansion_um_m_k"`
	Softens     Value        `json:"softens_c"`
	Moisture    Value        `json:"moisture_percent"`
	AnodicIndex Value        `json:"anodic_index_v"`
	Directional *Directional `json:"directional"` // nil: the same in all directions

	// PricePerKg is in the currency of whoever edits the table. PricePlaceholder
	// marks a price that nobody has asked for.
	PricePerKg       float64 `json:"price_per_kg"`
	PricePlaceholder bool    `json:"price_is_placeholder"`

	// Printed says that a part may hold air inside. Fill is the share of its
	// volume that is material, 0 < Fill <= 1; density, stiffness and strengths
	// already include it. Materials that are not printed have Fill 1.
	Printed bool    `json:"printed"`
	Fill    float64 `json:"fill"`

	// Generic is the family name that Find was asked for, when it answered with
	// the family's representative; empty otherwise. Density then spans the family.
	Generic string `json:"generic"`

	// Table is where the row was read from: "built in" or a file.
	Table string `json:"table"`
}

// Elastic returns what a stress computation needs.
func (m Material) Elastic() Elastic {
	return Elastic{m.YoungsModulus.Value, m.Poisson.Value, m.Strength.Value, m.Density.Nominal}
}

// MayLook reports whether a cut surface may show the colour group. An unnamed
// group, "", excludes nothing.
func (m Material) MayLook(group string) bool {
	return group == "" || slices.Contains(m.Colour.Groups, group) ||
		slices.Contains(m.Colour.Groups, "any")
}

// withFill returns a printed material whose parts hold the given share of
// material. Density, stiffness and strength shrink in proportion to it: for the
// density that is exact, for stiffness and strength it is the rule of mixtures,
// an upper bound (Gibson and Ashby, Cellular Solids, from memory).
func (m Material) withFill(share float64) (Material, error) {
	if !m.Printed {
		return m, fmt.Errorf("%s is not a printed plastic: it takes no fill", m.Name)
	}
	if !(share > 0 && share <= 1) {
		return m, fmt.Errorf("%s: a fill of %g %% is not possible; expected above 0 and up to 100 %%",
			m.Name, 100*share)
	}
	k := share / m.Fill
	m.Fill = share
	m.Density = m.Density.Scale(k)
	for _, v := range []*float64{
		&m.YoungsModulus.Value, &m.YoungsModulus.Low, &m.YoungsModulus.High,
		&m.Strength.Value, &m.Strength.Low, &m.Strength.High,
	} {
		*v *= k
	}
	m.Tensile.Value *= k
	m.Fatigue.Value *= k
	return m, nil
}

// Warnings lists what a person must know before trusting the row: a family name
// that stands in for an alloy, a print whose inside nobody has stated.
func (m Material) Warnings() []string {
	var out []string
	if m.Generic != "" {
		out = append(out, fmt.Sprintf("%q names a family: computed as %s with the density range of"+
			" the whole family; its strength may differ several times over", m.Generic, m.Name))
	}
	switch {
	case m.Printed && m.Fill == 1:
		out = append(out, fmt.Sprintf("%s is taken as printed solid: state its fill as in %q, or"+
			" weigh the part", m.Name, m.Name+"@40%"))
	case m.Printed:
		out = append(out, fmt.Sprintf("%s at %.3g %% fill: stiffness and strength are scaled in"+
			" proportion, an upper bound", m.Name, 100*m.Fill))
	}
	return out
}

// GrainWarning says what an isotropic computation hides of a material with fibres or
// grain; empty for all others.
func (m Material) GrainWarning() string {
	d := m.Directional
	if d == nil {
		return ""
	}
	return fmt.Sprintf("%s has fibres or grain and is computed as if it had none: expect %s of a stiffness in twist (shear modulus %s MPa),"+
		" %s of one across plies or grain, and %s MPa of strength there", m.Name, share(m.Twist()), ends(d.Shear), share(m.throughShare()), ends(d.ThroughStrength))
}

// ends writes the bounds of a range, share those of a fraction in percent.
func ends(r Range) string {
	return strconv.FormatFloat(r.Low, 'f', -1, 64) + " to " + strconv.FormatFloat(r.High, 'f', -1, 64)
}

func share(r Range) string { return fmt.Sprintf("%.2g to %.2g %%", 100*r.Low, 100*r.High) }

// SpecificStiffness returns E over density, in MPa m3/kg: of two bars of the
// same mass and length the one with more of it stretches less.
func (m Material) SpecificStiffness() float64 {
	return m.YoungsModulus.Value / m.Density.Nominal
}
