package solid

import "swapworth/solid/internal/brick"

// masses returns the mass at each entry of a vector in g: that of the material,
// of density in kg/m3, shared among the corners of its cell by their shape
// functions. A corner that the material in a cut cell leaves a share below zero
// gets none.
func (s *system) masses(density float64) []float64 {
	out := make([]float64, s.Length())
	s.eachShare(density, func(p int, mass float64) {
		for a := range 3 {
			out[p+a] += max(mass, 0)
		}
	})
	return out
}

// eachShare calls visit with the integral of density and shape function, g, for
// each corner of each cell, and where the corner's entries of a vector start.
func (s *system) eachShare(density float64, visit func(p int, mass float64)) {
	c := s.c
	c.EachActive(func(i, j, k, cell int) {
		kd := &c.Kinds[c.Of[cell]]
		mass := density * 1e-6 * kd.Edge[0] * kd.Edge[1] * kd.Edge[2]
		for v := range brick.Corners {
			share := 0.0
			for n := range 8 { // the product of (1 + sign x)/2 over the axes
				term := kd.Moments[9*(n>>2)+3*(n>>1&1)+n&1] / 8
				for a := range 3 {
					if n>>(2-a)&1 == 1 {
						term *= brick.Sign(v, a)
					}
				}
				share += term
			}
			visit(s.EntryAt(i+v>>2, j+v>>1&1, k+v&1), mass*share)
		}
	})
}
