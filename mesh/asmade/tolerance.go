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

// Thickness returns how thick the material is along a direction, in the mean over
// all that a ray along it passes through, mm: the volume over the area of the faces
// that look along it, integral of (n.d)+ dA. Of a block that is its size; of a
// pocketed part it lies between floors and walls.
func (p Part) Thickness(d r3.Vec) float64 {
	var looking float64
	for f := range p.Mesh.Faces {
		looking += p.area(int32(f)) * math.Max(0, r3.Dot(p.normal(int32(f)), d))
	}
	return p.Mesh.SignedVolume() / looking
}

// Thinnest returns the index in p.Square of the axis along which the material is
// thinnest, the first of equals.
func (p Part) Thinnest() (thin int) {
	least := math.Inf(1)
	for k, d := range p.Square {
		if t := p.Thickness(d); t < least {
			thin, least = k, t
		}
	}
	return thin
}

// Deviations returns the permissible deviation of the material's thickness along
// each of p.Square, mm.
func (p Part) Deviations(c Class) (out [3]float64, err error) {
	for k, d := range p.Square {
		if out[k], err = c.Deviation(drawn(p.Thickness(d))); err != nil {
			return out, err
		}
	}
	return out, nil
}

// Drifted returns the part with every face moved outward by an amount along each of
// p.Square, mm; a slanted or rounded face takes its share of each. Bores stay as drawn:
// their size comes from a drill or a reamer, not from where the mill stands.
func Drifted(p Part, by [3]float64) (*mesh.Mesh, error) {
	m, _, err := p.grown(func(f int32, n r3.Vec) float64 {
		if r := p.round[f]; r >= 0 && p.Features.Rounds[r].Concave && p.Features.Rounds[r].ArcDeg >= wholeRound {
			return 0
		}
		return p.shared(n, by)
	})
	if err != nil {
		return nil, fmt.Errorf("faces moved by %.3g, %.3g and %.3g mm: %w", by[0], by[1], by[2], err)
	}
	p.snap(m)
	return m, nil
}

// wholeRound is the arc, in degrees, from which a round is a bore or a bar with a
// diameter of its own.
const wholeRound = 300

// shared is how far a face of a normal moves where its part moves by an amount along
// each of p.Square: a slanted face takes its share of each.
func (p Part) shared(n r3.Vec, by [3]float64) float64 {
	var moved, weight float64
	for k, d := range p.Square {
		w := r3.Dot(n, d) * r3.Dot(n, d)
		moved, weight = moved+w*by[k], weight+w
	}
	return moved / max(weight, 1e-9)
}

// AtLimit returns the part at the limit of its general tolerance: with the most
// material that the class allows, or the least. Each face carries half of the
// deviation of the material's thickness square to it, a slanted or rounded one a share
// of each; each bore and round bar half of the deviation of its diameter.
func AtLimit(p Part, c Class, most bool) (Variant, error) {
	sign, word := 1.0, "most"
	if !most {
		sign, word = -1, "least"
	}
	half, err := p.Deviations(c)
	if err != nil {
		return Variant{}, err
	}
	for k := range half {
		half[k] *= sign / 2
	}
	missing := false
	m, misfit, err := p.grown(func(f int32, n r3.Vec) float64 {
		if r := p.round[f]; r >= 0 && p.Features.Rounds[r].ArcDeg >= wholeRound {
			t, err := c.Deviation(drawn(2 * p.Features.Rounds[r].Radius))
			if err != nil {
				missing = true
			}
			return sign * t / 2
		}
		return p.shared(n, half)
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
