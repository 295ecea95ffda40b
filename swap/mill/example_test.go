package mill_test

import (
	"fmt"

	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/swap/mill"

	"gonum.org/v1/gonum/spatial/r3"
)

// A plain plate out of stock one size up: facing takes its share.
func ExampleMake() {
	plate := asmade.Read(mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 60, Z: 7}))
	profile := mill.BenchTop()
	work, err := mill.Measure(plate, profile, mill.Plan{})
	if err != nil {
		fmt.Println(err)
		return
	}
	e, err := mill.Make(work, profile, mill.Job{Count: 1, Family: "aluminium", Density: 2700, PricePerKg: 10, HourlyValue: 25})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("blank %.0f x %.0f x %.0f mm\n", e.Blank[0], e.Blank[1], e.Blank[2])
	for _, o := range e.Operations {
		fmt.Printf("%-22s %5.1f min %3.0f %%\n", o.Name, o.Minutes, 100*o.Share)
	}
	// Output:
	// blank 106 x 66 x 8 mm
	// CAM                     45.0 min  35 %
	// Sawing the blank        10.0 min   8 %
	// Set-ups                 40.0 min  31 %
	// Tool changes             9.0 min   7 %
	// Facing                   4.6 min   4 %
	// Outline                 10.1 min   8 %
	// Deburr and wash          7.0 min   5 %
	// Measuring                3.0 min   2 %
}
