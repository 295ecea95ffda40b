package section

import "math"

// The hexagon has its corners left and right; its lowest and highest sides are
// level.
var hexagon = family{
	name: "hexagon", sizes: "WIDTH ACROSS FLATS", example: "hexagon 17mm",
	also:    []string{"hex", "hexagonal", "hexbar"},
	letters: []string{"s af"},
	outline: func(d []float64, _ float64) ([]path, error) {
		half, side := d[0]/2, d[0]/math.Sqrt(3)
		return []path{polygon(2*side, half, 1.5*side, 2*half, side/2, 2*half, 0, half, side/2, 0, 1.5*side, 0)}, nil
	},
}
