package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

func TestABulgeIntoAHollowOfTheOldOutlineIsSeen(t *testing.T) {
	holes := []hole{{10, 10, 5.5}, {90, 10, 5.5}, {10, 50, 4.5}}
	// an L: 100 x 60 less the corner from (40, 30); the new one fills 12 mm of it
	l := func(x float64) *mesh.Mesh {
		return stack(t, cut.Layer{Thickness: 5, Region: region([]r2.Vec{
			{}, {X: 100}, {X: 100, Y: 30}, {X: x, Y: 30}, {X: x, Y: 60}, {Y: 60}}, holes...)})
	}
	r := Compare(l(40), l(52), Options{})
	if !r.OK {
		t.Errorf("%q", r.Blocking)
	}
	if math.Abs(r.Envelope.Outline.Beyond-12) > 1e-6 {
		t.Errorf("stands out by %g mm, drawn 12", r.Envelope.Outline.Beyond)
	}
	wantFinding(t, r, "the outline grew", "12 mm", "(52, 60")
	if back := Compare(l(52), l(40), Options{}); back.Envelope.Outline.Beyond != 0 {
		t.Errorf("the smaller part stands out by %g mm", back.Envelope.Outline.Beyond)
	}
}
