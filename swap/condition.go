package swap

import (
	"fmt"
	"slices"
	"strings"
)

// conditionOf joins what the verdict holds under, nil where nothing turns it.
func conditionOf(turns []Turnover) *string {
	var all []string
	for _, t := range turns {
		if t.kind == condition && !slices.Contains(all, t.given) {
			all = append(all, t.given)
		}
	}
	if len(all) == 0 {
		return nil
	}
	text := "if " + strings.Join(all, " and ")
	return &text
}

// The bounds within which a usual limit, one that nobody set, is tried.
const (
	leastSaving, mostSaving       = 0.05, 0.20
	leastStiffness, mostStiffness = 0.8, 1.0
	leastSafety, mostSafety       = 1.5, 3.0
)

// limitAlternatives take every usual limit at both ends of what people ask for.
func (s *situation) limitAlternatives(in inputs) []alternative {
	l := s.c.Limits
	var out []alternative
	try := func(asked bool, what, flag, unit string, scale, usual, low, high float64, set func(*Limits, float64)) {
		if asked {
			return
		}
		for _, v := range []float64{low, high} {
			out = append(out, alternative{
				assumption: what,
				from:       number(scale*usual) + unit + " (usual)",
				to:         number(scale*v) + unit,
				check:      "decide what you ask for and give --" + flag,
				effort:     effortDecide,
				kind:       condition,
				given:      fmt.Sprintf("a %s of %s%s is asked", what, number(scale*usual), unit),
				apply:      func(in inputs) inputs { set(&in.limits, v); return in },
			})
		}
	}
	if in.limits.asksSaving(in.machine) {
		try(l.SavingAsked, LeastSaving, "min-saving", " %", 100, l.MinSaving, leastSaving, mostSaving, func(l *Limits, v float64) { l.MinSaving = v })
	}
	least, most := leastStiffness, mostStiffness
	if l.Goal == Stiffer {
		least, most = 1+leastSaving, 1+mostSaving
	}
	try(l.StiffnessAsked, LeastStiffness, "min-stiffness-ratio", "", 1, l.MinStiffnessRatio, least, most,
		func(l *Limits, v float64) { l.MinStiffnessRatio = v })
	try(l.SafetyAsked, LeastSafety, "min-safety-factor", "", 1, l.MinSafetyFactor, leastSafety, mostSafety,
		func(l *Limits, v float64) { l.MinSafetyFactor = v })
	return out
}
