package section

import "math"

// sum adds the terms of a series over odd n, whose terms fall so fast that a
// hundred leave out less than rounding.
func sum(term func(n float64) float64) (s float64) {
	for n := 1.0; n < 200; n += 2 {
		s += term(n)
	}
	return s
}

func fourth(x float64) float64 { return math.Pow(x, 4) }
