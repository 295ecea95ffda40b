package fit

import (
	"math"
	"testing"

	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestATiltedHoleIsTold(t *testing.T) {
	for _, degrees := range []float64{0.05, 0.5} {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		o := feature.Hole{Number: 1, Kind: feature.Through, Open: true, Axis: r3.Vec{Z: 1}, Diameter: 5.5, Depth: 8}
		n := o
		n.Axis = r3.Vec{X: sin, Z: cos}
		c := &comparison{opt: Options{}.withDefaults(), old: &shape{body: body{holes: []feature.Hole{o}}},
			new: &laid{holes: []feature.Hole{n}}, told: map[string]bool{}}
		c.pair(match{})
		if told := len(c.found) == 1 && c.found[0].Blocks && math.Abs(*c.found[0].New-degrees) < 1e-6; told != (degrees > axisTilt) {
			t.Errorf("%g degrees: %+v", degrees, c.found)
		}
	}
}

func TestOtherUnitsAreToldByTheirRatio(t *testing.T) {
	scaled := func(x, y, z float64) Part {
		m := plain().mesh(t, 12)
		for i, v := range m.Vertices {
			m.Vertices[i] = r3.Vec{X: x * v.X, Y: y * v.Y, Z: z * v.Z}
		}
		return Part{m, feature.Find(m)}
	}
	old := newShape(scaled(1, 1, 1))
	for _, c := range []struct {
		x, y, z float64
		unit    bool
	}{
		{2.54, 2.54, 2.54, true}, {1 / 2.54, 1 / 2.54, 1 / 2.54, true}, {2.7, 2.7, 2.7, false}, {2.54, 2.54, 3, false},
		{9, 9, 2, true}, {7, 7, 1, false}, {10, 10, 10.1, true},
	} {
		if f := unitFinding(old, newShape(scaled(c.x, c.y, c.z))); (f != nil) != c.unit {
			t.Errorf("%g x %g x %g times: %+v", c.x, c.y, c.z, f)
		}
	}
}
