package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
)

func label(old, new int) string {
	if old == new {
		return fmt.Sprintf("hole %d", old)
	}
	return fmt.Sprintf("hole %d (%d of the new part)", old, new)
}

// size says what a hole is.
func size(h feature.Hole) string {
	text := fmt.Sprintf("%s mm %s", number(h.Diameter), h.Kind)
	if !h.Open {
		text += fmt.Sprintf(", %s mm deep", number(h.Depth))
	}
	return text
}

func place(p r3.Vec) string {
	return fmt.Sprintf("(%s, %s, %s)", number(p.X), number(p.Y), number(p.Z))
}

func round2(x float64) float64 { return math.Round(x*100) / 100 }

// number writes a length to a hundredth without trailing zeros.
func number(x float64) string { return trimmed(x, 2) }

// precise writes a length to a thousandth, as fits are.
func precise(x float64) string { return trimmed(x, 3) }

func trimmed(x float64, digits int) string {
	scale := math.Pow10(digits)
	x = math.Round(x*scale) / scale
	if x == 0 {
		x = 0 // no minus sign
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// noLean is the component of a direction below which it is not said to lean: 0.06
// degrees, which rounds to none.
const noLean = 1e-3

// nameOf returns "+x" for a direction along a coordinate axis, else the axis it is
// nearest to and what it leans to: "+y, leaning 15 degrees to +z".
func nameOf(d r3.Vec) string {
	c := [3]float64{d.X, d.Y, d.Z}
	order := []int{0, 1, 2}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(math.Abs(c[b]), math.Abs(c[a])) })
	var axes []string
	for _, k := range order {
		if math.Abs(c[k]) < noLean {
			break
		}
		sign := "+"
		if c[k] < 0 {
			sign = "-"
		}
		axes = append(axes, sign+mesh.Axis(k).String())
	}
	if len(axes) < 2 {
		return strings.Join(axes, "")
	}
	lean := math.Acos(min(1, math.Abs(c[order[0]]))) * 180 / math.Pi
	return fmt.Sprintf("%s, leaning %.0f degrees to %s", axes[0], lean, strings.Join(axes[1:], " and "))
}

func array(v r3.Vec) [3]float64 {
	out := [3]float64{v.X, v.Y, v.Z}
	for k := range out {
		if math.Abs(out[k]) < unseen {
			out[k] = 0
		}
	}
	return out
}

// unseen is the coordinate below which it is written as 0: what float32 leaves of a
// millimetre that ought to be none.
const unseen = 1e-6
