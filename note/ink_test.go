package note

import (
	"image/color"
	"math"
	"testing"
)

// luminance is the relative luminance of WCAG 2.2.
func luminance(c ink) float64 {
	return 0.2126*linear(c.r) + 0.7152*linear(c.g) + 0.0722*linear(c.b)
}

// linear is the sRGB transfer function (IEC 61966-2-1).
func linear(v int) float64 {
	s := float64(v) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// contrast is the contrast ratio of WCAG 2.2: (L1 + 0.05)/(L2 + 0.05).
func contrast(a, b ink) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

func TestContrastIsThatOfTheStandard(t *testing.T) {
	// WCAG 2.2: black on white is 21 to 1; #767676 is the lightest grey that
	// reaches 4.5 on white, 4.54 (from memory).
	if got := contrast(ink{0, 0, 0}, ink{255, 255, 255}); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white: %.3f", got)
	}
	if got := contrast(ink{0x76, 0x76, 0x76}, ink{255, 255, 255}); math.Abs(got-4.54) > 0.01 {
		t.Errorf("#767676 on white: %.3f", got)
	}
}

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
				if got := contrast(inks[text], inks[ground]); got < 4.5 {
					t.Errorf("%s: %s on %s has a contrast of %.2f, want 4.5", name, text, ground, got)
				}
			}
			if got := contrast(inks["rule"], inks[ground]); got < 3 {
				t.Errorf("%s: rule on %s has a contrast of %.2f, want 3", name, ground, got)
			}
		}
	}
}

func opaque(c color.NRGBA) ink { return ink{int(c.R), int(c.G), int(c.B)} }

func TestFigureColoursStandOutFromThePaper(t *testing.T) {
	paper := opaque(figurePaper)
	for i, c := range seriesColors {
		if got := contrast(opaque(c), paper); got < 4.5 {
			t.Errorf("series %d has a contrast of %.2f, want 4.5", i, got)
		}
	}
	for name, c := range map[string]color.NRGBA{"ink": figureInk, "soft": figureSoft} {
		if got := contrast(opaque(c), paper); got < 4.5 {
			t.Errorf("%s has a contrast of %.2f, want 4.5", name, got)
		}
	}
}

// Colour blindness in linear RGB, full severity: Machado, Oliveira and Fernandes,
// A Physiologically-based Model for Simulation of Color Vision Deficiency, IEEE
// TVCG 15 (2009), table of matrices (from memory).
var blindness = map[string][3][3]float64{
	"none":         {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":   {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":   {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

// lab is the colour as someone with the given matrix sees it, in CIE L*a*b* with
// white D65 (CIE 15).
func lab(c ink, seen [3][3]float64) [3]float64 {
	rgb := [3]float64{linear(c.r), linear(c.g), linear(c.b)}
	var s [3]float64
	for i := range s {
		for k := range rgb {
			s[i] += seen[i][k] * rgb[k]
		}
		s[i] = min(max(s[i], 0), 1)
	}
	f := func(v float64) float64 {
		if v > 216.0/24389 {
			return math.Cbrt(v)
		}
		return (24389.0/27*v + 16) / 116
	}
	x := f((0.4124564*s[0] + 0.3575761*s[1] + 0.1804375*s[2]) / 0.95047)
	y := f(0.2126729*s[0] + 0.7151522*s[1] + 0.0721750*s[2])
	z := f((0.0193339*s[0] + 0.1191920*s[1] + 0.9503041*s[2]) / 1.08883)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

func TestSeriesStayApartForTheColourBlind(t *testing.T) {
	// A difference of 2.3 is just noticeable (Mahy, Van Eycken and Oosterlinck,
	// 1994, from memory); lines need several times that.
	const apart = 15
	for name, m := range blindness {
		for i := range seriesColors {
			for k := range i {
				a, b := lab(opaque(seriesColors[i]), m), lab(opaque(seriesColors[k]), m)
				d := math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
				if d < apart {
					t.Errorf("%s: series %d and %d differ by %.1f, want %d", name, k, i, d, apart)
				}
			}
		}
	}
}

func TestSeriesDifferInDashesToo(t *testing.T) {
	if len(seriesDashes) < len(seriesColors) {
		t.Errorf("%d dashes for %d colours", len(seriesDashes), len(seriesColors))
	}
}
