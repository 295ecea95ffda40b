package mesh

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestStretchingScalesTheVolumeOfAPrism(t *testing.T) {
	m := Cuboid(r3.Vec{X: -3, Y: 1, Z: 7}, r3.Vec{X: 5, Y: 4, Z: 11})
	got, err := Stretch(m, Z, 6, nil)
	if err != nil {
		t.Fatal(err)
	}
	if v := got.SignedVolume(); math.Abs(v-8*3*6) > 1e-9 {
		t.Errorf("volume %g, want 144", v)
	}
	if b := got.Bounds(); b.Min.Z != 7 || b.Max.Z != 13 {
		t.Errorf("from %g to %g, want the low end to stay", b.Min.Z, b.Max.Z)
	}
}

func TestARigidBandKeepsItsLength(t *testing.T) {
	m := Merge(Cuboid(r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10}), Cuboid(r3.Vec{X: 20, Z: 4}, r3.Vec{X: 30, Y: 10, Z: 6}))
	got, err := Stretch(m, Z, 18, []Band{{4, 6}, {5, 6}})
	if err != nil {
		t.Fatal(err)
	}
	var low, high float64 = math.Inf(1), math.Inf(-1)
	for _, v := range got.Vertices {
		if v.X >= 20 {
			low, high = min(low, v.Z), max(high, v.Z)
		}
	}
	if low != 8 || high != 10 {
		t.Errorf("the band runs from %g to %g, want 8 to 10: 2 mm long still, in the middle of 18", low, high)
	}
}

func TestABandThatTakesEverythingIsRefused(t *testing.T) {
	m := Cuboid(r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10})
	if _, err := Stretch(m, Z, 12, []Band{{-1, 11}}); err == nil {
		t.Error("no error, though nothing is left to stretch")
	}
	if _, err := Stretch(m, Z, 3, []Band{{2, 6}}); err == nil {
		t.Error("no error, though the band alone is longer than asked for")
	}
}
