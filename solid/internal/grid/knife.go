package grid

import "math"

// Knife cuts polygons along the planes of a grid.
type Knife struct {
	*Grid
	work [3][2][][3]float64 // by axis
}

// Slice splits a flat convex polygon along the grid planes of axis a and those after it,
// 0 for all of them. A piece is good until visit returns.
func (k *Knife) Slice(poly [][3]float64, a int, visit func([][3]float64)) {
	if a == 3 {
		visit(poly)
		return
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range poly {
		lo, hi = min(lo, p[a]), max(hi, p[a])
	}
	lines := k.Lines[a]
	tiny := 1e-9 * (lines[len(lines)-1] - lines[0])
	first, last := k.Find(a, lo+tiny), k.Find(a, hi-tiny)
	if first >= last {
		k.Slice(poly, a+1, visit)
		return
	}
	for i := first; i <= last; i++ {
		part := poly
		if i > first {
			k.work[a][0] = HalfSpace(k.work[a][0][:0], part, a, lines[i], 1)
			part = k.work[a][0]
		}
		if i < last {
			k.work[a][1] = HalfSpace(k.work[a][1][:0], part, a, lines[i+1], -1)
			part = k.work[a][1]
		}
		if len(part) >= 3 {
			k.Slice(part, a+1, visit)
		}
	}
}

// HalfSpace appends to out the part of a convex polygon with side*(x_a - at) >= 0
// (Sutherland and Hodgman, 1974).
func HalfSpace(out, poly [][3]float64, a int, at, side float64) [][3]float64 {
	for i, p := range poly {
		q := poly[(i+1)%len(poly)]
		dp, dq := side*(p[a]-at), side*(q[a]-at)
		if dp >= 0 {
			out = append(out, p)
		}
		if (dp > 0 && dq < 0) || (dp < 0 && dq > 0) {
			t := dp / (dp - dq)
			var x [3]float64
			for b := range 3 {
				x[b] = p[b] + t*(q[b]-p[b])
			}
			x[a] = at
			out = append(out, x)
		}
	}
	return out
}
