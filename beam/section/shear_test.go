package section

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh/cut"
)

// A flange 50 x 5 under a web 6 x 12, its sides cut into many short edges as a
// mesh does: the step between flange and web must not be smeared over.
func TestAStepAmongManyCornersKeepsItsShearStress(t *testing.T) {
	plain := []r2.Vec{{X: 0, Y: 0}, {X: 50, Y: 0}, {X: 50, Y: 5}, {X: 6, Y: 5}, {X: 6, Y: 17}, {X: 0, Y: 17}}
	want, _ := jourawskiPiece(cut.Polygon{Outer: plain}, 1)
	random := rand.New(rand.NewPCG(1, 2))
	for range 100 {
		var split []r2.Vec
		for i, a := range plain {
			b := plain[(i+1)%len(plain)]
			split = append(split, a)
			if a.X == b.X {
				for k := range 40 {
					split = append(split, r2.Add(a, r2.Scale((float64(k)+random.Float64())/40, r2.Sub(b, a))))
				}
			}
		}
		got, _ := jourawskiPiece(cut.Polygon{Outer: split}, 1)
		if math.Abs(got.Peak/want.Peak-1) > 1e-3 || math.Abs(got.Area/want.Area-1) > 1e-3 {
			t.Fatalf("peak %g, area %g with many corners, %g and %g with six", got.Peak, got.Area, want.Peak, want.Area)
		}
	}
}

// Towards a tip both Q and b vanish; the stress does too. The largest shear
// stress of a triangle on its base is 3/2 V/A (from memory).
func TestATipCarriesNoShearStress(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		base, height := 0.1+10*random.Float64(), 0.1+10*random.Float64()
		at := r2.Vec{X: 100 * random.Float64(), Y: 100 * random.Float64()}
		corners := []r2.Vec{{X: base * random.Float64()}, {X: base, Y: height}, {Y: height}} // on its tip
		for k := range corners {
			corners[k] = r2.Add(corners[k], at)
		}
		flow, _ := jourawskiPiece(cut.Polygon{Outer: corners}, 1)
		if want := 1.5 / (base * height / 2); flow.Peak > want*(1+1e-3) {
			t.Fatalf("triangle %v: peak %g, by hand %g", corners, flow.Peak, want)
		}
	}
}
