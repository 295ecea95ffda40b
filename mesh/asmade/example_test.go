package asmade_test

import (
	"fmt"

	"swapworth/mesh"
	"swapworth/mesh/asmade"

	"gonum.org/v1/gonum/spatial/r3"
)

// A bar drawn 4 mm thick that keeps the 5 mm of its stock.
func ExampleUnfaced() {
	bar := asmade.Read(mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 4}))
	v, err := asmade.Unfaced(bar, r3.Vec{Z: 1}, 5)
	if err != nil {
		fmt.Println(err)
		return
	}
	drawn := bar.Mesh.SignedVolume()
	fmt.Printf("%s: %+.0f %%\n", v.Name, 100*v.Added/drawn)
	// Output:
	// not faced on +z: 5 mm instead of 4: +25 %
}
