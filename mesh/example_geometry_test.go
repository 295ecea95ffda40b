package mesh_test

import (
	"fmt"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

func ExampleCut() {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	section, err := mesh.Cut(bar, mesh.AxisPlane(mesh.X, 30))
	fmt.Println(section.Area(), len(section), err)
	_, err = mesh.Cut(bar, mesh.AxisPlane(mesh.X, 130))
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
	base := mesh.Region{{Outer: square(40)}}
	boss := mesh.Region{{Outer: square(10)}}
	part, err := mesh.Stack(mesh.AxisPlane(mesh.Z, 0), mesh.Layer{Region: base, Thickness: 5}, mesh.Layer{Region: boss, Thickness: 8})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(part.SignedVolume(), mesh.Check(part).Closed)
	// Output: 8800 true
}

func ExampleClip() {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	left, err := mesh.Clip(bar, mesh.AxisPlane(mesh.X, 30))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mm3, closed: %v\n", left.SignedVolume(), mesh.Check(left).Closed)
	// Output: 3000 mm3, closed: true
}
