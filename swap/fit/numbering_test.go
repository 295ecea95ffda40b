package fit

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

func TestAGapThatLeavesHoleNumbersOpenIsAFinding(t *testing.T) {
	plate := func(apart float64) *mesh.Mesh {
		p := cut.Polygon{Outer: []r2.Vec{{}, {X: 60}, {X: 60, Y: 60}, {Y: 60}}}
		for _, c := range []r2.Vec{{X: 30, Y: 50}, {X: 30 + apart, Y: 10}} {
			var loop []r2.Vec
			for k := range 32 {
				sin, cos := math.Sincos(-2 * math.Pi * float64(k) / 32)
				loop = append(loop, r2.Vec{X: c.X + 3*cos, Y: c.Y + 3*sin})
			}
			p.Holes = append(p.Holes, loop)
		}
		m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{p}, Thickness: 5})
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	for apart, said := range map[float64]bool{0.095: true, 0.02: false, 5: false} {
		r := Compare(plate(apart), plate(apart), Options{})
		if got := strings.Contains(strings.Join(r.Findings, "\n"), "old part: holes 1 and 2 differ by"); got != said {
			t.Errorf("%g mm apart: said %v in %q", apart, got, r.Findings)
		}
		if !r.OK {
			t.Errorf("%g mm apart: the part does not fit itself: %q", apart, r.Blocking)
		}
	}
}
