package swap

import (
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

// thinnest bisects between half of the thinnest asked for and what is searched.
// It returns nil where even that is not stiff enough, or where beam theory
// refuses to say.
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
	const tolerance = 1e-3 // mm
	best, err := w.at(high, m)
	for err == nil && best == nil && high-low > tolerance { // too thick for a beam
		high = low + 0.8*(high-low)
		best, err = w.at(high, m)
	}
	if err != nil || best == nil || !best.Meets {
		return nil, err
	}
	for high-low > tolerance {
		middle := (low + high) / 2
		v, err := w.at(middle, m)
		if err != nil {
			return nil, err
		}
		if v != nil && v.Meets {
			high, best = middle, v
		} else {
			low = middle
		}
	}
	return &Solved{Material: m.Name, Thickness: high, Mass: best.Mass, Ratio: *best.Ratio}, nil
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
