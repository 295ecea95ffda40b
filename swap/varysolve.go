package swap

import (
	"math"
	"slices"

	"swapworth/materials"
)

// markUnbeaten marks the front: variants that no other one beats in mass
// without being less stiff.
func markUnbeaten(all []Variant) {
	for i := range all {
		a := &all[i]
		a.Unbeaten = a.Ratio != nil && !slices.ContainsFunc(all, func(b Variant) bool {
			return b.Ratio != nil && b.Mass <= a.Mass && *b.Ratio >= *a.Ratio && (b.Mass < a.Mass || *b.Ratio > *a.Ratio)
		})
	}
}

// solveAll finds the thinnest stiff enough redesign of every material.
func (w *varying) solveAll() ([]Solved, error) {
	out := []Solved{}
	for _, m := range w.materials {
		s, err := w.thinnest(m)
		if err != nil {
			return nil, err
		}
		if s != nil {
			out = append(out, *s)
		}
	}
	return out, nil
}

// searched is the largest thickness that is looked at, in mm: twice the thickest
// asked for or drawn.
func (w *varying) searched() float64 {
	return 2 * max(w.drawn, w.thickness[len(w.thickness)-1])
}

// enough is the width in mm of the bracket at which a thickness counts as found:
// a tenth of what class f of ISO 2768-1 allows on it.
const enough = 0.01

// thinnest solves for the thickness between half of the thinnest asked for and
// what is searched. It returns nil where even that is not enough, or where a
// stiffness was refused.
func (w *varying) thinnest(m materials.Material) (*Solved, error) {
	low, high := w.thickness[0]/2, w.searched()
	for _, v := range w.variants { // the grid brackets the answer more closely
		if v.Material != m.Name || v.Ratio == nil {
			continue
		}
		if v.Meets {
			high = min(high, v.Thickness)
		} else {
			low = max(low, v.Thickness)
		}
	}
	best, err := w.at(high, m)
	if err != nil || best == nil || !best.Meets {
		return nil, err
	}
	under, err := w.at(low, m)
	if err != nil {
		return nil, err
	}
	if under != nil && under.Meets {
		high, best = low, under
	}
	for high-low > enough {
		v, err := w.at(w.between(low, high, under, best), m)
		switch {
		case err != nil:
			return nil, err
		case v != nil && v.Meets:
			high, best = v.Thickness, v
		default:
			low = w.between(low, high, under, best)
			under = v
		}
	}
	return &Solved{Material: m.Name, Thickness: high, Mass: best.Mass, Ratio: *best.Ratio}, nil
}

// between is the next thickness to try: where the margin, taken as a power of the
// thickness, comes to nothing between one that falls short and one that is enough.
// It stays a tenth of the bracket away from its ends, so that the bracket shrinks
// from both sides; without a margin below it halves the bracket.
func (w *varying) between(low, high float64, under, over *Variant) float64 {
	if under == nil || under.Ratio == nil {
		return (low + high) / 2
	}
	a, b := w.margin(*under), w.margin(*over)
	at := math.Log(low) + math.Log(high/low)*a/(a-b)
	keep := max(0.1*(high-low), enough/2)
	return min(max(math.Exp(at), low+keep), high-keep)
}

// margin is the logarithm of how much more than enough a variant is: negative
// where it falls short of a criterion.
func (w *varying) margin(v Variant) float64 {
	out := math.Log(*v.Ratio / w.base.limits.MinStiffnessRatio)
	if v.SafetyFactor != nil {
		out = min(out, math.Log(*v.SafetyFactor/w.base.limits.MinSafetyFactor))
	}
	return out
}

// at returns the variant at a thickness, nil where it cannot be judged.
func (w *varying) at(thickness float64, m materials.Material) (*Variant, error) {
	sh, solved := w.shapes[thickness]
	if !solved { // bisections of several materials meet at the same places
		var err error
		if sh, err = w.shape(thickness); err != nil {
			return nil, err
		}
		w.shapes[thickness] = sh
	}
	v := w.variant(sh, m)
	if v.Ratio == nil {
		return nil, nil
	}
	return &v, nil
}
