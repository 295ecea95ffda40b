package multigrid

// plainRows is rows for processors that work on one number at a time.
func (op *operator) plainRows(x, y []float64, lo, hi int) {
	for t := lo; t < hi; t++ {
		st := op.stencil[int(op.sid[t])*StencilLength:]
		stencilRow(st[:StencilLength:StencilLength], x, &op.runs[t], y[3*op.pos[t]:3*op.pos[t]+3])
	}
}

// aroundRow computes three rows of the product from the 81 numbers around a node.
func aroundRow(st []float64, near *[81]float64, y []float64) {
	var s0, s1, s2 float64
	for c, w := range near {
		m := (*[3]float64)(st[3*c:])
		s0 += m[0] * w
		s1 += m[1] * w
		s2 += m[2] * w
	}
	y[0], y[1], y[2] = s0, s1, s2
}

// stencilRow computes three rows of the product. Two sums a row keep the
// processor from waiting for its own additions.
func stencilRow(st []float64, x []float64, runs *[9]int32, y []float64) {
	var s0, s1, s2, t0, t1, t2 float64
	for r, start := range runs {
		if start == 0 {
			continue
		}
		v := (*[9]float64)(x[3*start:])
		m := (*[27]float64)(st[27*r:])
		for c := 0; c < 8; c += 2 {
			w, z := v[c], v[c+1]
			s0 += m[3*c] * w
			s1 += m[3*c+1] * w
			s2 += m[3*c+2] * w
			t0 += m[3*c+3] * z
			t1 += m[3*c+4] * z
			t2 += m[3*c+5] * z
		}
		s0 += m[24] * v[8]
		s1 += m[25] * v[8]
		s2 += m[26] * v[8]
	}
	y[0], y[1], y[2] = s0+t0, s1+t1, s2+t2
}
