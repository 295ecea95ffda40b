package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
)

// sided reports whether the two ends of a hole differ.
func sided(h feature.Hole) bool { return h.Kind != feature.Through }

func angle(t mesh.Transform) float64 {
	r := t.Rotation
	return math.Acos(max(-1, min(1, (r[0][0]+r[1][1]+r[2][2]-1)/2)))
}

// tally counts matched holes; one whose mouth is on the wrong side is worth nothing.
func tally(old, moved []feature.Hole, within float64) (matched, worth int) {
	for _, p := range pairUp(old, moved, within) {
		a, b := old[p.old], moved[p.new]
		matched++
		if !(sided(a) && sided(b) && r3.Dot(a.Axis, b.Axis) < 0) {
			worth++
		}
	}
	return matched, worth
}

// triad returns right-handed unit vectors: a, b made normal to a, and a x b.
func triad(a, b r3.Vec) [3]r3.Vec {
	b = r3.Unit(r3.Sub(b, r3.Scale(r3.Dot(a, b), a)))
	return [3]r3.Vec{a, b, r3.Cross(a, b)}
}

// motion returns the rigid motion that turns one triad into another and takes
// one point to another.
func motion(from, to [3]r3.Vec, point, goes r3.Vec) mesh.Transform {
	var t mesh.Transform
	for k := range 3 {
		f := [3]float64{from[k].X, from[k].Y, from[k].Z}
		g := [3]float64{to[k].X, to[k].Y, to[k].Z}
		for i := range 3 {
			for j := range 3 {
				t.Rotation[i][j] += g[i] * f[j]
			}
		}
	}
	t.Shift = r3.Sub(goes, t.Turn(point))
	return t
}

// hand says whether a motion keeps a part as it is or sees it in a mirror.
type hand float64

const (
	rigid hand = 1
	image hand = -1
)

// of gives a triad the hand.
func (h hand) of(t [3]r3.Vec) [3]r3.Vec {
	t[2] = r3.Scale(float64(h), t[2])
	return t
}

const (
	// unturned is the turn in degrees below which a motion is told as a shift: 0.002 mm
	// in 100 mm, a tenth of coincide.
	unturned = 1e-3
	// halfTurn is twice the sine of a turn below which its axis is lost in rounding.
	halfTurn = 1e-6
)

// motionText says what a motion does in words.
func motionText(t mesh.Transform) string {
	far := r3.Norm(t.Shift)
	turn := angle(t) * 180 / math.Pi
	if turn < unturned {
		return fmt.Sprintf("shifted by %s mm", place(t.Shift))
	}
	r := t.Rotation
	axis := r3.Vec{X: r[2][1] - r[1][2], Y: r[0][2] - r[2][0], Z: r[1][0] - r[0][1]}
	if r3.Norm(axis) < halfTurn { // the axis is what it keeps
		for _, e := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
			if kept := r3.Add(e, t.Turn(e)); r3.Norm(kept) > r3.Norm(axis) {
				axis = kept
			}
		}
	}
	text := fmt.Sprintf("turned by %s degrees about %s", number(turn), nameOf(r3.Unit(axis)))
	if far > coincide {
		text += fmt.Sprintf(" and shifted by %s mm", place(t.Shift))
	}
	return text
}
