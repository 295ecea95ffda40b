package swap

import (
	"fmt"
	"slices"

	"swapworth/quantity"
)

// number writes a value for reading, with three significant digits or all
// digits before the decimal point.
func number(v float64) string { return quantity.Short(v, 3) }

// span writes a range as "nominal (low to high)", or one number where that is
// all there is to say.
func span(r Range) string {
	if low, high := number(r.Low), number(r.High); low != high {
		return fmt.Sprintf("%s (%s to %s)", number(r.Nominal), low, high)
	}
	return number(r.Nominal)
}

func percentSpan(r Range) string {
	if low, high := number(r.Low), number(r.High); low != high {
		return fmt.Sprintf("%s %% (%s to %s %%)", number(r.Nominal), low, high)
	}
	return number(r.Nominal) + " %"
}

// orEmpty keeps a list that JSON writes from being null.
func orEmpty[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// unique drops later copies of what was said before.
func unique(lines []string) []string {
	var out []string
	for _, l := range lines {
		if !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	return out
}
