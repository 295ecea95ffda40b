package section

import "math"

var round = family{
	name: "round", sizes: "DIAMETER", example: "round 12mm",
	also:    []string{"roundbar", "rod", "circle", "shaft", "disc"},
	letters: []string{"d"},
	outline: func(d []float64, _ float64) ([]path, error) {
		return []path{circle(d[0]/2, d[0]/2, d[0]/2, 1)}, nil
	},
	bar: func(d []float64, v float64) barForm { return roundBar(d[0], 0, v) },
}

var tube = family{
	name: "tube", sizes: "DIAMETERxWALL", example: "tube 20x2mm",
	also:    []string{"roundtube", "pipe", "chs"},
	letters: []string{"d", "t s"},
	outline: func(d []float64, _ float64) ([]path, error) {
		r := d[0] / 2
		return []path{circle(r, r, r, 1), circle(r, r, r-d[1], -1)}, fits(r-d[1], r-d[1], 0, 0)
	},
	bar: func(d []float64, v float64) barForm { return roundBar(d[0], d[0]-2*d[1], v) },
}

// roundBar is exact: J = pi (D^4-d^4)/32, the largest stress at the outside.
func roundBar(outer, inner, v float64) barForm {
	j := math.Pi / 32 * (fourth(outer) - fourth(inner))
	return barForm{j: j, modulus: 2 * j / outer, shear: cowperTube(v, inner/outer)}
}

// cowperTube is the shear coefficient of a round tube with m = inner over outer
// diameter; m = 0 is the solid round 6(1+v)/(7+6v): Cowper, J. Appl. Mech. 33
// (1966) 335.
func cowperTube(v, m float64) float64 {
	q := (1 + m*m) * (1 + m*m)
	return 6 * (1 + v) * q / ((7+6*v)*q + (20+12*v)*m*m)
}
