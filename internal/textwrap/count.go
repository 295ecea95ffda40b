package textwrap

import (
	"fmt"
	"strings"
)

// Counted returns a count with its noun: "1 pass", "3 passes".
func Counted(n int, noun string) string { return fmt.Sprintf("%d %s", n, Plural(n, noun)) }

// Plural returns the noun as it stands beside a count.
func Plural(n int, noun string) string {
	switch {
	case n == 1:
		return noun
	case strings.HasSuffix(noun, "s"):
		return noun + "es"
	}
	return noun + "s"
}
