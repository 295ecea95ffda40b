package figure

import (
	"image/color"
	"math"
	"testing"

	"swapworth/internal/contrast"
)

// series returns the colours of series on light and on dark paper.
func seriesOn(t *testing.T) map[string][]color.NRGBA {
	t.Helper()
	out := map[string][]color.NRGBA{}
	for _, entry := range theme {
		if len(entry.name) == 1 {
			out["light"], out["dark"] = append(out["light"], entry.light), append(out["dark"], entry.dark)
		}
	}
	if len(out["light"]) != len(seriesColors) {
		t.Fatalf("the theme has %d of %d series", len(out["light"]), len(seriesColors))
	}
	return out
}

func TestFigureColoursStandOutFromThePaper(t *testing.T) {
	var paper struct{ light, dark color.NRGBA }
	for _, entry := range theme {
		if entry.name == "paper" {
			paper.light, paper.dark = entry.light, entry.dark
		}
	}
	for _, entry := range theme {
		if entry.name == "paper" || entry.name == "grid" {
			continue
		}
		if got := contrast.Of(entry.light, paper.light); got < 4.5 {
			t.Errorf("%s has a contrast of %.2f on light paper, want 4.5", entry.name, got)
		}
		if got := contrast.Of(entry.dark, paper.dark); got < 4.5 {
			t.Errorf("%s has a contrast of %.2f on dark paper, want 4.5", entry.name, got)
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
func lab(c color.Color, seen [3][3]float64) [3]float64 {
	rgb := contrast.Linear(c)
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
	for paper, series := range seriesOn(t) {
		for name, m := range blindness {
			for i := range series {
				for k := range i {
					a, b := lab(series[i], m), lab(series[k], m)
					d := math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
					if d < apart {
						t.Errorf("%s paper, %s: series %d and %d differ by %.1f, want %d", paper, name, k, i, d, apart)
					}
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
