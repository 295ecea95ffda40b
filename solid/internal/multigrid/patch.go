package multigrid

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"swapworth/internal/parallel"
)

// Where cells are flat, the nodes across the thin side are coupled far more
// strongly than those along the face, and a smoother that relaxes one node at a
// time stalls. patches gathers such nodes, so that they are relaxed together.
type patches struct {
	ptr   []int32 // patch p has nodes list[ptr[p]:ptr[p+1]]
	list  []int32 // active nodes
	inv   []int32 // where the inverse matrix of a patch starts in val
	val   []float64
	large int // nodes of the largest patch
}

// flatness is the ratio of cell edges below which nodes across are gathered.
const flatness = 0.7

// largestPatch bounds the nodes of a patch.
const largestPatch = 12

// newPatches gathers the active nodes of a system and inverts the stiffness of
// each patch.
func newPatches(s *System) *patches {
	of := s.gather()
	n := len(of)
	p := &patches{ptr: []int32{0}}
	first := make([]int32, n)
	count := make([]int32, n)
	for _, r := range of {
		count[r]++
	}
	var roots []int32
	for t, r := range of {
		if int(r) == t {
			first[r] = p.ptr[len(p.ptr)-1]
			p.ptr = append(p.ptr, first[r]+count[r])
			roots = append(roots, r)
			p.large = max(p.large, int(count[r]))
		}
	}
	p.list = make([]int32, n)
	for t, r := range of {
		p.list[first[r]] = int32(t)
		first[r]++
	}
	p.inv = make([]int32, len(roots))
	p.invert(s)
	return p
}

// gather returns for each active node the first node of its patch.
func (s *System) gather() []int32 {
	n := len(s.op.pos)
	parent, size := make([]int32, n), make([]int32, n)
	for i := range parent {
		parent[i], size[i] = int32(i), 1
	}
	find := func(i int32) int32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for t := range n {
		at := s.op.at[t]
		for a := range 3 {
			next := at
			next[a]++
			if int(next[a]) >= s.g.nodes(a) || !s.flatAcross(at, a) {
				continue
			}
			o := s.node[s.op.storedAt(int(next[0]), int(next[1]), int(next[2]))]
			if o < 0 {
				continue
			}
			p, q := find(int32(t)), find(o)
			if p != q && size[p]+size[q] <= largestPatch {
				p, q = min(p, q), max(p, q)
				parent[q] = p
				size[p] += size[q]
			}
		}
	}
	out := make([]int32, n)
	for i := range out {
		out[i] = find(int32(i))
	}
	return out
}

// flatAcross reports whether the edge from node at along axis a belongs to a
// cell with material that is flat across a.
func (s *System) flatAcross(at [3]int32, a int) bool {
	u, v := (a+1)%3, (a+2)%3
	for n := range 4 {
		cell := [3]int{int(at[0]), int(at[1]), int(at[2])}
		cell[u] -= n & 1
		cell[v] -= n >> 1
		if cell[u] < 0 || cell[v] < 0 || cell[u] >= s.g.cells(u) || cell[v] >= s.g.cells(v) {
			continue
		}
		if s.g.Kind[s.g.cellIndex(cell[0], cell[1], cell[2])] < 0 {
			continue
		}
		h := [3]float64{s.g.Edges[0][cell[0]], s.g.Edges[1][cell[1]], s.g.Edges[2][cell[2]]}
		if h[a] < flatness*min(h[u], h[v]) {
			return true
		}
	}
	return false
}

// invert fills in the inverse matrices; patches with the same stencils and held
// components share one.
func (p *patches) invert(s *System) {
	known := map[string]int32{}
	var key []byte
	var r row
	m := p.large * 3
	a := make([]float64, m*m)
	for i := range p.inv {
		nodes := p.list[p.ptr[i]:p.ptr[i+1]]
		key = key[:0]
		for _, t := range nodes {
			id, at := s.op.sid[t], s.op.at[t]
			d := s.op.at[nodes[0]]
			key = append(key, byte(id), byte(id>>8), byte(id>>16), byte(id>>24),
				byte(at[0]-d[0]), byte(at[1]-d[1]), byte(at[2]-d[2]))
			for c := range 3 {
				b := byte(0)
				if s.held[3*int(s.op.pos[t])+c] {
					b = 1
				}
				key = append(key, b)
			}
		}
		if at, ok := known[string(key)]; ok {
			p.inv[i] = at
			continue
		}
		p.inv[i] = int32(len(p.val))
		known[string(key)] = p.inv[i]
		n := 3 * len(nodes)
		clear(a[:n*n])
		for x, t := range nodes {
			s.row(int(t), &r)
			for e, j := range r.col {
				y, ok := slices.BinarySearch(nodes, j)
				if !ok {
					continue
				}
				for b := range 3 {
					copy(a[(3*x+b)*n+3*y:], r.block[9*e+3*b:9*e+3*b+3])
				}
			}
		}
		p.val = append(p.val, invertPatch(a[:n*n], n)...)
	}
}

// invertPatch inverts a symmetric positive definite matrix; rows of held
// components, which are zero, stay zero.
func invertPatch(a []float64, n int) []float64 {
	out := make([]float64, n*n)
	if n == 3 {
		InvertBlock(a, out, 3)
		return out
	}
	sym := mat.NewSymDense(n, nil)
	scale := make([]float64, n)
	for i := range n {
		if d := a[i*n+i]; d > 0 {
			scale[i] = 1 / math.Sqrt(d)
		}
	}
	for i := range n {
		for j := i; j < n; j++ {
			sym.SetSym(i, j, scale[i]*scale[j]*a[i*n+j])
		}
		// a breath of diagonal keeps slivers definite
		sym.SetSym(i, i, 1+1e-12)
	}
	var ch mat.Cholesky
	inv := mat.NewSymDense(n, nil)
	ok := ch.Factorize(sym)
	if ok {
		err := ch.InverseTo(inv)
		_, poor := err.(mat.Condition)
		ok = err == nil || poor
	}
	for i := range n {
		for j := range n {
			switch {
			case ok:
				out[i*n+j] = scale[i] * scale[j] * inv.At(i, j)
			case i == j:
				out[i*n+j] = scale[i] * scale[i]
			}
		}
	}
	return out
}

// solve sets z to the solution of each patch for r.
func (p *patches) solve(pos []int32, r, z []float64) {
	parallel.Blocks(len(p.inv), 1024, func(lo, hi int) {
		var in [3 * largestPatch]float64
		for i := lo; i < hi; i++ {
			nodes := p.list[p.ptr[i]:p.ptr[i+1]]
			m := p.val[p.inv[i]:]
			if len(nodes) == 1 {
				at := 3 * int(pos[nodes[0]])
				d := (*[9]float64)(m)
				r0, r1, r2 := r[at], r[at+1], r[at+2]
				z[at] = d[0]*r0 + d[1]*r1 + d[2]*r2
				z[at+1] = d[3]*r0 + d[4]*r1 + d[5]*r2
				z[at+2] = d[6]*r0 + d[7]*r1 + d[8]*r2
				continue
			}
			n := 3 * len(nodes)
			for x, t := range nodes {
				copy(in[3*x:], r[3*pos[t]:3*pos[t]+3])
			}
			for x, t := range nodes {
				out := z[3*pos[t] : 3*pos[t]+3]
				for b := range 3 {
					s := 0.0
					for y, w := range m[(3*x+b)*n : (3*x+b+1)*n] {
						s += w * in[y]
					}
					out[b] = s
				}
			}
		}
	})
}
