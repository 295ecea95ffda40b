package quantity_test

import (
	"math"
	"strings"
	"testing"

	"swapworth/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestVectorsTakeAUnitOfTheirKind(t *testing.T) {
	var f quantity.ForceVector
	var m quantity.MomentVector
	var a quantity.AccelerationVector
	for _, c := range []struct {
		into interface{ Set(string) error }
		got  func() r3.Vec
		text string
		want r3.Vec
	}{
		{&f, func() r3.Vec { return r3.Vec(f) }, "10,0,-5 N", r3.Vec{X: 10, Z: -5}},
		{&f, func() r3.Vec { return r3.Vec(f) }, "10, 0, -5", r3.Vec{X: 10, Z: -5}},
		{&f, func() r3.Vec { return r3.Vec(f) }, "1,0,2 lbf", r3.Vec{X: 4.4482216152605, Z: 8.896443230521}},
		{&f, func() r3.Vec { return r3.Vec(f) }, "1kN,0N,5N", r3.Vec{X: 1000, Z: 5}},
		{&m, func() r3.Vec { return r3.Vec(m) }, "0,0,2 N m", r3.Vec{Z: 2000}},
		{&m, func() r3.Vec { return r3.Vec(m) }, "0,1,0 lbf in", r3.Vec{Y: 112.9848290276}},
		{&a, func() r3.Vec { return r3.Vec(a) }, "20,0,0 m/s2", r3.Vec{X: 20}},
		{&a, func() r3.Vec { return r3.Vec(a) }, "0,0,1g", r3.Vec{Z: 9.80665}},
		{&a, func() r3.Vec { return r3.Vec(a) }, "0,0,500 mm/s²", r3.Vec{Z: 0.5}},
	} {
		if err := c.into.Set(c.text); err != nil || r3.Norm(r3.Sub(c.got(), c.want)) > 1e-9*math.Max(1, r3.Norm(c.want)) {
			t.Errorf("%q: %v, %v; want %v", c.text, c.got(), err, c.want)
		}
		before := c.got()
		for _, bad := range []string{"", "1,2", "1,2,3,4", "1,2,3 mm", "x,0,0 N", "1,,2", "1e999,0,0", "NaN,0,0"} {
			if err := c.into.Set(bad); err == nil || !strings.Contains(err.Error(), "along x, y and z such as") || c.got() != before {
				t.Errorf("%q: %v, left %v", bad, err, c.got())
			}
		}
	}
	text, _ := f.MarshalText()
	var back quantity.ForceVector
	if err := back.UnmarshalText(text); err != nil || back != f {
		t.Errorf("%s read back as %v: %v", text, back, err)
	}
}
