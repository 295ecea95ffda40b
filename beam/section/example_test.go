package section_test

import (
	"fmt"
	"log"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam/section"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// A flat bar by its trade name.
func ExampleParseShape() {
	flat, err := section.ParseShape("flat 40 x 4 mm")
	if err != nil {
		log.Fatal(err)
	}
	s := flat.Properties()
	fmt.Printf("%v: A %.0f mm2, Ixx %.1f mm4, Iyy %.0f mm4\n", flat, s.Area, s.Ixx, s.Iyy)
	// Output: rect 40x4mm: A 160 mm2, Ixx 213.3 mm4, Iyy 21333 mm4
}

// The section of a block cut at right angles to x.
func ExampleOf() {
	block := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	region, err := cut.Section(block, mesh.AxisPlane(mesh.X, 50))
	if err != nil {
		log.Fatal(err)
	}
	s, err := section.Of(region)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("about y %.1f mm4, about z %.1f mm4\n", s.Ixx, s.Iyy)
	// Output: about y 208.3 mm4, about z 3333.3 mm4
}

// A square twists with J = 0.1406 a^4 and shears with 10(1+v)/(12+11v) of its
// area.
func ExampleTorsion() {
	square := cut.Region{{Outer: []r2.Vec{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}}}
	t, err := section.Torsion(square, 0.3)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("J %.0f mm4, shear area %.1f mm2\n", t.J, t.ShearArea[0])
	// Output: J 1406 mm4, shear area 85.0 mm2
}
