package swap

import (
	"slices"
	"strings"
)

// condition joins what a firm verdict holds under, nil where nothing turns it.
func (a answer) condition() *string {
	if a.verdict == CheckFirst {
		return nil
	}
	var all []string
	for _, t := range a.turnovers {
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
