package cut_test

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

func ExampleSection() {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	section, err := cut.Section(bar, mesh.AxisPlane(mesh.X, 30))
	fmt.Println(section.Area(), len(section), err)
	_, err = cut.Section(bar, mesh.AxisPlane(mesh.X, 130))
	fmt.Println(err)
	// Output:
	// 100 1 <nil>
	// cut at x=130 mm is outside the part, which spans x=0 to x=100 mm
}

func ExampleStack() {
	square := func(side float64) []r2.Vec {
		h := side / 2
		return []r2.Vec{{X: -h, Y: -h}, {X: h, Y: -h}, {X: h, Y: h}, {X: -h, Y: h}}
	}
	base := cut.Region{{Outer: square(40)}}
	boss := cut.Region{{Outer: square(10)}}
	part, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: base, Thickness: 5}, cut.Layer{Region: boss, Thickness: 8})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(part.SignedVolume(), mesh.Check(part).Closed)
	// Output: 8800 true
}

func ExampleClip() {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	left, err := cut.Clip(bar, mesh.AxisPlane(mesh.X, 30))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mm3, closed: %v\n", left.SignedVolume(), mesh.Check(left).Closed)
	// Output: 3000 mm3, closed: true
}
