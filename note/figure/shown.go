package figure

import (
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/quantity"
)

// SharpEdges returns the edges, as pairs of vertices, that figures draw of a part:
// those where two faces meet at more than 25 degrees. None where there are so many that a
// drawing would be black.
func SharpEdges(m *mesh.Mesh) (edges [][2]int32) {
	for _, e := range featureEdges(m) {
		if e.sharp {
			edges = append(edges, [2]int32{e.a, e.b})
		}
	}
	return edges
}

// HoleNumbers are the marks that number holes in a drawing.
func HoleNumbers(holes []feature.Hole) (marks []PointMark) {
	for _, h := range holes {
		marks = append(marks, PointMark{At: h.Centre, Radius: h.Diameter / 2, Text: strconv.Itoa(h.Number)})
	}
	return marks
}

// RampMark is a tick of the scale of colours.
type RampMark struct {
	Share float64 `json:"share"` // of its length
	Text  string  `json:"text"`
}

// Ramp is the scale of colours of stress and strain energy as CSS colours, evenly
// spaced: light to dark, so that it reads without colour too.
func Ramp() (colours []string) {
	for _, c := range stressRamp {
		colours = append(colours, fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B))
	}
	return colours
}

// StressMarks are the ticks of a scale that ends at a stress, MPa, in a system of
// units.
func StressMarks(u quantity.System, peak float64) []RampMark {
	unit, factor := u.Unit("MPa", peak)
	return []RampMark{{0, "0"}, {0.5, quantity.Number(factor*peak/2, 2)}, {1, quantity.Number(factor*peak, 3) + " " + unit}}
}

// EnergyMarks are the ticks of the scale of strain energy.
func EnergyMarks() []RampMark {
	return []RampMark{{0, "0.01"}, {EnergyShare(0.1), "0.1"}, {EnergyShare(1), "1"}, {1, "10 times the mean"}}
}

// EnergyShare is where a strain energy density over its mean stands on its scale,
// three decades about the mean.
func EnergyShare(v float64) float64 {
	return math.Log10(max(v, leastEnergy)/leastEnergy) / energyDecades
}

// Enlargement is how many times the movement of parts is shown in pictures, a round
// number that is the same for all of them.
func Enlargement(parts []LoadedPart) float64 {
	times := math.Inf(1)
	for _, p := range parts {
		largest := 0.0
		for _, move := range p.Shape.Moves {
			largest = max(largest, r3.Norm(move))
		}
		if largest > 0 {
			times = min(times, 0.08*r3.Norm(p.Mesh.Bounds().Size())/largest)
		}
	}
	if math.IsInf(times, 1) {
		return 1
	}
	return roundScale(times)
}

// roundScale rounds down to 1, 2 or 5 times a power of ten.
func roundScale(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, f := range []float64{5, 2} {
		if v >= f*p {
			return f * p
		}
	}
	return p
}
