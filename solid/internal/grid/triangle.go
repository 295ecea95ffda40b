package grid

import "math"

// AreaOf returns the area of a triangle.
func AreaOf(t [3][3]float64) float64 {
	n := crossOf(t)
	return math.Sqrt(n[0]*n[0]+n[1]*n[1]+n[2]*n[2]) / 2
}

func crossOf(t [3][3]float64) [3]float64 {
	var u, v [3]float64
	for a := range 3 {
		u[a], v[a] = t[1][a]-t[0][a], t[2][a]-t[0][a]
	}
	return [3]float64{u[1]*v[2] - u[2]*v[1], u[2]*v[0] - u[0]*v[2], u[0]*v[1] - u[1]*v[0]}
}

// NormalOf returns the unit normal of a triangle.
func NormalOf(t [3][3]float64) [3]float64 {
	n := crossOf(t)
	l := math.Sqrt(n[0]*n[0] + n[1]*n[1] + n[2]*n[2])
	if l == 0 {
		return n
	}
	return [3]float64{n[0] / l, n[1] / l, n[2] / l}
}

// PolygonArea returns the area of a flat convex polygon.
func PolygonArea(poly [][3]float64) (area float64) {
	for i := 2; i < len(poly); i++ {
		area += AreaOf([3][3]float64{poly[0], poly[i-1], poly[i]})
	}
	return
}
