package feature

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

func TestAPartThatLiesAskewGetsItsOwnAxes(t *testing.T) {
	bar := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	for _, motion := range []mesh.Transform{
		mesh.RotationAbout(r3.Vec{Z: 1}, 0.4),
		mesh.RotationAbout(r3.Vec{X: 1, Y: 2, Z: -1}, 0.3),
		mesh.Translation(r3.Vec{X: 500}).Compose(mesh.RotationAbout(r3.Vec{Y: 1}, -0.6)),
	} {
		m := bar.Transformed(motion)
		turn, askew := Find(m).OwnFrame(m)
		if !askew {
			t.Fatalf("a bar turned by %v is not called askew", motion.Rotation)
		}
		straight := m.Transformed(turn)
		if size := straight.Bounds().Size(); r3.Norm(r3.Sub(size, r3.Vec{X: 100, Y: 20, Z: 5})) > 1e-9 {
			t.Errorf("straightened, its box is %v", size)
		}
		if c := r3.Sub(straight.Bounds().Center(), m.Bounds().Center()); r3.Norm(c) > 1e-9 {
			t.Errorf("its middle moved by %v", c)
		}
	}
}

// A round bar has no flat sides: its axis alone says how it lies.
func TestARoundBarThatLiesAskewIsStraightened(t *testing.T) {
	for _, chords := range []int{12, 64, 200} {
		var ring []r2.Vec
		for k := range chords {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(chords))
			ring = append(ring, r2.Vec{X: 5 * cos, Y: 5 * sin})
		}
		bar, err := cut.Extrude(cut.Region{{Outer: ring}}, mesh.AxisPlane(mesh.X, 0), 120)
		if err != nil {
			t.Fatal(err)
		}
		m := bar.Transformed(mesh.RotationAbout(r3.Vec{X: 0.2, Y: 1, Z: 0.5}, 0.5))
		turn, askew := Find(m).OwnFrame(m)
		if size := m.Transformed(turn).Bounds().Size(); !askew || math.Abs(size.X-120) > 1e-6 {
			t.Errorf("%d chords: askew %v, straightened it is %v", chords, askew, size)
		}
	}
}

// Parts that follow the file stay, also where some of their walls slant.
func TestAPartDrawnAlongTheFileStays(t *testing.T) {
	bent := cut.Region{{Outer: []r2.Vec{{}, {X: 60}, {X: 103.3, Y: 25}, {X: 98.3, Y: 33.66}, {X: 57.3, Y: 10}, {Y: 10}}}}
	taper := cut.Region{{Outer: []r2.Vec{{}, {X: 100, Y: 5}, {X: 100, Y: 15}, {Y: 20}}}}
	vee := cut.Region{{Outer: []r2.Vec{{}, {X: 30, Y: 30}, {X: 27, Y: 33}, {Y: 6}, {X: -27, Y: 33}, {X: -30, Y: 30}}}}
	for name, region := range map[string]cut.Region{"a bent bar": bent, "a taper": taper, "a vee": vee} {
		m, err := cut.Extrude(region, mesh.AxisPlane(mesh.Z, 0), 8)
		if err != nil {
			t.Fatal(err)
		}
		if turn, askew := Find(m).OwnFrame(m); askew {
			t.Errorf("%s was turned by %v", name, turn.Rotation)
		}
	}
}
