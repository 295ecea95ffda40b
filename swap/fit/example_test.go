package fit_test

import (
	"fmt"

	"swapworth/mesh"
	"swapworth/swap/fit"
)

// A thicker plate with the same holes.
func ExampleCompare() {
	old, err := mesh.Load("../../testdata/reference/carriage_old.stl", mesh.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	new, err := mesh.Load("../../testdata/reference/carriage_new.stl", mesh.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	r := fit.Compare(old.Mesh, new.Mesh, fit.Options{})
	fmt.Println(r.OK, len(r.Pairs))
	for _, f := range r.Findings {
		fmt.Println(f)
	}
	// Output:
	// true 6
	// clamped thickness 5 -> 6 mm at holes 1, 2, 3, 4, 5, 6: bolts must be 1 mm longer, or engage less
	// the envelope grew: the new part reaches 1 mm further towards +z
}
