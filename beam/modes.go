package beam

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"

	"swapworth/beam/internal/gauss"
)

// mode is one natural mode of bending.
type mode struct {
	FrequencyHz float64
	ShareU      float64 // share of the motion's kinetic energy along u
	ShareA      float64 // and along the beam; the rest is along v
}

// pointMass is a mass fixed to a node, in t (N s2/mm).
type pointMass struct {
	node int
	mass float64
}

// modes returns the lowest natural modes in ascending order, found by subspace
// iteration (K.-J. Bathe, Finite Element Procedures, section 11.6). density is
// in t/mm3.
func (f *frame) modes(density float64, masses []pointMass, count int) ([]mode, error) {
	m := f.massMatrix(density, masses)
	size := min(max(2*count, count+4), f.size)
	x := startVectors(f.size, size)
	values := make([]float64, size)
	for range 100 {
		y := f.iterate(m, x)
		next, vectors, err := ritz(f, m, y)
		if err != nil {
			return nil, err
		}
		x = vectors
		done := true
		for i := range count {
			if i < size && math.Abs(next[i]-values[i]) > 1e-10*math.Abs(next[i]) {
				done = false
			}
		}
		values = next
		if done {
			break
		}
	}
	var out []mode
	for i := 0; i < min(count, size); i++ {
		out = append(out, f.modeOf(values[i], x.ColView(i), m))
	}
	return out, nil
}

// iterate returns K^-1 M X.
func (f *frame) iterate(m *mat.SymBandDense, x *mat.Dense) *mat.Dense {
	return f.factor.solve(bandTimes(m, x))
}

// ritz solves the small eigenproblem on the span of y = K^-1 M x and returns
// the squared circular frequencies in ascending order with their vectors.
func ritz(f *frame, m *mat.SymBandDense, y *mat.Dense) ([]float64, *mat.Dense, error) {
	_, n := y.Dims()
	for j := range n { // keep the columns of one size
		col := y.ColView(j).(*mat.VecDense)
		if norm := mat.Norm(col, 2); norm > 0 {
			col.ScaleVec(1/norm, col)
		}
	}
	var left, right mat.Dense
	my := bandTimes(m, y)
	z := f.factor.solve(my)
	// with z = K^-1 M y: M-products of y with z and with y give the inverse
	// problem y^T M K^-1 M y c = (1/w^2) y^T M y c
	left.Mul(my.T(), z)
	right.Mul(y.T(), my)
	var chol mat.Cholesky
	if !chol.Factorize(symDense(&right)) {
		return nil, nil, errors.New("frequencies: the beam has no mass that moves")
	}
	var lower mat.TriDense
	chol.LTo(&lower)
	var inner, half mat.Dense
	if err := half.Solve(&lower, &left); err != nil {
		return nil, nil, err
	}
	if err := inner.Solve(&lower, half.T()); err != nil {
		return nil, nil, err
	}
	var eig mat.EigenSym
	if !eig.Factorize(symDense(&inner), true) {
		return nil, nil, errors.New("frequencies: the eigenproblem did not converge")
	}
	var c, coeff, out mat.Dense
	eig.VectorsTo(&c)
	if err := coeff.Solve(lower.T(), &c); err != nil {
		return nil, nil, err
	}
	out.Mul(y, &coeff)
	inverse := eig.Values(nil)
	values := make([]float64, n)
	sorted := mat.NewDense(f.size, n, nil)
	for j := range n { // the largest inverse is the lowest frequency
		values[j] = 1 / inverse[n-1-j]
		sorted.SetCol(j, mat.Col(nil, n-1-j, &out))
	}
	return values, sorted, nil
}

func symDense(m *mat.Dense) *mat.SymDense {
	n, _ := m.Dims()
	s := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			s.SetSym(i, j, (m.At(i, j)+m.At(j, i))/2)
		}
	}
	return s
}

// startVectors fills columns with values that no mode is orthogonal to.
func startVectors(rows, cols int) *mat.Dense {
	x := mat.NewDense(rows, cols, nil)
	seed := uint64(88172645463325252)
	for i := range rows {
		for j := range cols {
			seed ^= seed << 13
			seed ^= seed >> 7
			seed ^= seed << 17
			x.Set(i, j, float64(seed>>11)/(1<<52)-1)
		}
	}
	return x
}

