package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// irregular draws a pattern whose holes keep 12 mm from each other.
func irregular(t *rapid.T, n int) []hole {
	var out []hole
	for len(out) < n {
		h := hole{
			x: rapid.Float64Range(8, 112).Draw(t, "x"), y: rapid.Float64Range(8, 72).Draw(t, "y"),
			d: rapid.SampledFrom([]float64{3.4, 4.5, 5.5, 6.6}).Draw(t, "d"),
		}
		clear := true
		for _, o := range out {
			clear = clear && math.Hypot(h.x-o.x, h.y-o.y) > 12
		}
		if clear {
			out = append(out, h)
		}
	}
	return out
}

func TestOneChangedHoleAmongManyIsTheOneReported(t *testing.T) {
	property.Few(t, 15, func(t *rapid.T) {
		n := rapid.IntRange(5, 12).Draw(t, "holes")
		before := irregular(t, n)
		after := append([]hole{}, before...)
		k := rapid.IntRange(0, n-1).Draw(t, "changed")
		change := rapid.SampledFrom([]string{"none", "moved", "resized", "missing"}).Draw(t, "change")
		amount := rapid.Float64Range(0.2, 3).Draw(t, "amount")
		switch change {
		case "moved":
			after[k].x += 0.6 * amount
			after[k].y += 0.8 * amount
		case "resized":
			after[k].d += amount / 2
		case "missing":
			after = append(after[:k], after[k+1:]...)
		}
		outer := box(0, 0, 120, 80)
		build := func(holes []hole, thick float64) *mesh.Mesh {
			m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0),
				cut.Layer{Region: region(outer, holes...), Thickness: thick},
				cut.Layer{Region: region(box(1, 2, 3, 70)), Thickness: 8})
			if err != nil {
				t.Fatal(err)
			}
			return m
		}
		r := Compare(build(before, 5), moved(t, build(after, 6)), Options{})
		if r.OK != (change == "none") {
			t.Fatalf("%s by %g: ok %v, %q", change, amount, r.OK, r.Findings)
		}
		want := len(before)
		if change == "missing" {
			want--
		}
		if len(r.Pairs) != want {
			t.Fatalf("%s: %d pairs, want %d: %q", change, len(r.Pairs), want, r.Findings)
		}
		changed := 0
		for _, p := range r.Pairs {
			switch {
			case change == "moved" && math.Abs(p.Moved-amount) < 0.02, change == "resized" && math.Abs(p.DiameterChange-amount/2) < 0.02:
				changed++
			case p.Moved > 0.02 || math.Abs(p.DiameterChange) > 0.02:
				t.Fatalf("%s: %+v", change, p)
			}
		}
		if (change == "moved" || change == "resized") && changed != 1 {
			t.Fatalf("%s by %g: %d pairs say so", change, amount, changed)
		}
	})
}

// bracket has holes along x and z, so that its pattern fixes the frame alone.
func TestHolesThatAreNotParallelFixTheFrame(t *testing.T) {
	plate := func(x float64) *mesh.Mesh {
		foot, err := cut.Extrude(region(box(0, 0, 60, 40), hole{20, 12, 5.5}, hole{45, 30, 6.6}), mesh.AxisPlane(mesh.Z, 0), 6)
		if err != nil {
			t.Fatal(err)
		}
		wall, err := cut.Extrude(region(box(0, 10, 40, 50), hole{12, 20, 4.5}, hole{x, 40, 4.5}), mesh.AxisPlane(mesh.X, -6), 6)
		if err != nil {
			t.Fatal(err)
		}
		return mesh.Merge(foot, wall)
	}
	property.Few(t, 8, func(t *rapid.T) {
		r := Compare(plate(30), moved(t, plate(31)), Options{})
		if r.OK || len(r.Pairs) != 4 {
			t.Fatalf("ok %v, %d pairs, %q", r.OK, len(r.Pairs), r.Findings)
		}
		most := 0.0
		for _, p := range r.Pairs {
			most = max(most, p.Moved)
		}
		if math.Abs(most-1) > 0.01 {
			t.Fatalf("moved %+v, drawn 1 mm", r.Pairs)
		}
	})
}

func TestAPartWithOneHole(t *testing.T) {
	m := plate(t, 5, hole{20, 20, 8})
	if r := Compare(m, plate(t, 5, hole{20.5, 20, 8}), Options{}); r.OK || len(r.Pairs) != 1 || math.Abs(r.Pairs[0].Moved-0.5) > 1e-3 {
		t.Errorf("%v %+v %q", r.OK, r.Pairs, r.Findings)
	}
	if r := Compare(m, m.Transformed(mesh.Translation(r3.Vec{X: 30, Y: 40})), Options{}); !r.OK || len(r.Pairs) != 1 {
		t.Errorf("%v %+v %q", r.OK, r.Pairs, r.Findings)
	}
}
