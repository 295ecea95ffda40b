package solid

import (
	"fmt"
	"math"

	"swapworth/internal/vector"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// pulled is the share of all that loads the part above which a hold that is
// pulled off its seat is worth a word: below it lies what a clamped rim presses
// and pulls by itself.
const pulled = 0.05

// reaction returns the force of the supports on the part along the grid axes,
// N, for displacements u under nodal forces f, and how far forces and moments
// are from balance: the larger of |sum of forces| / load and |sum of moments| /
// (load x length of the box).
func (s *system) reaction(f, u []float64, load float64) (r [3]float64, imbalance float64) {
	outer := make([]float64, len(u)) // every outer force on the part, by entry
	copy(outer, f)
	s.eachHoldForce(f, u, func(_, entry int, force float64) {
		outer[entry] += force
		r[entry%3] += force
	})
	var sum, moment [3]float64
	length := 0.0
	for a := range 3 {
		l := s.c.Lines[a]
		length = max(length, l[len(l)-1]-l[0])
	}
	for t := range s.Nodes() {
		v := [3]float64(outer[s.Entry(t):])
		m := vector.Cross(s.Place(t), v)
		for a := range 3 {
			sum[a] += v[a]
			moment[a] += m[a]
		}
	}
	return r, math.Max(vector.Norm(sum)/load, vector.Norm(moment)/(load*length))
}

// eachHoldForce calls visit with the forces of the supports on the part: which
// hold, at which entry of a vector, N. A node that two holds share counts with
// the first.
func (s *system) eachHoldForce(f, u []float64, visit func(hold, entry int, force float64)) {
	q := make([]float64, len(u))
	s.ApplyAll(u, q)
	owner := map[int]int{}
	for n, h := range s.holds {
		for node, dirs := range h.Nodes {
			start := s.EntryAt(node[0], node[1], node[2])
			for a, yes := range dirs {
				entry := start + a
				if _, taken := owner[entry]; yes && !taken {
					owner[entry] = n
				}
			}
		}
	}
	for _, e := range s.Fixed {
		visit(owner[int(e)], int(e), q[e]-f[e])
	}
	for n, h := range s.holds {
		s.eachSpring(h.Extra, u, func(entry int, force float64) { visit(n, entry, -force) })
	}
}

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

// eachSpring calls visit with the forces that springs take, by entry of a vector.
// Cells are worked through in rising order.
func (s *system) eachSpring(extra map[int]*brick.Element, u []float64, visit func(entry int, force float64)) {
	c := s.c
	for _, cell := range region.SortedCells(extra) {
		if c.Of[cell] == grid.Void {
			continue
		}
		x := extra[cell]
		i, j, k := cell/(c.Count(1)*c.Count(2)), cell/c.Count(2)%c.Count(1), cell%c.Count(2)
		var at [brick.DOF]int
		for v := range brick.Corners {
			p := s.EntryAt(i+v>>2, j+v>>1&1, k+v&1)
			at[3*v], at[3*v+1], at[3*v+2] = p, p+1, p+2
		}
		for row := range brick.DOF {
			force := 0.0
			for col := range brick.DOF {
				force += x[row*brick.DOF+col] * u[at[col]]
			}
			if force != 0 {
				visit(at[row], force)
			}
		}
	}
}
