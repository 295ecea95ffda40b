package multigrid

import (
	"math"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/mat"

	"swapworth/internal/parallel"
)

// rigid is the number of rigid motions of a body.
const rigid = 6

// level is one grid of the hierarchy. Node i holds bs numbers at bs*pos[i].
type level struct {
	bs    int
	n     int     // nodes
	pos   []int32 // place of node i in a vector, nil for i itself
	size  int     // length of a vector
	apply func(x, y []float64)
	row   func(i int, r *row)
	dinv  []float64 // inverse diagonal blocks, bs x bs each
	patch *patches  // in place of dinv on the finest level
	top   float64   // largest eigenvalue of dinv A

	p      *prolongation // from the next level, nil on the coarsest
	next   *level
	direct *blas64.TriangularBand // on the coarsest

	r, d, z, s []float64 // work
}

// prolongation maps the 6 numbers of a coarse node to the bs of fine ones. It is
// kept in single precision: a preconditioner need not be exact, only symmetric,
// and the coarse matrices are built from these very numbers.
type prolongation struct {
	ptr []int32
	col []int32
	val []float32 // bs x 6 each, row-major
}

// block copies block e into wide and returns it.
func (p *prolongation) block(e int32, bs int, wide *[rigid * rigid]float64) []float64 {
	for i, v := range p.val[int(e)*bs*rigid : int(e+1)*bs*rigid] {
		wide[i] = float64(v)
	}
	return wide[:bs*rigid]
}

func (l *level) at(i int) int {
	if l.pos == nil {
		return i * l.bs
	}
	return int(l.pos[i]) * l.bs
}

// scaleBy sets z = dinv r.
func (l *level) scaleBy(r, z []float64) {
	if l.patch != nil {
		l.patch.solve(l.pos, r, z)
		return
	}
	bs := l.bs
	parallel.Blocks(l.n, 2048, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			at := l.at(i)
			d := l.dinv[i*bs*bs:]
			if bs == 3 {
				r0, r1, r2 := r[at], r[at+1], r[at+2]
				d := d[:9]
				z[at] = d[0]*r0 + d[1]*r1 + d[2]*r2
				z[at+1] = d[3]*r0 + d[4]*r1 + d[5]*r2
				z[at+2] = d[6]*r0 + d[7]*r1 + d[8]*r2
				continue
			}
			for a := range bs {
				s := 0.0
				for b, v := range r[at : at+bs] {
					s += d[a*bs+b] * v
				}
				z[at+a] = s
			}
		}
	})
}

// smoothing is the degree of the Chebyshev smoother, and span the ratio of the
// largest to the smallest eigenvalue it damps.
const (
	smoothing = 2
	span      = 12.0
)

// smooth runs the Chebyshev smoother for A x = b on x. With fresh set, x counts
// as zero. The recurrence is that of Saad, Iterative Methods for Sparse Linear
// Systems, algorithm 12.1.
func (l *level) smooth(b, x []float64, fresh bool) {
	upper := l.top
	lower := upper / span
	theta, delta := (upper+lower)/2, (upper-lower)/2
	sigma := theta / delta
	rho := 1 / sigma
	if fresh {
		copy(l.r, b)
	} else {
		l.residual(b, x)
	}
	l.scaleBy(l.r, l.z)
	combine(l.d, 0, 1/theta, l.z)
	for step := 1; ; step++ {
		if fresh && step == 1 {
			copy(x, l.d)
		} else {
			Axpy(1, l.d, x)
		}
		if step == smoothing {
			return
		}
		l.apply(l.d, l.s)
		Axpy(-1, l.s, l.r)
		l.scaleBy(l.r, l.z)
		next := 1 / (2*sigma - rho)
		combine(l.d, next*rho, 2*next/delta, l.z)
		rho = next
	}
}

// combine sets y = a y + b x.
func combine(y []float64, a, b float64, x []float64) {
	parallel.Blocks(len(x), chunk, func(lo, hi int) {
		u, v := x[lo:hi], y[lo:hi]
		v = v[:len(u)]
		if a == 0 {
			for i, w := range u {
				v[i] = b * w
			}
			return
		}
		for i, w := range u {
			v[i] = a*v[i] + b*w
		}
	})
}

// residual sets l.r = b - A x.
func (l *level) residual(b, x []float64) {
	l.apply(x, l.s)
	parallel.Blocks(len(b), chunk, func(lo, hi int) {
		r, s, b := l.r[lo:hi], l.s[lo:hi], b[lo:hi]
		for i := range r {
			r[i] = b[i] - s[i]
		}
	})
}

