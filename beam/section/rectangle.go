package section

import "math"

var rectangle = family{
	name: "rect", sizes: "WIDTHxHEIGHT", example: "rect 40x4mm",
	also:    []string{"rectangle", "rectangular", "flat", "flatbar", "strip", "plate", "bar", "sheet", "rectbar"},
	letters: []string{"w b", "h t"},
	outline: func(d []float64, _ float64) ([]path, error) {
		return []path{polygon(0, 0, d[0], 0, d[0], d[1], 0, d[1])}, nil
	},
	bar: func(d []float64, v float64) barForm { return rectangleBar(d[0], d[1], v) },
}

var square = family{
	name: "square", sizes: "SIDE", example: "square 20mm",
	also:    []string{"squarebar"},
	letters: []string{"a s w"},
	short: func(d []float64) []float64 {
		if len(d) == 2 && d[0] == d[1] {
			return d[:1]
		}
		return nil
	},
	outline: func(d []float64, _ float64) ([]path, error) {
		return []path{polygon(0, 0, d[0], 0, d[0], d[0], 0, d[0])}, nil
	},
	bar: func(d []float64, v float64) barForm { return rectangleBar(d[0], d[0], v) },
}

func rectangleBar(a, b, v float64) barForm {
	j := rectangleJ(a, b)
	return barForm{j: j, modulus: j / rectangleSlope(a, b), shear: cowperRectangle(v), warps: true}
}

// rectangleJ is the torsion constant of a solid rectangle in mm4; Timoshenko and
// Goodier, Theory of Elasticity, torsion of a rectangular bar:
//
//	J = 1/3 a b^3 (1 - 192/pi^5 b/a sum over odd n of tanh(n pi a/2b)/n^5), a >= b.
func rectangleJ(a, b float64) float64 {
	a, b = max(a, b), min(a, b)
	s := sum(func(n float64) float64 { return math.Tanh(n*math.Pi*a/(2*b)) / math.Pow(n, 5) })
	return a * b * b * b / 3 * (1 - 192/math.Pow(math.Pi, 5)*b/a*s)
}

// rectangleSlope is the largest shear stress over G and the twist per length, in
// mm, in the middle of the longer side; from the same chapter:
//
//	b (1 - 8/pi^2 sum over odd n of 1/(n^2 cosh(n pi a/2b))), a >= b.
func rectangleSlope(a, b float64) float64 {
	a, b = max(a, b), min(a, b)
	s := sum(func(n float64) float64 { return 1 / (n * n * math.Cosh(n*math.Pi*a/(2*b))) })
	return b * (1 - 8/(math.Pi*math.Pi)*s)
}
