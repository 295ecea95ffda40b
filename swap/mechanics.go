package swap

import (
	"cmp"
	"fmt"

	"swapworth/solid"
)

// budget says how finely a part is solved in three dimensions.
type budget int

// The budgets, coarsest first. A sketch is one coarse grid: good for the ratio of
// one part with itself, where the error of the grid cancels, and for nothing else.
const (
	sketch budget = iota
	quick
	refinedGrids
	full
)

// options are those of the solid room. A refined quick budget keeps the grids of
// the quick one and what was solved on them.
func (b budget) options() solid.Options {
	switch b {
	case sketch:
		return solid.Options{Unknowns: 4_000, Grids: 1}
	case quick:
		return solid.Quick()
	case refinedGrids:
		return solid.Quick().Refined()
	}
	return solid.Options{}
}

// mechanics is how parts are solved.
type mechanics struct {
	method   Method
	force    float64 // N, of a force along an axis
	attached float64 // g
	rings    bool    // frequencies are wanted
	stress   bool    // stress is wanted
}

// mechanicsOf is how the parts of a case are solved, or those that are only tried in
// passing, of which nobody will see frequencies or, without a load, stress.
func mechanicsOf(c Case, inPassing bool) mechanics {
	l := c.Loading
	m := mechanics{method: cmp.Or(l.Method, Auto), force: 1, attached: l.AttachedMass,
		rings:  !inPassing || c.Limits.MinFrequency != nil,
		stress: !inPassing || l.Force != 0 || l.named(),
	}
	if l.Force > 0 {
		m.force = l.Force
	}
	return m
}

// solvedBy names the theory behind the numbers: beam or solid.
func (m mechanics) solvedBy() Method {
	if m.method == ByBeam {
		return ByBeam
	}
	return BySolid
}

// about says of every warning which part and load case it is about.
func about(side int, c loadCase, warnings []string) []string {
	var out []string
	for _, w := range warnings {
		out = append(out, fmt.Sprintf("%s, %s: %s", sideName(side), c.words(), w))
	}
	return out
}
