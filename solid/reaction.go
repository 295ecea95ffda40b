package solid

import "math"

// reaction returns the force of the supports on the part along the grid axes,
// N, for displacements u under nodal forces f, and how far forces and moments
// are from balance: the larger of |sum of forces| / load and |sum of moments| /
// (load x length of the box).
func (s *system) reaction(f, u []float64, load float64) (r [3]float64, imbalance float64) {
	q := make([]float64, len(u))
	s.op.applyAll(u, q)
	outer := make([]float64, len(u)) // every outer force on the part, by entry
	copy(outer, f)
	for _, e := range s.op.fixed {
		outer[e] += q[e] - f[e]
		r[int(e)%3] += q[e] - f[e]
	}
	s.eachSpring(u, func(entry int, force float64) {
		outer[entry] -= force
		r[entry%3] -= force
	})
	var sum, moment [3]float64
	length := 0.0
	for a := range 3 {
		l := s.c.lines[a]
		length = max(length, l[len(l)-1]-l[0])
	}
	for t, p := range s.op.pos {
		x := s.place(t)
		v := outer[3*p : 3*p+3]
		for a := range 3 {
			b, c := (a+1)%3, (a+2)%3
			sum[a] += v[a]
			moment[a] += x[b]*v[c] - x[c]*v[b]
		}
	}
	return r, math.Max(norm(sum)/load, norm(moment)/(load*length))
}

// eachSpring calls visit with the forces that the springs of supports take, by
// entry of a vector. Cells are worked through in rising order.
func (s *system) eachSpring(u []float64, visit func(entry int, force float64)) {
	c := s.c
	for _, cell := range sortedCells(s.op.extra) {
		x := s.op.extra[cell]
		i, j, k := cell/(c.cells(1)*c.cells(2)), cell/c.cells(2)%c.cells(1), cell%c.cells(2)
		var at [ndof]int
		for v := range shapes {
			p := 3 * int(s.op.storedAt(i+v>>2, j+v>>1&1, k+v&1))
			at[3*v], at[3*v+1], at[3*v+2] = p, p+1, p+2
		}
		for row := range ndof {
			force := 0.0
			for col := range ndof {
				force += x[row*ndof+col] * u[at[col]]
			}
			if force != 0 {
				visit(at[row], force)
			}
		}
	}
}
