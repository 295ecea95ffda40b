package multigrid

import "swapworth/internal/parallel"

// chunk is the number of vector entries whose sum is formed by one goroutine.
// It is fixed, so that a sum does not depend on the number of cores.
const chunk = 6144

// Dot returns the sum of x[i] y[i]. Its rounding is the same on any number of
// cores.
func Dot(x, y []float64) float64 {
	part := make([]float64, (len(x)+chunk-1)/chunk)
	parallel.Blocks(len(x), chunk, func(lo, hi int) {
		a, b := x[lo:hi], y[lo:hi]
		b = b[:len(a)]
		var s0, s1 float64
		i := 0
		for ; i+1 < len(a); i += 2 {
			s0 += a[i] * b[i]
			s1 += a[i+1] * b[i+1]
		}
		if i < len(a) {
			s0 += a[i] * b[i]
		}
		part[lo/chunk] = s0 + s1
	})
	sum := 0.0
	for _, s := range part {
		sum += s
	}
	return sum
}

// Axpy adds a x to y; both have the same length.
func Axpy(a float64, x, y []float64) {
	parallel.Blocks(len(x), chunk, func(lo, hi int) {
		u, v := x[lo:hi], y[lo:hi]
		v = v[:len(u)]
		for i, w := range u {
			v[i] += a * w
		}
	})
}

// ScaleAdd sets y to x + a y.
func ScaleAdd(a float64, x, y []float64) {
	parallel.Blocks(len(x), chunk, func(lo, hi int) {
		u, v := x[lo:hi], y[lo:hi]
		v = v[:len(u)]
		for i, w := range u {
			v[i] = w + a*v[i]
		}
	})
}
