package beam_test

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam"
	"swapworth/beam/section"
	"swapworth/materials"
	"swapworth/mesh"
)

func ExampleOfPart() {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 200, Y: 20, Z: 10})
	steel := materials.Elastic{YoungsModulus: 210000, Poisson: 0.3, Yield: 235, Density: 7850}
	r, err := beam.OfPart(bar, steel, beam.Setup{Span: mesh.X, Load: mesh.Z, Support: beam.Cantilever, Force: 50})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f N/mm, %.1f MPa, yields at %.0f N\n", *r.Stiffness, *r.MaxStress, *r.YieldForce)
	// Output: 131.0 N/mm, 30.0 MPa, yields at 392 N
}

func ExampleOfShape() {
	flat, err := section.ParseShape("rect 40x4mm")
	if err != nil {
		fmt.Println(err)
		return
	}
	aluminium := materials.Elastic{YoungsModulus: 70000, Poisson: 0.33}
	r, err := beam.OfShape(flat, 200, aluminium, beam.Setup{Load: mesh.Z, Support: beam.SimplySupported, Force: 20})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("sags %.2f mm, %.1f MPa\n", *r.Deflection, *r.MaxStress)
	// Output: sags 0.22 mm, 9.4 MPa
}

func ExampleMatchStiffness() {
	steel := materials.Elastic{YoungsModulus: 210000, Density: 7850}
	aluminium := materials.Elastic{YoungsModulus: 70000, Density: 2700}
	m, err := beam.MatchStiffness(beam.Panel{Material: steel, Thickness: 4}, aluminium)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f mm of aluminium is as stiff as 4 mm of steel, at %.0f %% of the mass\n", m.Thickness, 100*m.MassRatio)
	// Output: 5.77 mm of aluminium is as stiff as 4 mm of steel, at 50 % of the mass
}
