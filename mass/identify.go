package mass

import (
	"cmp"
	"math"
	"slices"

	"swapworth/materials"
)

// Observation is what a person can see and feel of a part without instruments.
// A nil Magnet and an empty Colour exclude nothing.
type Observation struct {
	Magnet *bool  // whether a magnet holds
	Colour string // one of materials.Colours, of a cut or scratched surface
}

// Fits reports whether a material may show what was observed.
func (o Observation) Fits(m materials.Material) bool {
	return (o.Magnet == nil || *o.Magnet == m.Magnet.Holds) && m.MayLook(o.Colour)
}

// Candidate is a material that a part may be made of. Match is the overlap of
// the measured density interval and the material's over the shorter of the two,
// from 0, which rules it out, to 1.
type Candidate struct {
	Material string          `json:"material"`
	Density  materials.Range `json:"density_kg_m3"`
	Match    float64         `json:"match"`
	Family   string          `json:"family"`
}

// Identify ranks the materials of a table that the observation leaves by how
// well they fit a measured density, in kg/m3, best first; of equal matches the
// one with the nearer nominal density comes first. It returns all of them, those
// that do not fit with Match 0.
func Identify(density materials.Range, t *materials.Table, o Observation) []Candidate {
	out := []Candidate{}
	for _, m := range t.All() {
		if o.Fits(m) {
			out = append(out, Candidate{m.Name, m.Density, match(density, m.Density), m.Family})
		}
	}
	away := func(c Candidate) float64 { return math.Abs(c.Density.Nominal - density.Nominal) }
	slices.SortStableFunc(out, func(a, b Candidate) int {
		return cmp.Or(cmp.Compare(b.Match, a.Match), cmp.Compare(away(a), away(b)))
	})
	return out
}

// match returns the length that two intervals share over the shorter one's
// length. An interval of no length matches fully when the other holds it.
func match(a, b materials.Range) float64 {
	shared := min(a.High, b.High) - max(a.Low, b.Low)
	shorter := min(a.High-a.Low, b.High-b.Low)
	switch {
	case shared < 0:
		return 0
	case shorter <= 0:
		return 1
	}
	return min(1, shared/shorter)
}
