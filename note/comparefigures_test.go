package note

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam"
	"swapworth/mesh"
	"swapworth/swap"
)

func TestTheVanishingEndOfARoundedPartIsNotItsweakestPlace(t *testing.T) {
	slab := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	moment := func(v float64) *float64 { return &v }
	end := 0.0
	drawn := func(endArea float64) swap.Drawn {
		return swap.Drawn{Mesh: slab, Bent: []swap.Bent{{Along: mesh.Z, WeakestAt: &end, Points: []beam.Point{
			{At: 0, Area: endArea, EI: 1, Moment: moment(100)},
			{At: 30, Area: endArea, EI: 5, Moment: moment(70)},
			{At: 60, Area: endArea, EI: 2, Moment: moment(40)},
		}}}}
	}
	// The slab is cut to 100 mm2 anywhere.
	if at, _ := weakestPlace(drawn(100), mesh.X); at != 0 {
		t.Errorf("a full end is the weakest place, got %g", at)
	}
	if at, _ := weakestPlace(drawn(5000), mesh.X); at != 60 {
		t.Errorf("beside a vanishing end 60 bends most sharply, got %g", at)
	}
}