// massMatrix is the consistent mass of the elements, with rotary inertia, and
// the masses on nodes.
func (f *frame) massMatrix(density float64, masses []pointMass) *mat.SymBandDense {
	m := f.assemble(func(e int) [10][10]float64 { return f.elements[e].massMatrix(density) })
	for _, p := range masses {
		for _, d := range []int{dofA, dofU, dofV} {
			if eq := f.index[p.node][d]; eq >= 0 {
				m.SetSymBand(eq, eq, m.At(eq, eq)+p.mass)
			}
		}
	}
	return m
}

// massMatrix integrates density times the products of the cubic interpolation
// functions over the element; mass in t. The length that a station stands for
// has that station's section.
func (e *element) massMatrix(density float64) [10][10]float64 {
	var m [10][10]float64
	x := e.from
	for _, s := range e.stations {
		for _, half := range [2][2]float64{{x, x + s.Weight/2}, {x + s.Weight/2, x + s.Weight}} {
			for _, g := range gauss.Three(half[0], half[1]) {
				e.addMass(&m, (g.X-e.from)/(e.to-e.from), density*g.W, s)
			}
		}
		x += s.Weight
	}
	return m
}

// addMass adds the inertia of a slice at the share x of the element's length; w
// is its density times its length.
func (e *element) addMass(m *[10][10]float64, x, w float64, s station) {
	h := e.to - e.from
	n := [4]float64{1 - 3*x*x + 2*x*x*x, h * (x - 2*x*x + x*x*x), 3*x*x - 2*x*x*x, h * (x*x*x - x*x)}
	d := [4]float64{(-6*x + 6*x*x) / h, 1 - 4*x + 3*x*x, (6*x - 6*x*x) / h, 3*x*x - 2*x}
	for plane, start := range []int{dofU, dofV} {
		at := [4]int{start, start + 1, 5 + start, 6 + start}
		for i := range 4 {
			for j := range 4 {
				m[at[i]][at[j]] += w * (s.Area*n[i]*n[j] + s.Inertia[plane]*d[i]*d[j])
			}
		}
	}
	lin := [2]float64{1 - x, x}
	for i, p := range []int{dofA, 5 + dofA} {
		for j, q := range []int{dofA, 5 + dofA} {
			m[p][q] += w * s.Area * lin[i] * lin[j]
		}
	}
}

func (f *frame) modeOf(value float64, v mat.Vector, m *mat.SymBandDense) mode {
	out := mode{FrequencyHz: math.Sqrt(max(value, 0)) / (2 * math.Pi)}
	var u, along, all float64
	for i := range f.nodes {
		for d, eq := range f.index[i] {
			if eq < 0 {
				continue
			}
			if d == dofU || d == dofV || d == dofA {
				energy := m.At(eq, eq) * v.AtVec(eq) * v.AtVec(eq)
				all += energy
				switch d {
				case dofU:
					u += energy
				case dofA:
					along += energy
				}
			}
		}
	}
	if all > 0 {
		out.ShareU, out.ShareA = u/all, along/all
	}
	return out
}

// bucklingFactor returns the smallest factor by which a unit compression over
// the elements between two nodes must be multiplied to buckle the beam, in N,
// by power iteration on K^-1 S with the string stiffness S.
func (f *frame) bucklingFactor(from, to int) (float64, error) {
	s := f.assemble(func(e int) [10][10]float64 {
		if e < min(from, to) || e >= max(from, to) {
			return [10][10]float64{}
		}
		return f.stringStiffness(e, 1)
	})
	x := startVectors(f.size, 1)
	previous := 0.0
	for range 500 {
		y := f.iterate(s, x)
		num := mat.Dot(x.ColView(0), bandTimes(s, y).ColView(0))
		den := mat.Dot(x.ColView(0), bandTimes(s, x).ColView(0))
		if !(num > 0) || !(den > 0) {
			return 0, errors.New("buckling: the load does not compress the beam")
		}
		value := den / num
		y.Scale(1/mat.Norm(y, 2), y)
		x = y
		if math.Abs(value-previous) <= 1e-9*value {
			return value, nil
		}
		previous = value
	}
	return previous, nil
}

// bandTimes returns m x.
func bandTimes(m *mat.SymBandDense, x *mat.Dense) *mat.Dense {
	rows, cols := x.Dims()
	out := mat.NewDense(rows, cols, nil)
	var col mat.VecDense
	for j := range cols {
		col.Reset()
		m.MulVecTo(&col, false, x.ColView(j))
		out.SetCol(j, col.RawVector().Data)
	}
	return out
}
