package solid

import (
	"fmt"
	"math"

	"swapworth/solid/internal/grid"
)

// pulled is the share of all that loads the part above which a hold that is
// pulled off its seat is worth a word: below it lies what a clamped rim presses
// and pulls by itself.
const pulled = 0.05

// reactions returns what each hold does to the part, with moments about the
// centres of the holds, for a solution times a number.
func (c *check) reactions(sys *system, s *solution, by float64) []Reaction {
	out := make([]Reaction, len(c.hold))
	centre := make([][3]float64, len(c.hold))
	seat := make([][3]float64, len(c.hold))
	force, moment := make([][3]float64, len(c.hold)), make([][3]float64, len(c.hold))
	for n := range c.hold {
		centre[n], seat[n] = c.holdCentre(sys, n), c.seatNormal(n)
	}
	sys.eachHoldForce(s.f, s.u, func(n, entry int, v float64) {
		a := entry % 3
		v *= by
		force[n][a] += v
		if at := sys.NodeOf(entry); at >= 0 {
			x := sys.Place(at)
			b, d := (a+1)%3, (a+2)%3
			moment[n][b] += (x[d] - centre[n][d]) * v
			moment[n][d] -= (x[b] - centre[n][b]) * v
		}
		out[n].Pull += max(seat[n][a]*v, 0)
	})
	for n, s := range c.p.Supports {
		x := c.f.point(centre[n])
		out[n].Place, out[n].Centre = s.Place.String(), [3]float64{x.X, x.Y, x.Z}
		out[n].Force = c.f.outArray(force[n])
		m := c.f.outAxial(moment[n])
		out[n].Moment = [3]float64{m.X, m.Y, m.Z}
	}
	return out
}

// holdCentre is the centre of what hold n holds, in the grid's axes.
func (c *check) holdCentre(sys *system, n int) [3]float64 {
	if p := c.points[n]; p != nil {
		return *p
	}
	if e, err := c.hold[n].Extent(sys.c, c.s); err == nil {
		return e.Centre
	}
	r := c.hold[n].Box // a section held in one plane has no volume
	return [3]float64{(r[0][0] + r[1][0]) / 2, (r[0][1] + r[1][1]) / 2, (r[0][2] + r[1][2]) / 2}
}

// seatNormal is the normal of a hold that is a flat seat along a grid axis; zero
// for what a bolt, a bore or a clamped end holds, and for a seat at a slant.
func (c *check) seatNormal(n int) (normal [3]float64) {
	if c.p.Supports[n].Place.kind != flatFace || len(c.hold[n].Faces) == 0 {
		return
	}
	first := grid.NormalOf(c.hold[n].Faces[0])
	for a, v := range first {
		if math.Abs(v) > 1-1e-6 {
			normal[a] = v
		}
	}
	return
}

// cautionPull says which seats the part is pulled off, for no contact is
// modelled: a seat alone can only push.
func (c *check) cautionPull(r CaseResult, of string) {
	for _, h := range r.Reactions {
		if h.Pull > pulled*r.gross {
			c.warn(fmt.Sprintf("the part%s is pulled off its seat at %s with %.3g N, as if it were glued; something else must hold it there, such as a bolt", of, h.Place, h.Pull))
		}
	}
}
