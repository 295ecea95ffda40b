package solid

import (
	"math"

	"swapworth/internal/vector"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

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
