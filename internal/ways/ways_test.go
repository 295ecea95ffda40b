package ways

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func leaning(rad float64) r3.Vec { s, c := math.Sincos(rad); return r3.Vec{X: s, Z: c} }

func TestDirectionsCountAsOneUpToTheRoundingOfASmallFace(t *testing.T) {
	// a face 1/1000 as long as it is far from the origin, its ends a rounding off
	noise := 1000 * 0x1p-24
	z := r3.Vec{Z: 1}
	if !One(z, leaning(noise)) || One(z, leaning(2e-4)) {
		t.Error("rounding parts a direction, or two that differ by 0.01 degrees are one")
	}
	x := r3.Vec{X: 1}
	if !Across(x, leaning(noise)) || Across(x, leaning(2e-4)) {
		t.Error("rounding parts a right angle, or 0.01 degrees off counts as one")
	}
	all := []Way{{z, 5}, {leaning(noise), 3}, {leaning(2e-4), 1}}
	if area := Along(all, [3]r3.Vec{x, {Y: 1}, z}); area != 8 {
		t.Errorf("%g mm2 lie along the axes, want 8", area)
	}
}

func TestAxesKeepTheNameOfTheFilesAxisThatIsNearest(t *testing.T) {
	s, c := math.Sincos(0.3)
	got := Named([3]r3.Vec{{Z: -1}, {X: -s, Y: c}, {X: c, Y: s}})
	want := [3]r3.Vec{{X: c, Y: s}, {X: -s, Y: c}, {Z: 1}}
	for k := range got {
		if r3.Norm(r3.Sub(got[k], want[k])) > 1e-12 {
			t.Errorf("axis %d is %v, want %v", k, got[k], want[k])
		}
	}
	// at 45 degrees two orders are equal but for rounding, which must not decide
	var first [3]r3.Vec
	for i, off := range []float64{-1e-12, 0, 1e-12} {
		s, c := math.Sincos(math.Pi/4 + off)
		got := Named([3]r3.Vec{{X: c, Y: s}, {X: -s, Y: c}, {Z: 1}})
		if i == 0 {
			first = got
		}
		for k := range got {
			if r3.Norm(r3.Sub(got[k], first[k])) > 1e-6 {
				t.Errorf("%g rad past 45 degrees the axes are %v, before %v", off, got, first)
			}
		}
	}
}
