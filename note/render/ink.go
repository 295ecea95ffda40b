package render

import (
	"fmt"
	"strconv"
	"strings"
	"sync"
)

// lightInks are the colours of the light page, read from its style sheet so
// that paper and page cannot drift apart.
var lightInks = sync.OnceValue(func() map[string]ink {
	inks, err := styleInks(pageStyle, ":root {")
	if err != nil {
		panic(err) // the style sheet is part of the program
	}
	return inks
})

func pageInk(name string) ink { return lightInks()[name] }

// styleInks reads the custom properties of the first rule that starts with the
// given selector.
func styleInks(style, selector string) (map[string]ink, error) {
	_, rest, ok := strings.Cut(style, selector)
	if !ok {
		return nil, fmt.Errorf("style sheet: no rule %q", selector)
	}
	body, _, _ := strings.Cut(rest, "}")
	inks := map[string]ink{}
	for _, property := range strings.Split(body, ";") {
		name, value, _ := strings.Cut(strings.TrimSpace(property), ":")
		name, found := strings.CutPrefix(name, "--")
		if !found {
			continue
		}
		c, err := parseInk(strings.TrimSpace(value))
		if err != nil {
			return nil, fmt.Errorf("style sheet: --%s: %w", name, err)
		}
		inks[name] = c
	}
	return inks, nil
}

// parseInk reads "#rrggbb".
func parseInk(s string) (ink, error) {
	v, err := strconv.ParseUint(strings.TrimPrefix(s, "#"), 16, 24)
	if err != nil || len(s) != 7 {
		return ink{}, fmt.Errorf("colour %q: expected #rrggbb", s)
	}
	return ink{int(v >> 16), int(v >> 8 & 255), int(v & 255)}, nil
}
