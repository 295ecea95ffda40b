// Package last says what becomes of a part in service and on the mill: chips that
// burn, bolts that work loose, expansion, moisture, corrosion, floors that drum. It
// knows materials and a few measures of a part and computes nothing else; whether the
// part is stiff and strong is said elsewhere.
package last

import (
	"cmp"
	"slices"

	"swapworth/materials"
	"swapworth/swap/mill"
)

// Kind is one way in which a part may not last, or harms whoever makes it.
type Kind string

// The kinds, in the order of Findings.
const (
	ChipsBurn Kind = "chips-burn"
	Dust      Kind = "dust"
	Brittle   Kind = "brittle"
	Creep     Kind = "creep"
	Heat      Kind = "heat"
	ThinFloor Kind = "drumming-floor"
	Expansion Kind = "expansion"
	Moisture  Kind = "moisture"
	Bow       Kind = "bow"
	Grain     Kind = "grain"
	Wear      Kind = "wear"
	Galvanic  Kind = "galvanic"
	Other     Kind = "material" // what the table says beside
)

// order is that in which findings matter, by what is lost: first whoever stands at the
// mill, then a part that lets go all at once, then one that moves out of place, last
// what wears slowly and is seen in time.
var order = []Kind{ChipsBurn, Dust, Brittle, Creep, Heat, ThinFloor, Expansion, Moisture, Bow, Grain, Wear, Galvanic, Other}

// What a finding is about.
const (
	Stock    = "stock part"
	Redesign = "redesign"
	both     = "both parts"
)

// Finding says one thing about a part, or about both.
type Finding struct {
	Part   string   `json:"part"` // Stock, Redesign or both of them
	Kind   Kind     `json:"kind"`
	Says   string   `json:"says"`   // what happens, with its number
	Why    string   `json:"why"`    // and where that is from
	Change string   `json:"change"` // what to do about it
	Value  *float64 `json:"value"`
	Unit   string   `json:"unit"`
}

// Part is what is known of one part.
type Part struct {
	Name     string
	Material materials.Material
	Milled   bool // somebody is going to cut it

	Length float64 // mm, of what Over says
	Over   string  // "between bolts" or "of its length"
	Bolted bool    // it has holes for bolts

	Floors   []mill.Floor
	Tooth    float64 // Hz, at which the cutter's teeth strike; 0 unknown
	OneSided float64 // how far the centroid lies off the middle of the box, over its thickness
	Bores    []float64
}

// Findings says what matters of a part that is bolted to something of the base
// material, what matters most first.
func Findings(p Part, base materials.Material) []Finding {
	var out []Finding
	for _, find := range []func(Part, materials.Material) *Finding{
		chips, dust, brittle, creep, heat, floor, expansion, moisture, bow, grain, wear, galvanic, other,
	} {
		if f := find(p, base); f != nil {
			f.Part = p.Name
			out = append(out, *f)
		}
	}
	slices.SortStableFunc(out, byOrder)
	return out
}

// byOrder compares two findings: of two that move a part out of place, the one by more
// comes first.
func byOrder(a, b Finding) int {
	moves := func(f Finding) bool { return f.Kind == Expansion || f.Kind == Moisture }
	if moves(a) && moves(b) {
		return cmp.Compare(*b.Value, *a.Value)
	}
	return cmp.Compare(slices.Index(order, a.Kind), slices.Index(order, b.Kind))
}

// Both merges what is found of the stock part and the redesign: what is true of both
// in the same words is said once, and within a kind what the redesign brings comes
// first.
func Both(stock, redesign []Finding) []Finding {
	out := slices.Clone(redesign)
	for _, f := range stock {
		i := slices.IndexFunc(out, func(g Finding) bool { return g.Kind == f.Kind && g.Says == f.Says })
		if i >= 0 {
			out[i].Part = both
			continue
		}
		out = append(out, f)
	}
	goes := func(f Finding) int { return slices.Index([]string{"", Stock}, f.Part) }
	slices.SortStableFunc(out, func(a, b Finding) int {
		// what only the stock part has goes away with it, and stands last
		return cmp.Or(cmp.Compare(goes(a), goes(b)), byOrder(a, b))
	})
	return out
}
