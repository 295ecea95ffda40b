// Package condense solves the symmetric positive definite equations of finite
// elements directly, by static condensation of nested substructures.
//
// The elements are halved by position again and again. Each small group is
// assembled densely; the unknowns that no other group shares are eliminated,
// and what they leave behind is an element of the group above (nested
// dissection: George, SIAM J. Numer. Anal. 10, 1973). For n unknowns of a plane
// problem the work grows as n^1.5 and the memory as n log n.
package condense

import (
	"errors"
	"slices"
	"sync"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/parallel"
)

// errSingular says that the equations have no unique solution within rounding.
var errSingular = errors.New("the equations are singular")

// System describes the equations element by element.
type System struct {
	Size      int                            // unknowns of an element
	Unknowns  []int32                        // Size an element; -1 where the value is fixed at zero
	Total     int                            // unknowns in all
	Centers   []r2.Vec                       // a point in each element
	Stiffness func(element int, k []float64) // writes the Size x Size matrix
	Loads     [][]float64                    // right sides, each of length Total
}

// leafSize is the number of elements of a group that is assembled at once.
const leafSize = 12

// Solve returns one solution a right side. Unknowns that no element has are
// zero.
func (s *System) Solve() ([][]float64, error) {
	w := &work{System: s, uses: make([]int32, s.Total)}
	for _, u := range s.Unknowns {
		if u >= 0 {
			w.uses[u]++
		}
	}
	all := make([]int32, len(s.Centers))
	for i := range all {
		all[i] = int32(i)
	}
	if len(all) == 0 {
		return w.empty(), nil
	}
	root := w.reduce(all, len(all) > 3000)
	if w.failed {
		return nil, errSingular
	}
	x := w.empty()
	w.back(root.steps, x)
	return x, nil
}

func (w *work) empty() [][]float64 {
	x := make([][]float64, len(w.Loads))
	for i := range x {
		x[i] = make([]float64, w.Total)
	}
	return x
}

type work struct {
	*System
	uses   []int32 // elements that have each unknown
	mu     sync.Mutex
	failed bool
}

// front is a group of elements seen from outside: the unknowns that it shares,
// in rising order, with its matrix (row-major) and right sides.
type front struct {
	unknowns []int32
	uses     []int32 // by elements of the group
	a        []float64
	b        []float64 // unknowns x right sides, without the loads themselves
	steps    []step    // eliminations so far, first to last
}

// step is what back substitution needs of one elimination: with unknowns x1
// eliminated and x2 kept, L11' x1 = b1 - L21' x2.
type step struct {
	gone, kept []int32
	l          []float64 // (gone+kept) x gone
	b          []float64 // gone x right sides
}

// reduce returns the front of a group, halving it along its longer side. It
// may reorder the list.
func (w *work) reduce(elements []int32, both bool) *front {
	if len(elements) <= leafSize {
		return w.eliminate(w.assemble(elements))
	}
	w.sortAlong(elements)
	half := len(elements) / 2
	var left, right *front
	if both {
		parallel.Both(
			func() { left = w.reduce(elements[:half], false) },
			func() { right = w.reduce(elements[half:], false) })
	} else {
		left, right = w.reduce(elements[:half], false), w.reduce(elements[half:], false)
	}
	return w.eliminate(w.join(left, right))
}

func (w *work) sortAlong(elements []int32) {
	lo, hi := w.Centers[elements[0]], w.Centers[elements[0]]
	for _, e := range elements {
		c := w.Centers[e]
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, c.X), min(lo.Y, c.Y), max(hi.X, c.X), max(hi.Y, c.Y)
	}
	along := func(e int32) float64 { return w.Centers[e].X }
	if hi.Y-lo.Y > hi.X-lo.X {
		along = func(e int32) float64 { return w.Centers[e].Y }
	}
	slices.SortFunc(elements, func(i, j int32) int {
		if a, b := along(i), along(j); a < b {
			return -1
		} else if a > b {
			return 1
		}
		return int(i - j)
	})
}

// pending is a group before elimination: its matrix with the unknowns that no
// element outside has in front.
type pending struct {
	unknowns, uses []int32
	inside         int
	a, b           []float64
	steps          []step
}

// arrange orders unknowns with their number of uses and makes room for the
// matrix; rising gets the position of each of the sorted unknowns.
func (w *work) arrange(unknowns, uses []int32) (p pending, position []int) {
	position = make([]int, len(unknowns))
	for _, inside := range []bool{true, false} {
		for i, u := range unknowns {
			if (uses[i] == w.uses[u]) == inside {
				position[i] = len(p.unknowns)
				p.unknowns = append(p.unknowns, u)
				p.uses = append(p.uses, uses[i])
			}
		}
		if inside {
			p.inside = len(p.unknowns)
		}
	}
	n := len(unknowns)
	p.a = make([]float64, n*n)
	p.b = make([]float64, n*len(w.Loads))
	return p, position
}

func (w *work) assemble(elements []int32) pending {
	var unknowns []int32
	for _, e := range elements {
		for _, u := range w.of(e) {
			if u >= 0 {
				unknowns = append(unknowns, u)
			}
		}
	}
	slices.Sort(unknowns)
	var uses []int32
	n := 0
	for i, u := range unknowns {
		if i == 0 || u != unknowns[n-1] {
			unknowns[n] = u
			uses = append(uses, 0)
			n++
		}
		uses[n-1]++
	}
	unknowns = unknowns[:n]
	p, position := w.arrange(unknowns, uses)
	k := make([]float64, w.Size*w.Size)
	at := make([]int, w.Size)
	for _, e := range elements {
		w.Stiffness(int(e), k)
		for i, u := range w.of(e) {
			at[i] = -1
			if u >= 0 {
				j, _ := slices.BinarySearch(unknowns, u)
				at[i] = position[j]
			}
		}
		for i, r := range at {
			for j, c := range at {
				if r >= 0 && c >= 0 {
					p.a[r*n+c] += k[i*w.Size+j]
				}
			}
		}
	}
	return p
}

