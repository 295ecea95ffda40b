package multigrid

import "math"

// InvertBlock sets inv to the inverse of the symmetric positive definite block
// a, both n x n by rows, n at most 6; a zero diagonal entry stands for a fixed number and
// gives a zero row.
func InvertBlock(a, inv []float64, n int) {
	var l, w [rigid][rigid]float64
	for i := range n {
		for j := range i + 1 {
			v := a[i*n+j]
			for k := range j {
				v -= l[i][k] * l[j][k]
			}
			switch {
			case i != j && l[j][j] > 0:
				l[i][j] = v / l[j][j]
			case i == j && v > 1e-13*a[i*n+i]:
				l[i][i] = math.Sqrt(v)
			}
		}
	}
	for c := range n { // columns of L^-1
		if l[c][c] == 0 {
			continue
		}
		w[c][c] = 1 / l[c][c]
		for i := c + 1; i < n; i++ {
			if l[i][i] == 0 {
				continue
			}
			v := 0.0
			for k := c; k < i; k++ {
				v -= l[i][k] * w[k][c]
			}
			w[i][c] = v / l[i][i]
		}
	}
	for i := range n {
		for j := range n {
			v := 0.0
			for k := max(i, j); k < n; k++ {
				v += w[k][i] * w[k][j]
			}
			inv[i*n+j] = v
		}
	}
}

// row is one block row of a level's matrix.
type row struct {
	col   []int32
	block []float64 // bs x bs each, row-major
}

// slot returns the block of the row for column j, a new one if needed.
func (r *row) slot(j int32, size int) []float64 {
	for s, c := range r.col {
		if c == j {
			return r.block[s*size : (s+1)*size]
		}
	}
	r.col = append(r.col, j)
	for range size {
		r.block = append(r.block, 0)
	}
	return r.block[len(r.block)-size:]
}

// addTransposed adds p^T b to out; p and b are bs x 6, out 6 x 6.
func addTransposed(out, p, b []float64, bs int) {
	for k := range bs {
		v := (*[rigid]float64)(b[k*rigid:])
		for i := range rigid {
			s := p[k*rigid+i]
			o := (*[rigid]float64)(out[i*rigid:])
			o[0] += s * v[0]
			o[1] += s * v[1]
			o[2] += s * v[2]
			o[3] += s * v[3]
			o[4] += s * v[4]
			o[5] += s * v[5]
		}
	}
}

// addProduct adds a b to out; a is bs x bs, b and out bs x 6.
func addProduct(out, a, b []float64, bs int) {
	for i := range bs {
		o := (*[rigid]float64)(out[i*rigid:])
		for k := range bs {
			s := a[i*bs+k]
			if s == 0 {
				continue
			}
			v := (*[rigid]float64)(b[k*rigid:])
			o[0] += s * v[0]
			o[1] += s * v[1]
			o[2] += s * v[2]
			o[3] += s * v[3]
			o[4] += s * v[4]
			o[5] += s * v[5]
		}
	}
}

// scaleBlock sets v = f d v; d is bs x bs, v bs x 6.
func scaleBlock(v, d []float64, f float64, bs int) {
	var t [rigid * rigid]float64
	for i := range bs {
		for c := range rigid {
			s := 0.0
			for k := range bs {
				s += d[i*bs+k] * v[k*rigid+c]
			}
			t[i*rigid+c] = f * s
		}
	}
	copy(v, t[:bs*rigid])
}
