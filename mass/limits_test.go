package mass_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
)

// What repairs may have got wrong can be more than the whole; a hundredth is left, so that
// a density has a bound.
func TestAHundredthOfAVolumeIsLeft(t *testing.T) {
	m := prism([]r2.Vec{{}, {X: 10}, {X: 10, Y: 10}, {Y: 10}}, 10)
	p := mass.Of(m)
	r := mass.VolumeRange(p, []mesh.Repair{{AddedVolumeMM3: 3000}})
	if math.Abs(r.Low-10) > 1e-9 {
		t.Errorf("between %g and %g mm3, want from 10", r.Low, r.High)
	}
}

// A print of a seventh of its volume holds its shape, one of a twentieth is none (common
// practice: sparse infill begins at a tenth).
func TestAPrintHoldsAtLeastATwelfthOfItsVolume(t *testing.T) {
	m := prism([]r2.Vec{{}, {X: 100}, {X: 100, Y: 20}, {Y: 20}}, 5)
	l := &mesh.Loaded{Path: "part.stl", Mesh: m, Report: mesh.Check(m)}
	pla, err := materials.Default().Find("PLA")
	if err != nil {
		t.Fatal(err)
	}
	solid := pla.Density.Nominal / pla.Fill * 10e-3 // g of 10 cm3
	for share, may := range map[float64]bool{0.15: true, 0.05: false} {
		id := mass.NewIdentification(l, mass.Of(m), mass.Weighing{Grams: share * solid, Resolution: 0.01}, materials.Default(), mass.Observation{}, &pla)
		if (id.Contradiction == nil) != may {
			t.Errorf("%g of the volume: contradicted %v", share, may)
		}
	}
}

// A step of 1 g on 15 g leaves 3 %, on 7 g it leaves 7.
func TestAScaleWhoseStepIsATenthIsCoarse(t *testing.T) {
	m := prism([]r2.Vec{{}, {X: 100}, {X: 100, Y: 20}, {Y: 20}}, 5)
	l := &mesh.Loaded{Path: "part.stl", Mesh: m, Report: mesh.Check(m)}
	for grams, warns := range map[float64]int{15: 0, 7: 1} {
		id := mass.NewIdentification(l, mass.Of(m), mass.Weighing{Grams: grams, Resolution: 1}, materials.Default(), mass.Observation{}, nil)
		if len(id.Warnings) != warns {
			t.Errorf("%g g on a scale of 1 g: %q", grams, id.Warnings)
		}
	}
}

// By hand: a plate of 20 by 20 mm with corners of 5 mm in six chords each, whose flats of
// 10 mm are eight chords wide. A chord c that turns by t leaves out c2 t/12.
func TestAFilletRunsOutIntoAFlatOfAFewChords(t *testing.T) {
	const n, radius, side = 6, 5.0, 20.0
	var outline []r2.Vec
	for corner := range 4 {
		middle := []r2.Vec{{X: side - radius, Y: side - radius}, {X: radius, Y: side - radius}, {X: radius, Y: radius}, {X: side - radius, Y: radius}}[corner]
		for k := range n + 1 {
			s, c := math.Sincos((float64(corner) + float64(k)/n) * math.Pi / 2)
			outline = append(outline, r2.Add(middle, r2.Vec{X: radius * c, Y: radius * s}))
		}
	}
	m := prism(outline, 8)
	p := mass.Of(m)
	round := 8 * (side*side - (4-math.Pi)*radius*radius)
	if got, want := p.Faceting*p.Volume, round-p.Volume; math.Abs(got/want-1) > 0.05 {
		t.Errorf("the rounds hold %.4g mm3 more, want %.4g", got, want)
	}
}

// bevelledCross is a plate 6 mm thick with four arms as long as wide, mm, whose upper edges
// are bevelled and mitred at its twelve corners.
func bevelledCross(arm, bevel, degrees float64) *mesh.Mesh {
	m := &mesh.Mesh{Vertices: []r3.Vec{{}, {Z: 6}}} // the middles of both sides
	ring := func(in, z float64) {
		a, b := arm/2-in, 1.5*arm-in
		for _, p := range [12][2]float64{{b, -a}, {b, a}, {a, a}, {a, b}, {-a, b}, {-a, a}, {-b, a}, {-b, -a}, {-a, -a}, {-a, -b}, {a, -b}, {a, -a}} {
			m.Vertices = append(m.Vertices, r3.Vec{X: p[0], Y: p[1], Z: z})
		}
	}
	ring(0, 0)
	ring(0, 6-bevel*math.Tan(degrees*math.Pi/180))
	ring(bevel, 6)
	for i := range int32(12) {
		j := (i + 1) % 12
		m.Faces = append(m.Faces, [3]int32{0, 2 + j, 2 + i}, [3]int32{1, 26 + i, 26 + j})
		for r := int32(2); r < 26; r += 12 {
			m.Faces = append(m.Faces, [3]int32{r + i, r + j, r + 12 + j}, [3]int32{r + i, r + 12 + j, r + 12 + i})
		}
	}
	return m
}

// Twelve bevels of 20 degrees that meet in mitres turn by 28 degrees there, as the chords of
// a round may; but the mitres hold 0.15 of what a bevel of five times its width turns, and
// less of a longer one; the chords of a low wall have half.
func TestMitredBevelsAreNoRound(t *testing.T) {
	for _, arm := range []float64{10, 30} {
		m := bevelledCross(arm, 2, 20)
		if p := mass.Of(m); !mesh.Check(m).Closed || p.Segments != 0 {
			t.Errorf("arms of %g mm: taken for a round, segments %.4g mm3 of %.4g", arm, p.Segments, p.Volume)
		}
	}
}
