package solid_test

import (
	"context"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/solid"
)

// A bar of aluminium, 100 x 20 x 5 mm, clamped at one end and pushed across its
// thickness at the other. Beam theory gives 43.7 N/mm; the clamp, which holds
// the end's contraction back, makes it a little stiffer.
func ExampleCheck() {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33}
	p, err := solid.EndProblem(bar, mesh.X, mesh.Z, "cantilever", 100)
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := solid.Check(context.Background(), bar, e, p, solid.Options{Unknowns: 20000})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f N/mm, %.2f mm under %.0f N\n", r.Stiffness, r.Deflection, r.Load)
	// Output: 44.5 N/mm, 2.25 mm under 100 N
}

// The same bar with its first 20 mm in a vice and a force 60 mm further on: 3 E I/L^3 is
// 202.5 N/mm, of which shear takes 0.5 % and to which the vice adds some, as above.
func ExampleInside() {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	e := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33}
	p := solid.Problem{
		Supports: []solid.Support{solid.Clamped(solid.Inside(mesh.Box{Max: r3.Vec{X: 20, Y: 20, Z: 5}}))},
		Cases:    []solid.Case{{Name: "push", Loads: []solid.Load{{Place: solid.Section(mesh.X, 80), Force: r3.Vec{Z: -100}}}}},
	}
	r, err := solid.Check(context.Background(), bar, e, p, solid.Options{Unknowns: 20000})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f N/mm\n", r.Stiffness)
	// Output: 208 N/mm
}

func ExampleParsePlace() {
	for _, text := range []string{"hole:2", "washer:2:12mm", "face:10,20,6", "end:high"} {
		p, err := solid.ParsePlace(text, mesh.X)
		fmt.Println(p, err)
	}
	// Output:
	// hole:2 <nil>
	// washer:2:12mm <nil>
	// face:10,20,6 <nil>
	// end:high <nil>
}
