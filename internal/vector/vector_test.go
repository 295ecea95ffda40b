package vector

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestSmallAngles(t *testing.T) {
	for _, degrees := range []float64{0, 1e-7, 0.5, 90, 179.9999999, 180} {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		if got := DegreesBetween(r3.Vec{X: 3}, Of([3]float64{cos, sin, 0})); math.Abs(got-degrees) > 1e-12*math.Max(1, degrees) {
			t.Errorf("%g degrees are measured as %g", degrees, got)
		}
	}
	if got := Length(r3.Vec{X: 2, Y: 3, Z: 6}); got != 7 {
		t.Errorf("2, 3, 6 is %g long, want 7", got)
	}
}
