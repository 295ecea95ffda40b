package figure

import (
	"regexp"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// A finding is marked with its letter from above, from the front and from the right.
func TestAFindingIsMarkedInAllThreeViews(t *testing.T) {
	p := PartView{Name: "redesign", Mesh: mesh.Cuboid(r3.Vec{}, r3.Vec{X: 60, Y: 40, Z: 20}), Series: 1}
	for _, letter := range []string{"q", "w"} {
		p.Places = append(p.Places, PointMark{At: r3.Vec{X: 10 + float64(len(p.Places))*20, Y: 15, Z: 12}, Text: letter})
	}
	svg, err := ThreeViews("", []PartView{p}).SVG()
	if err != nil {
		t.Fatal(err)
	}
	for _, letter := range []string{"q", "w"} {
		if n := len(regexp.MustCompile(`>`+letter+`</text>`).FindAll(svg, -1)); n != 3 {
			t.Errorf("%s stands in %d views", letter, n)
		}
	}
}
