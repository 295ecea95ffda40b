package beam

import (
	"errors"
	"math"

	"swapworth/materials"
)

// Panel is a flat plate loaded across its thickness.
type Panel struct {
	Material  materials.Elastic
	Thickness float64 // mm
}

// rigidity returns the flexural rigidity of a plate per width, in N mm:
//
//	D = E t^3/(12 (1 - v^2)).
func (p Panel) rigidity() float64 {
	v := p.Material.Poisson
	return p.Material.YoungsModulus * p.Thickness * p.Thickness * p.Thickness / (12 * (1 - v*v))
}

// massPerArea returns the mass of a panel in g/mm2.
func (p Panel) massPerArea() float64 { return p.Material.Density * p.Thickness * 1e-6 }

// stiffnessRatio returns E t^3 of p over that of old: how many times as stiff a
// panel of the same outline is. Poisson's ratio is left out, as a beam does.
func (p Panel) stiffnessRatio(old Panel) float64 {
	t := p.Thickness / old.Thickness
	return p.Material.YoungsModulus / old.Material.YoungsModulus * t * t * t
}

// Matched is a panel that is as stiff as another one.
type Matched struct {
	Thickness float64 // mm
	MassRatio float64 // mass over that of the panel it replaces
}

// MatchStiffness returns the thickness at which a panel of the new material has
// the E t^3 of the old panel, and what it then weighs:
//
//	t = t_old (E_old/E_new)^(1/3).
//
// It is an error when a thickness, modulus or density is not positive.
func MatchStiffness(old Panel, with materials.Elastic) (Matched, error) {
	o := old.Material
	for _, x := range []float64{old.Thickness, o.YoungsModulus, o.Density, with.YoungsModulus, with.Density} {
		if !(x > 0) {
			return Matched{}, errors.New("matching stiffness: thickness, Young's modulus and density must be known for both materials")
		}
	}
	t := old.Thickness * math.Cbrt(o.YoungsModulus/with.YoungsModulus)
	return Matched{Thickness: t, MassRatio: with.Density * t / (o.Density * old.Thickness)}, nil
}

// Replacement is what another material does in the place of a panel.
type Replacement struct {
	Material       string  `json:"material"`
	StiffnessRatio float64 `json:"stiffness_ratio"` // at the same thickness
	MassRatio      float64 `json:"mass_ratio"`      // at the same thickness
	Thickness      float64 `json:"thickness_mm"`    // at which it is as stiff
	ThicknessRatio float64 `json:"thickness_ratio"`
	MatchedMass    float64 `json:"matched_mass_ratio"` // at that thickness
	OldIndices     Indices `json:"old_indices"`
	NewIndices     Indices `json:"new_indices"`
}

// Instead compares a panel with one of another material: the same thickness, and
// the thickness at which E t^3 is the same. Errors are those of MatchStiffness.
func Instead(old Panel, with materials.Elastic) (Replacement, error) {
	m, err := MatchStiffness(old, with)
	if err != nil {
		return Replacement{}, err
	}
	same := Panel{with, old.Thickness}
	return Replacement{
		StiffnessRatio: same.stiffnessRatio(old),
		MassRatio:      same.massPerArea() / old.massPerArea(),
		Thickness:      m.Thickness,
		ThicknessRatio: m.Thickness / old.Thickness,
		MatchedMass:    m.MassRatio,
		OldIndices:     indicesOf(old.Material),
		NewIndices:     indicesOf(with),
	}, nil
}

// Indices rank materials for parts that must be light for a given stiffness,
// the larger the better; density in kg/m3, modulus in GPa. M. F. Ashby, Materials
// Selection in Mechanical Design.
type Indices struct {
	Tie   float64 `json:"tie"`   // E/density: pulled along its length
	Beam  float64 `json:"beam"`  // E^(1/2)/density: bent, the section free to grow in both directions
	Panel float64 `json:"panel"` // E^(1/3)/density: bent, the thickness free
}

// indicesOf returns the indices times 1000; a material of unknown density has
// zeros.
func indicesOf(e materials.Elastic) Indices {
	if !(e.Density > 0) || !(e.YoungsModulus > 0) {
		return Indices{}
	}
	gpa := e.YoungsModulus / 1000
	return Indices{
		Tie:   1000 * gpa / e.Density,
		Beam:  1000 * math.Sqrt(gpa) / e.Density,
		Panel: 1000 * math.Cbrt(gpa) / e.Density,
	}
}
