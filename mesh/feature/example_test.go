package feature_test

import (
	"fmt"

	"swapworth/mesh"
	"swapworth/mesh/feature"
)

// The holes of a plate, as a drawing would list them.
func ExampleHoles() {
	plate, err := mesh.Load("../../testdata/reference/carriage_old.stl", mesh.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, h := range feature.Holes(plate.Mesh) {
		fmt.Printf("%d: %.2f mm %s, %.2f mm deep at (%.0f, %.0f)\n",
			h.Number, h.Diameter, h.Kind, h.Depth, h.Centre.X, h.Centre.Y)
	}
	// Output:
	// 1: 5.50 mm through, 5.00 mm deep at (10, 10)
	// 2: 5.50 mm through, 5.00 mm deep at (10, 60)
	// 3: 4.50 mm through, 5.00 mm deep at (60, 15)
	// 4: 4.50 mm through, 5.00 mm deep at (60, 55)
	// 5: 5.50 mm through, 5.00 mm deep at (110, 10)
	// 6: 5.50 mm through, 5.00 mm deep at (110, 60)
}

// The two large faces of a plate come first.
func ExamplePlanarFaces() {
	plate, err := mesh.Load("../../testdata/reference/slab.stl", mesh.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, f := range feature.PlanarFaces(plate.Mesh)[:2] {
		fmt.Printf("%d: %.0f mm2 facing (%.0f, %.0f, %.0f)\n", f.Number, f.Area, f.Normal.X, f.Normal.Y, f.Normal.Z)
	}
	// Output:
	// 1: 2000 mm2 facing (0, 0, -1)
	// 2: 2000 mm2 facing (0, 0, 1)
}
