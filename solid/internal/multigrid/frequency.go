package multigrid

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Frequencies returns the lowest natural frequencies in Hz for the masses (g) at
// the entries of a vector, rising, by the locally optimal block preconditioned conjugate
// gradient method (Knyazev, SIAM J. Sci. Comput. 23, 2001).
func (s *System) Frequencies(ctx context.Context, mass []float64, count int) ([]float64, error) {
	const most, goal = 60, 1e-6
	block := count + 2
	x := s.firstGuess(mass, block)
	var p [][]float64
	var values []float64
	for it := 0; ; it++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		basis := append([][]float64(nil), x...)
		basis = append(basis, p...)
		if it > 0 {
			w, worst := s.residuals(mass, x, values, count)
			if worst < goal || it == most {
				break
			}
			basis = append(basis, w...)
		}
		var tail [][]float64
		values, x, tail = s.ritz(mass, basis, block)
		p = tail
	}
	out := make([]float64, count)
	for i := range out {
		out[i] = 1e3 * math.Sqrt(max(values[i], 0)) / (2 * math.Pi) // N/mm over g is 1e6/s2
	}
	return out, nil
}

// firstGuess is one cycle of the preconditioner on the inertia of the rigid
// motions, and on noise for more.
func (s *System) firstGuess(mass []float64, block int) [][]float64 {
	motion := s.motions()
	seed := uint64(7)
	var x [][]float64
	for b := range block {
		f, v := make([]float64, len(mass)), make([]float64, len(mass))
		for t, p := range s.op.pos {
			for a := range 3 {
				e := 3*int(p) + a
				if s.held[e] {
					continue
				}
				seed = seed*6364136223846793005 + 1442695040888963407
				g := float64(seed>>40)/(1<<24) - 0.5
				if b < rigid {
					g = motion[(3*t+a)*rigid+b] + 0.01*g
				}
				f[e] = mass[e] * g
			}
		}
		s.top.cycle(f, v)
		x = append(x, v)
	}
	return x
}

// residuals returns the preconditioned residuals K x - value M x and the largest
// of the first count, relative to K x.
func (s *System) residuals(mass []float64, x [][]float64, values []float64, count int) ([][]float64, float64) {
	worst := 0.0
	var out [][]float64
	kx := make([]float64, len(mass))
	for i, v := range x {
		r, w := make([]float64, len(mass)), make([]float64, len(mass))
		s.apply(v, kx)
		for e := range r {
			r[e] = kx[e] - values[i]*mass[e]*v[e]
		}
		for _, e := range s.Fixed {
			r[e] = 0
		}
		s.top.cycle(r, w)
		if i < count { // in the norm of the inverse stiffness, squared error of the value
			worst = max(worst, Dot(r, w)/values[i])
		}
		out = append(out, w)
	}
	return out, worst
}

// ritz finds the best approximations in the span of a basis, whose first vectors
// are the last ones. It returns the values, the vectors, and the part of each
// that the first vectors do not hold.
func (s *System) ritz(mass []float64, basis [][]float64, block int) (values []float64, x, tail [][]float64) {
	n := len(basis)
	mb, kb := make([][]float64, n), make([][]float64, n)
	for i, v := range basis {
		mb[i], kb[i] = make([]float64, len(v)), make([]float64, len(v))
		for e := range v {
			mb[i][e] = mass[e] * v[e]
		}
		s.apply(v, kb[i])
	}
	gram, stiff := mat.NewSymDense(n, nil), mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			gram.SetSym(i, j, Dot(basis[i], mb[j]))
			stiff.SetSym(i, j, Dot(basis[i], kb[j]))
		}
	}
	values, coef := smallPencil(stiff, gram)
	m := min(block, len(values))
	held := min(block, n)
	for c := range m {
		v, t := make([]float64, len(mass)), make([]float64, len(mass))
		for i := range n {
			Axpy(coef.At(i, c), basis[i], v)
			if i >= held {
				Axpy(coef.At(i, c), basis[i], t)
			}
		}
		x = append(x, v)
		if n > held {
			tail = append(tail, t)
		}
	}
	return values[:m], x, tail
}

// smallPencil solves K c = value M c for small dense matrices, leaving out what
// is linearly dependent in M. Values rise; column i of the result belongs to
// value i.
func smallPencil(k, m *mat.SymDense) ([]float64, *mat.Dense) {
	n := m.SymmetricDim()
	scale := make([]float64, n)
	for i := range n {
		scale[i] = 1 / math.Sqrt(max(m.At(i, i), 1e-300))
	}
	scaled := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			scaled.SetSym(i, j, scale[i]*scale[j]*m.At(i, j))
		}
	}
	var eig mat.EigenSym
	eig.Factorize(scaled, true)
	var vec mat.Dense
	eig.VectorsTo(&vec)
	size := eig.Values(nil)
	var keep []int
	for i, v := range size {
		if v > 1e-10 {
			keep = append(keep, i)
		}
	}
	t := mat.NewDense(n, len(keep), nil)
	for c, i := range keep {
		for r := range n {
			t.Set(r, c, scale[r]*vec.At(r, i)/math.Sqrt(size[i]))
		}
	}
	var kt, tkt mat.Dense
	kt.Mul(k, t)
	tkt.Mul(t.T(), &kt)
	small := mat.NewSymDense(len(keep), nil)
	for i := range keep {
		for j := i; j < len(keep); j++ {
			small.SetSym(i, j, (tkt.At(i, j)+tkt.At(j, i))/2)
		}
	}
	eig.Factorize(small, true)
	var y mat.Dense
	eig.VectorsTo(&y)
	out := new(mat.Dense)
	out.Mul(t, &y)
	return eig.Values(nil), out
}