func (w *work) of(e int32) []int32 { return w.Unknowns[int(e)*w.Size : (int(e)+1)*w.Size] }

// join adds two fronts.
func (w *work) join(f, g *front) pending {
	var unknowns, uses []int32
	toF, toG := make([]int, len(f.unknowns)), make([]int, len(g.unknowns))
	for i, j := 0, 0; i < len(f.unknowns) || j < len(g.unknowns); {
		at := len(unknowns)
		switch {
		case j == len(g.unknowns) || i < len(f.unknowns) && f.unknowns[i] < g.unknowns[j]:
			unknowns, uses = append(unknowns, f.unknowns[i]), append(uses, f.uses[i])
			toF[i], i = at, i+1
		case i == len(f.unknowns) || g.unknowns[j] < f.unknowns[i]:
			unknowns, uses = append(unknowns, g.unknowns[j]), append(uses, g.uses[j])
			toG[j], j = at, j+1
		default:
			unknowns, uses = append(unknowns, f.unknowns[i]), append(uses, f.uses[i]+g.uses[j])
			toF[i], toG[j], i, j = at, at, i+1, j+1
		}
	}
	p, position := w.arrange(unknowns, uses)
	p.steps = append(f.steps, g.steps...)
	p.add(f, toF, position, len(w.Loads))
	p.add(g, toG, position, len(w.Loads))
	return p
}

// add adds a front whose unknowns sit at position[to[i]].
func (p *pending) add(f *front, to, position []int, loads int) {
	n, m := len(p.unknowns), len(f.unknowns)
	for i := range m {
		r := position[to[i]]
		row := p.a[r*n : (r+1)*n]
		for j := range m {
			row[position[to[j]]] += f.a[i*m+j]
		}
		for k := range loads {
			p.b[r*loads+k] += f.b[i*loads+k]
		}
	}
}

// eliminate removes the unknowns inside by a partial Cholesky factorisation:
//
//	A11 = L11 L11'   L21 = A21 L11'^-1   A22 - L21 L21' stays.
func (w *work) eliminate(p pending) *front {
	n, in, loads := len(p.unknowns), p.inside, len(w.Loads)
	out := n - in
	f := &front{unknowns: p.unknowns[in:], uses: p.uses[in:], steps: p.steps}
	f.a, f.b = make([]float64, out*out), p.b[in*loads:]
	if in > 0 {
		l11 := blas64.Symmetric{Uplo: blas.Lower, N: in, Stride: n, Data: p.a}
		if _, ok := lapack64.Potrf(l11); !ok {
			w.mu.Lock()
			w.failed = true
			w.mu.Unlock()
			for i := range in { // keep going with something finite
				p.a[i*n+i] = 1
			}
		}
		w.forward(p, f)
	}
	for i := range out { // only the lower half is up to date
		for j := range i + 1 {
			v := p.a[(in+i)*n+in+j]
			f.a[i*out+j], f.a[j*out+i] = v, v
		}
	}
	return f
}

// forward carries the factor into the rest of the matrix and the right sides,
// and keeps what back substitution needs.
func (w *work) forward(p pending, f *front) {
	n, in, loads := len(p.unknowns), p.inside, len(w.Loads)
	out := n - in
	tri := blas64.Triangular{Uplo: blas.Lower, Diag: blas.NonUnit, N: in, Stride: n, Data: p.a}
	b1 := blas64.General{Rows: in, Cols: loads, Stride: max(loads, 1), Data: p.b[:in*loads]}
	for i, u := range p.unknowns[:in] {
		for k := range loads {
			b1.Data[i*loads+k] += w.Loads[k][u]
		}
	}
	blas64.Trsm(blas.Left, blas.NoTrans, 1, tri, b1)
	if out > 0 {
		l21 := blas64.General{Rows: out, Cols: in, Stride: n, Data: p.a[in*n:]}
		blas64.Trsm(blas.Right, blas.Trans, 1, tri, l21)
		blas64.Syrk(blas.NoTrans, -1, l21, 1, blas64.Symmetric{Uplo: blas.Lower, N: out, Stride: n, Data: p.a[in*n+in:]})
		b2 := blas64.General{Rows: out, Cols: loads, Stride: max(loads, 1), Data: f.b}
		blas64.Gemm(blas.NoTrans, blas.NoTrans, -1, l21, b1, 1, b2)
	}
	s := step{gone: p.unknowns[:in], kept: p.unknowns[in:], l: make([]float64, n*in), b: b1.Data}
	for i := range n {
		copy(s.l[i*in:(i+1)*in], p.a[i*n:i*n+in])
	}
	f.steps = append(f.steps, s)
}

// back finds the unknowns, last eliminated first.
func (w *work) back(steps []step, x [][]float64) {
	for i := len(steps) - 1; i >= 0; i-- {
		s := steps[i]
		in, loads := len(s.gone), len(w.Loads)
		for k := range loads {
			v := make([]float64, in)
			for r := range v {
				v[r] = s.b[r*loads+k]
			}
			for r, u := range s.kept {
				row, xr := s.l[(in+r)*in:(in+r+1)*in], x[k][u]
				for c := range v {
					v[c] -= row[c] * xr
				}
			}
			tri := blas64.Triangular{Uplo: blas.Lower, Diag: blas.NonUnit, N: in, Stride: in, Data: s.l}
			blas64.Trsv(blas.Trans, tri, blas64.Vector{N: in, Inc: 1, Data: v})
			for r, u := range s.gone {
				x[k][u] = v[r]
			}
		}
	}
}
