package swap

import (
	"fmt"
	"slices"
)

// remarks is what a step took where nobody said, and what it warns of.
type remarks struct{ assumptions, warnings []string }

// assuming returns the remarks with one assumption more.
func (r remarks) assuming(format string, args ...any) remarks {
	r.assumptions = append(slices.Clip(r.assumptions), fmt.Sprintf(format, args...))
	return r
}

// warning returns the remarks with one warning more.
func (r remarks) warning(format string, args ...any) remarks {
	r.warnings = append(slices.Clip(r.warnings), fmt.Sprintf(format, args...))
	return r
}

// and returns the remarks with those of later steps behind them.
func (r remarks) and(later ...remarks) remarks {
	for _, l := range later {
		r.assumptions = slices.Concat(r.assumptions, l.assumptions)
		r.warnings = slices.Concat(r.warnings, l.warnings)
	}
	return r
}
