package mass

import (
	"fmt"
	"slices"
	"strings"

	"swapworth/materials"
)

// ParseYesNo reads whether a magnet holds: "yes" or "no", in either case.
func ParseYesNo(text string) (bool, error) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "yes", "y":
		return true, nil
	case "no", "n":
		return false, nil
	}
	return false, fmt.Errorf("%q: expected yes or no", text)
}

// ParseColour reads the colour group of a cut or scratched surface.
func ParseColour(text string) (string, error) {
	name := strings.ToLower(strings.TrimSpace(text))
	if name == "gray" {
		name = "grey"
	}
	if !slices.Contains(ColourNames(), name) {
		return "", fmt.Errorf("%q: expected one of %s", text, strings.Join(ColourNames(), ", "))
	}
	return name, nil
}

// ColourNames lists the groups that can be seen.
func ColourNames() []string {
	return slices.DeleteFunc(slices.Clone(materials.Colours), func(c string) bool { return c == "any" })
}
