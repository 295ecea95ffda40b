package asmade

import (
	"fmt"
	"math"
	"strings"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// Class is a tolerance class of ISO 2768-1 for linear sizes.
type Class string

// The classes.
const (
	Fine       Class = "f"
	Medium     Class = "m"
	Coarse     Class = "c"
	VeryCoarse Class = "v"
)

// ParseClass reads f, m, c or v, alone or in a drawing's note such as
// "ISO 2768-mK".
func ParseClass(s string) (Class, error) {
	text := strings.ToLower(strings.TrimSpace(s))
	text = strings.TrimPrefix(text, "iso 2768-1")
	text = strings.TrimPrefix(text, "iso 2768")
	text = strings.TrimLeft(text, " -")
	switch {
	case text == "":
	case len(text) <= 2 && strings.Contains("fmcv", text[:1]) && strings.Trim(text[1:], "hkl") == "":
		return Class(text[:1]), nil
	}
	return "", fmt.Errorf("tolerance class %q: expected f, m, c or v of ISO 2768-1", s)
}

// permissible deviations of ISO 2768-1 table 1, from memory, mm; NaN where the
// standard gives none.
var permissible = []struct {
	upTo       float64
	f, m, c, v float64
}{
	{3, 0.05, 0.1, 0.2, math.NaN()},
	{6, 0.05, 0.1, 0.3, 0.5},
	{30, 0.1, 0.2, 0.5, 1},
	{120, 0.15, 0.3, 0.8, 1.5},
	{400, 0.2, 0.5, 1.2, 2.5},
	{1000, 0.3, 0.8, 2, 4},
	{2000, 0.5, 1.2, 3, 6},
	{4000, math.NaN(), 2, 4, 8},
}

// Deviation returns the permissible deviation of a size in mm, plus and minus.
// Sizes below 0.5 mm and above 4000 mm, and those that the class does not cover,
// carry no general tolerance.
func (c Class) Deviation(size float64) (float64, error) {
	if size >= 0.5 {
		for _, row := range permissible {
			if size > row.upTo {
				continue
			}
			d := map[Class]float64{Fine: row.f, Medium: row.m, Coarse: row.c, VeryCoarse: row.v}[c]
			if d > 0 {
				return d, nil
			}
			break
		}
	}
	return 0, fmt.Errorf("ISO 2768-1 class %s gives no deviation for a size of %.4g mm", c, size)
}

// grown moves every face along its outward normal by an amount.
func (p Part) grown(by func(f int32, normal r3.Vec) float64) (*mesh.Mesh, float64, error) {
	return p.offset(func(list []demand, f, v int32) []demand {
		n := p.outward(f, v)
		if n == (r3.Vec{}) {
			return list
		}
		return append(list, demand{n, by(f, n)})
	}, nil)
}

// Oversize returns the part with material by mm thicker on every face; a
// negative amount makes it undersize. Holes shrink as the part grows.
func Oversize(p Part, by float64) (Variant, error) {
	m, misfit, err := p.grown(func(int32, r3.Vec) float64 { return by })
	if err != nil {
		return Variant{}, fmt.Errorf("oversize by %.3g mm: %w", by, err)
	}
	word := "over"
	if by < 0 {
		word = "under"
	}
	return p.variant(fmt.Sprintf("%ssize by %.3g mm on every face", word, math.Abs(by)), m, misfit), nil
}

// AtLimit returns the part at the limit of its general tolerance: with the most
// material that the class allows, or the least. Each face carries half of the
// deviation of the part's size square to it, a slanted or rounded one a share of
// each; each bore and round bar half of the deviation of its diameter.
func AtLimit(p Part, c Class, most bool) (Variant, error) {
	sign, word := 1.0, "most"
	if !most {
		sign, word = -1, "least"
	}
	half := make([]float64, 0, 3)
	for _, d := range p.Square {
		low, high := p.extent(d)
		t, err := c.Deviation(drawn(high - low))
		if err != nil {
			return Variant{}, err
		}
		half = append(half, sign*t/2)
	}
	missing := false
	m, misfit, err := p.grown(func(f int32, n r3.Vec) float64 {
		if r := p.round[f]; r >= 0 && p.Features.Rounds[r].ArcDeg >= 300 {
			t, err := c.Deviation(drawn(2 * p.Features.Rounds[r].Radius))
			if err != nil {
				missing = true
			}
			return sign * t / 2
		}
		var by, weight float64
		for k, d := range p.Square { // a slanted face takes its share of each
			w := r3.Dot(n, d) * r3.Dot(n, d)
			by, weight = by+w*half[k], weight+w
		}
		return by / max(weight, 1e-9)
	})
	if err != nil {
		return Variant{}, fmt.Errorf("ISO 2768-%s: %w", c, err)
	}
	out := p.variant(fmt.Sprintf("ISO 2768-%s, %s material", c, word), m, misfit)
	if missing {
		out.Notes = append(out.Notes, "rounds that the class does not cover stayed as drawn")
	}
	return out, nil
}

// drawn rounds a measured size to a hundredth, so that a file's rounding does
// not push a size of 6 mm into the row for more than 6.
func drawn(size float64) float64 { return math.Round(size*100) / 100 }
