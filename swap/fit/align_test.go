package fit

import (
	"math"
	"strings"
	"testing"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Two holes that differ by a millimetre, on a plate so large that their walls are
// nothing of its surface.
func TestTheSizesOfHolesTellWhichWayRound(t *testing.T) {
	p := plan{length: 400, width: 300, thick: 2, holes: []hole{{50, 150, 5.5}, {350, 150, 6.6}}}
	lighter := p.with(box2(180, 130, 220, 170))
	about := mesh.Translation(r3.Vec{X: 407, Y: 300}).Compose(mesh.RotationAbout(r3.Vec{Z: 1}, math.Pi))
	r := Compare(p.mesh(t, 24), lighter.mesh(t, 24).Transformed(about), Options{})
	if !r.OK {
		t.Errorf("%q", r.Blocking)
	}
}

// box2 is a clockwise rectangle.
func box2(x0, y0, x1, y1 float64) []r2.Vec { return reversed(box(x0, y0, x1, y1)) }

// Every hole one size larger: the pattern still tells how the part lies.
func TestEveryHoleResizedInATurnedPart(t *testing.T) {
	old, new := plain(), plain()
	new.holes = nil
	for _, h := range pattern {
		new.holes = append(new.holes, hole{h.x, h.y, h.d + 1.1})
	}
	new = new.with(box2(20, 5, 70, 30))
	r := Compare(old.mesh(t, 24), new.mesh(t, 24).Transformed(turn()), Options{})
	if r.Frame.Method != HolePattern || len(r.Blocking) != len(pattern) {
		t.Errorf("%s: %q", r.Frame.Method, r.Blocking)
	}
	for _, f := range r.Blocking {
		if !strings.Contains(f, "resized") && !strings.Contains(f, "fit is lost") {
			t.Error(f)
		}
	}
}

// Holes that are parallel do not tell how far along them a part lies: its faces do.
func TestALighterPartMovedAlongItsHoles(t *testing.T) {
	old := plain().mesh(t, 24)
	new := plain().with(box2(40, 15, 60, 30)).mesh(t, 24)
	r := Compare(old, new.Transformed(mesh.Translation(r3.Vec{Z: 3})), Options{})
	if r.Frame.Method != HolePattern || !r.OK {
		t.Errorf("%s: %q", r.Frame.Method, r.Findings)
	}
	if at := r.Motion().Shift.Z; math.Abs(at+3) > 1e-6 {
		t.Errorf("shifted back by %g mm, moved by 3", at)
	}
	if r = Compare(old, new, Options{}); r.Frame.Method != Given {
		t.Errorf("where it lay: %s", r.Frame.Method)
	}
}
