package materials

import "slices"

// Trait is something a shop has to know of a material before it cuts and bolts it.
type Trait string

// The traits. A family has some, and a row that names its own has those in place of
// the family's.
const (
	ChipsBurn    Trait = "chips burn"    // and water makes it worse
	DustHarms    Trait = "dust harms"    // whoever breathes it
	DustConducts Trait = "dust conducts" // and gets into electronics
	Creeps       Trait = "creeps"        // under a bolt's steady pressure, at room temperature
	Brittle      Trait = "brittle"       // breaks without yielding
	SoftBores    Trait = "soft bores"    // bearings, dowels and pivots wear them out
	Bows         Trait = "bows"          // rolled or drawn: moves when one side is cut away
	StaysFlat    Trait = "stays flat"    // cast and relieved: hardly moves when cut
	Layered      Trait = "layered"       // printed: weaker between the layers
)

var traits = []Trait{ChipsBurn, DustHarms, DustConducts, Creeps, Brittle, SoftBores, Bows, StaysFlat, Layered}

// Has reports whether the material has a trait.
func (m Material) Has(t Trait) bool { return slices.Contains(m.Traits, t) }

// Directional is what a material with fibres or grain has across them: the values of
// its row are those along. Its shear modulus is no E/(2 (1 + v)).
type Directional struct {
	Shear           Range  `json:"shear_modulus_mpa"`   // in the plane of plate or board
	Through         Range  `json:"through_modulus_mpa"` // E across the plies or the grain
	ThroughStrength Range  `json:"through_strength_mpa"`
	Source          string `json:"source"`
}

// isotropic returns the shear modulus that isotropic elasticity gives the row, MPa:
// G = E/(2 (1 + v)).
func (m Material) isotropic() float64 { return m.YoungsModulus.Value / (2 * (1 + m.Poisson.Value)) }

// Twist returns what a stiffness in twist that was computed as of an isotropic
// material has to be multiplied by, as a range; 1 for a material without grain.
func (m Material) Twist() Range {
	if m.Directional == nil || m.YoungsModulus.Value == 0 {
		return Exactly(1)
	}
	s := m.Directional.Shear.Scale(1 / m.isotropic())
	return Range{s.Low, (s.Low + s.High) / 2, s.High}
}

// throughShare returns how much of the row's modulus is left across the plies or the
// grain, as a range; 1 for a material without grain.
func (m Material) throughShare() Range {
	if m.Directional == nil || m.YoungsModulus.Value == 0 {
		return Exactly(1)
	}
	return m.Directional.Through.Scale(1 / m.YoungsModulus.Value)
}
