package render

import (
	"image/color"
	"testing"

	"swapworth/internal/contrast"
)

func (c ink) color() color.Color { return color.NRGBA{uint8(c.r), uint8(c.g), uint8(c.b), 0xff} }

// WCAG 2.2, 1.4.3: text has a contrast of 4.5 or more; 1.4.11: rules and borders
// that carry meaning 3 or more.
func TestEveryThemeOfThePageHasEnoughContrast(t *testing.T) {
	for name, selector := range map[string]string{
		"light": ":root {", "dark": "prefers-color-scheme: dark) {\n  :root {", "print": "@media print {\n  :root {",
	} {
		inks, err := styleInks(pageStyle, selector)
		if err != nil {
			t.Fatal(err)
		}
		if len(inks) != 9 {
			t.Errorf("%s: found %d colours, want 9", name, len(inks))
		}
		for _, ground := range []string{"paper", "sheet"} {
			for _, text := range []string{"ink", "soft", "good", "caution", "bad", "link"} {
				if got := contrast.Of(inks[text].color(), inks[ground].color()); got < 4.5 {
					t.Errorf("%s: %s on %s has a contrast of %.2f, want 4.5", name, text, ground, got)
				}
			}
			if got := contrast.Of(inks["rule"].color(), inks[ground].color()); got < 3 {
				t.Errorf("%s: rule on %s has a contrast of %.2f, want 3", name, ground, got)
			}
		}
	}
}