// cycle sets x to an approximate solution of A x = b: one symmetric V-cycle.
func (l *level) cycle(b, x []float64) {
	if l.direct != nil {
		copy(x, b)
		solveBand(*l.direct, x)
		return
	}
	l.smooth(b, x, true)
	l.residual(b, x)
	bc, xc := make([]float64, l.next.size), make([]float64, l.next.size)
	l.restrict(l.r, bc)
	l.next.cycle(bc, xc)
	if l.next.direct == nil { // twice: a W-cycle costs little, coarse levels are small
		again := make([]float64, l.next.size)
		l.next.residual(bc, xc)
		l.next.cycle(append([]float64(nil), l.next.r...), again)
		Axpy(1, again, xc)
	}
	l.prolong(xc, x)
	l.smooth(b, x, false)
}

// columns returns the first and the last column that rows lo to hi-1 of P reach;
// last is negative when they reach none.
func (l *level) columns(lo, hi int) (first, last int32) {
	first, last = math.MaxInt32, -1
	for _, col := range l.p.col[l.p.ptr[lo]:l.p.ptr[hi]] {
		first, last = min(first, col), max(last, col)
	}
	return first, last
}

// restrict sets c = P^T r. Parts are summed in a fixed order.
func (l *level) restrict(r, c []float64) {
	const part = 8192
	count := (l.n + part - 1) / part
	sums := make([][]float64, count)
	from := make([]int32, count)
	parallel.For(count, func(b int) {
		lo, hi := b*part, min(l.n, (b+1)*part)
		first, last := l.columns(lo, hi)
		if last < 0 {
			return
		}
		sum := make([]float64, rigid*(last-first+1))
		for i := lo; i < hi; i++ {
			v := r[l.at(i) : l.at(i)+l.bs]
			for e := l.p.ptr[i]; e < l.p.ptr[i+1]; e++ {
				out := (*[rigid]float64)(sum[rigid*(l.p.col[e]-first):])
				for a, w := range v {
					m := (*[rigid]float32)(l.p.val[(int(e)*l.bs+a)*rigid:])
					for k := range rigid {
						out[k] += float64(m[k]) * w
					}
				}
			}
		}
		sums[b], from[b] = sum, first
	})
	clear(c)
	for b, sum := range sums {
		for i, v := range sum {
			c[rigid*int(from[b])+i] += v
		}
	}
}

// prolong adds P c to x.
func (l *level) prolong(c, x []float64) {
	parallel.Blocks(l.n, 2048, func(lo, hi int) {
		for i := lo; i < hi; i++ {
			v := x[l.at(i) : l.at(i)+l.bs]
			for e := l.p.ptr[i]; e < l.p.ptr[i+1]; e++ {
				in := (*[rigid]float64)(c[rigid*l.p.col[e]:])
				for a := range v {
					m := (*[rigid]float32)(l.p.val[(int(e)*l.bs+a)*rigid:])
					v[a] += float64(m[0])*in[0] + float64(m[1])*in[1] + float64(m[2])*in[2] +
						float64(m[3])*in[3] + float64(m[4])*in[4] + float64(m[5])*in[5]
				}
			}
		}
	})
}

// largest estimates the largest eigenvalue of dinv A by Lanczos' method and adds
// a margin, for the method comes from below.
func (l *level) largest() float64 {
	const steps = 12
	r, w, old := make([]float64, l.size), make([]float64, l.size), make([]float64, l.size)
	v := make([]float64, l.size)
	seed := uint64(1)
	for i := range l.n {
		for a := range l.bs {
			seed = seed*6364136223846793005 + 1442695040888963407
			w[l.at(i)+a] = float64(seed>>40)/(1<<24) - 0.5
		}
	}
	l.apply(w, r) // in the range of A: nothing at held entries
	tri := mat.NewSymDense(steps, nil)
	used, beta := 0, 0.0
	for used < steps {
		l.scaleBy(r, w)
		b := math.Sqrt(Dot(r, w))
		if !(b > 1e-12*beta) {
			break
		}
		if used > 0 {
			tri.SetSym(used-1, used, b)
		}
		beta = b
		copy(old, v)
		combine(v, 0, 1/b, r)
		combine(w, 0, 1/b, w)
		l.apply(w, r)
		Axpy(-beta, old, r)
		alpha := Dot(w, r)
		Axpy(-alpha, v, r)
		tri.SetSym(used, used, alpha)
		used++
	}
	if used == 0 {
		return 1
	}
	var eig mat.EigenSym
	if !eig.Factorize(tri.SliceSym(0, used), false) {
		return 8
	}
	values := eig.Values(nil)
	return 1.1 * values[len(values)-1]
}

// allocate makes the work vectors.
func (l *level) allocate() {
	l.r, l.d, l.z, l.s = make([]float64, l.size), make([]float64, l.size), make([]float64, l.size), make([]float64, l.size)
}
