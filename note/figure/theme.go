package figure

import (
	"fmt"
	"image/color"
	"strings"
)

// theme names the colours of figures that a page may change with its own: on light
// paper those that figures are drawn in, on dark paper what stands in for them.
var theme = []struct {
	name        string
	light, dark color.NRGBA
}{
	{"ink", figureInk, color.NRGBA{0xe9, 0xed, 0xf0, 0xff}},
	{"soft", figureSoft, color.NRGBA{0xb3, 0xbe, 0xc8, 0xff}},
	{"grid", figureGrid, color.NRGBA{0x3a, 0x44, 0x4e, 0xff}},
	{"paper", figurePaper, color.NRGBA{0x1c, 0x23, 0x2b, 0xff}},
	{"a", seriesColors[0], color.NRGBA{0xf0, 0x8c, 0x4a, 0xff}}, // rust
	{"b", seriesColors[1], color.NRGBA{0x5c, 0xc0, 0xf0, 0xff}}, // slate blue
	{"c", seriesColors[2], color.NRGBA{0xe6, 0xd8, 0xff, 0xff}}, // aubergine
	{"d", seriesColors[3], color.NRGBA{0xd8, 0x60, 0xb0, 0xff}}, // orchid
}

// themeName finds a colour whatever its opacity; empty where it has no name.
func themeName(c color.NRGBA) string {
	c.A = 0xff
	for _, t := range theme {
		if t.light == c {
			return t.name
		}
	}
	return ""
}

// Style is the style sheet that goes with figures inside a page: their colours on
// light and on dark paper, and in print.
func Style() string {
	var light, dark, classes strings.Builder
	for _, t := range theme {
		fmt.Fprintf(&light, " --figure-%s: %s;", t.name, hex(t.light))
		fmt.Fprintf(&dark, " --figure-%s: %s;", t.name, hex(t.dark))
		fmt.Fprintf(&classes, ".f-%[1]s { fill: var(--figure-%[1]s); } .s-%[1]s { stroke: var(--figure-%[1]s); }\n", t.name)
	}
	return fmt.Sprintf("svg.figure {%s }\n@media (prefers-color-scheme: dark) { svg.figure {%s } }\n@media print { svg.figure {%s } }\n%s",
		light.String(), dark.String(), light.String(), classes.String())
}

func hex(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }
