package section

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh/cut"
)

// Torque over the largest shear stress as Roark's Formulas for Stress and
// Strain gives it (chapter on torsion, table of formulas for solid and hollow
// sections; from memory), of named sections and of the same sections as cuts,
// which are solved. What is drawn with chords and solved to 0.05 % in J is
// within 1.5 % in the stress.
func TestTheStressOfTorsionIsRoarks(t *testing.T) {
	rect := func(width, height float64) float64 { // 2a x 2b, a >= b
		a, b := max(width, height)/2, min(width, height)/2
		q := b / a
		return 8 * a * b * b / 3 / (1 + 0.6095*q + 0.8865*q*q - 1.8023*q*q*q + 0.91*q*q*q*q)
	}
	ring := func(outer, inner float64) float64 {
		return math.Pi * (math.Pow(outer, 4) - math.Pow(inner, 4)) / (16 * outer)
	}
	for _, c := range []struct {
		text   string
		roark  float64 // mm3
		closed float64 // tolerance of the named section
		solved float64 // tolerance of the cut
	}{
		{"round 20", ring(20, 0), 1e-12, 0.015},
		{"tube 20x2", ring(20, 16), 1e-12, 0.015},
		{"tube 30x12", ring(30, 6), 1e-12, 0.015},
		{"rect 20x8", rect(20, 8), 5e-3, 5e-3},
		{"rect 4x40", rect(40, 4), 5e-3, 5e-3},
		{"square 10", 1000 / 8 / 0.601, 2e-3, 5e-3}, // 0.601 T/a^3 of the side 2a
		// thin walls: T/(2 t (a-t)(b-t)), Bredt
		{"recttube 40x20x2", 2 * 2 * 38 * 18, 0.01, 0.01},
		{"recttube 100x100x1", 2 * 99 * 99, 0.01, 0.01},
	} {
		s := shapeOf(t, c.text)
		named, err := s.Torsion(0.3)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.text, named.Modulus, c.roark, c.closed)
		near(t, c.text+" as a cut", torsionOf(t, s.Region()).Modulus, c.roark, c.solved)
	}
	ellipse := make([]r2.Vec, 400)
	for i := range ellipse {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 400)
		ellipse[i] = r2.Vec{X: 20 * cos, Y: 7 * sin}
	}
	near(t, "ellipse", torsionOf(t, only(ellipse)).Modulus, math.Pi*20*49/2, 0.01)
	triangle := []r2.Vec{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 5, Y: 5 * math.Sqrt(3)}}
	near(t, "equilateral triangle", torsionOf(t, only(triangle)).Modulus, 1000/20., 0.015)
	// any solid section, at the foot of the largest inscribed circle D on a
	// straight side: T/J D/(1+q) (1 + 0.15 q), q = pi^2 D^4/(16 A^2)
	hexagon := shapeOf(t, "hexagon 17").Region()
	area := hexagon.Area()
	q := math.Pow(math.Pi, 2) * math.Pow(17, 4) / (16 * area * area)
	res := torsionOf(t, hexagon)
	near(t, "hexagon", res.Modulus, res.J/(17/(1+q)*(1+0.15*q)), 0.06) // the formula is a fit
}

// Thin open sections: T t/J with the greatest thickness (Roark; Timoshenko and
// Goodier, torsion of rolled sections), named and as cuts.
func TestThinOpenSectionsAreStressedByTheirThickestWall(t *testing.T) {
	for text, thick := range map[string]float64{
		"tee 50x40x4x6": 6, "tee 24x30x4": 4, "angle 40x40x4": 4, "angle 60x30x2": 2,
		"channel 50x30x4x4": 4, "channel 100x50x3x6": 6, "I 100x55x4.1x5.7": 5.7,
	} {
		s := shapeOf(t, text)
		named, err := s.Torsion(0.3)
		if err != nil {
			t.Fatal(err)
		}
		near(t, text, named.Modulus, named.J/thick, 1e-12)
		cut := torsionOf(t, s.Region())
		near(t, text+" as a cut", cut.Modulus, cut.J/thick, 0.01)
	}
}

// Every piece turns by the same angle, so the thickest rules all.
func TestSeparatePiecesAreStressedByTheThickest(t *testing.T) {
	both := append(only(box(0, 0, 40, 4)), only(box(0, 20, 10, 30))...)
	res := torsionOf(t, both)
	near(t, "modulus", res.Modulus, (rectangleJ(40, 4)+rectangleJ(10, 10))/rectangleSlope(10, 10), 0.01)
}

// Two cells of one wall: the flow in the wall between them is the difference of
// theirs. In a box with a wall across its middle that is none.
func TestAWallBetweenEqualCellsCarriesNothing(t *testing.T) {
	plain := only(box(0, 0, 100, 50), box(1, 1, 99, 49))
	parted := only(box(0, 0, 100, 50), box(1, 1, 49.75, 49), box(50.25, 1, 99, 49))
	near(t, "modulus", torsionOf(t, parted).Modulus, torsionOf(t, plain).Modulus, 0.01)
	near(t, "J", torsionOf(t, parted).J, torsionOf(t, plain).J, 0.01)
}

func TestTheStressOfTorsionGrowsWithTheCubeOfTheSize(t *testing.T) {
	for _, r := range []cut.Region{shapeOf(t, "tee 50x40x4x6").Region(), shapeOf(t, "recttube 40x20x2").Region(), shapeOf(t, "hexagon 17").Region()} {
		big := mapped(r, func(p r2.Vec) r2.Vec { return r2.Rotate(r2.Scale(3, p), 0.7, r2.Vec{}) })
		near(t, "modulus", torsionOf(t, big).Modulus, 27*torsionOf(t, r).Modulus, 0.01)
	}
}
