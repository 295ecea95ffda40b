package multigrid

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"swapworth/internal/parallel"
)

// grouping says which aggregate each node of a level belongs to (-1 for none)
// and where the aggregates lie in the pattern of blocks.
type grouping struct {
	of    []int32
	block [][3]int32
}

// neighbours calls visit for the nodes that share a matrix entry with node i.
func (l *level) neighbours(i int, r *row, visit func(j int32)) {
	l.row(i, r)
	for _, j := range r.col {
		visit(j)
	}
}

// group gathers nodes with the same block number into aggregates, one for each
// connected piece.
func (l *level) group(block [][3]int32) grouping {
	g := grouping{of: make([]int32, l.n)}
	for i := range g.of {
		g.of[i] = -1
	}
	var r row
	var sizes []int
	var stack []int32
	for i := range l.n {
		if g.of[i] >= 0 {
			continue
		}
		id := int32(len(sizes))
		g.of[i] = id
		stack = append(stack[:0], int32(i))
		count := 0
		for len(stack) > 0 {
			v := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			count++
			l.neighbours(int(v), &r, func(j int32) {
				if g.of[j] < 0 && block[j] == block[i] {
					g.of[j] = id
					stack = append(stack, j)
				}
			})
		}
		sizes = append(sizes, count)
		g.block = append(g.block, block[i])
	}
	if l.bs != rigid { // a coarse node turns by itself
		l.joinSmall(&g, sizes)
	}
	return g.sorted()
}

// joinSmall lets aggregates of few nodes, which cannot turn as a body, join their
// largest neighbour.
func (l *level) joinSmall(g *grouping, sizes []int) {
	const few = 3
	var r row
	join := make([]int32, len(sizes))
	for a := range join {
		join[a] = int32(a)
	}
	for i := range l.n {
		own := g.of[i]
		if sizes[own] > few || join[own] != own {
			continue
		}
		best := own
		l.neighbours(i, &r, func(j int32) {
			if o := g.of[j]; sizes[o] > few && (best == own || sizes[o] > sizes[best]) {
				best = o
			}
		})
		join[own] = best
	}
	renumber := make([]int32, len(sizes))
	var kept [][3]int32
	for a := range sizes {
		if join[a] == int32(a) {
			renumber[a] = int32(len(kept))
			kept = append(kept, g.block[a])
		}
	}
	for i := range g.of {
		g.of[i] = renumber[join[g.of[i]]]
	}
	g.block = kept
}

// sorted numbers the aggregates in the order of their blocks, so that the
// matrix of the next level has a narrow band.
func (g grouping) sorted() grouping {
	order := make([]int, len(g.block))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool {
		p, q := g.block[order[a]], g.block[order[b]]
		for c := range 3 {
			if p[c] != q[c] {
				return p[c] < q[c]
			}
		}
		return false
	})
	rank := make([]int32, len(order))
	block := make([][3]int32, len(order))
	for r, i := range order {
		rank[i] = int32(r)
		block[r] = g.block[i]
	}
	for i, a := range g.of {
		g.of[i] = rank[a]
	}
	return grouping{g.of, block}
}

// tentative returns, for every node, its rows of the orthonormal basis of the
// rigid motions of its aggregate, and the coordinates of the motions of each
// aggregate in that basis. motion holds bs x 6 a node.
func (l *level) tentative(g grouping, motion []float64) (q []float64, coarse []float64) {
	bs := l.bs
	members := make([][]int32, len(g.block))
	for i, a := range g.of {
		members[a] = append(members[a], int32(i))
	}
	q = make([]float64, l.n*bs*rigid)
	coarse = make([]float64, len(g.block)*rigid*rigid)
	parallel.Blocks(len(g.block), 64, func(lo, hi int) {
		var m []float64
		for a := lo; a < hi; a++ {
			m = m[:0]
			for _, i := range members[a] {
				m = append(m, motion[int(i)*bs*rigid:(int(i)+1)*bs*rigid]...)
			}
			orthonormal(m, (*[rigid * rigid]float64)(coarse[a*rigid*rigid:]))
			for s, i := range members[a] {
				copy(q[int(i)*bs*rigid:], m[s*bs*rigid:(s+1)*bs*rigid])
			}
		}
	})
	return q, coarse
}

// orthonormal replaces the six columns of m by an orthonormal basis of their
// span (Gram-Schmidt, done twice) and sets r so that old m = new m r. A column
// that the others span becomes zero.
func orthonormal(m []float64, r *[rigid * rigid]float64) {
	rows := len(m) / rigid
	column := func(a, b int) float64 {
		s := 0.0
		for i := range rows {
			s += m[i*rigid+a] * m[i*rigid+b]
		}
		return s
	}
	for c := range rigid {
		before := math.Sqrt(column(c, c))
		for range 2 {
			for b := range c {
				f := column(b, c)
				r[b*rigid+c] += f
				for i := range rows {
					m[i*rigid+c] -= f * m[i*rigid+b]
				}
			}
		}
		after := math.Sqrt(column(c, c))
		if after <= 1e-6*before || after == 0 {
			for i := range rows {
				m[i*rigid+c] = 0
			}
			continue
		}
		r[c*rigid+c] = after
		for i := range rows {
			m[i*rigid+c] /= after
		}
	}
}

// levelOf makes a level from a coarse matrix.
func levelOf(m *blockRows) *level {
	n := len(m.ptr) - 1
	l := &level{bs: rigid, n: n, size: n * rigid}
	l.apply = func(x, y []float64) {
		parallel.Blocks(n, 256, func(lo, hi int) {
			for i := lo; i < hi; i++ {
				var s [rigid]float64
				for e := m.ptr[i]; e < m.ptr[i+1]; e++ {
					v := (*[rigid]float64)(x[rigid*m.col[e]:])
					b := (*[rigid * rigid]float64)(m.val[int(e)*rigid*rigid:])
					for a := range rigid {
						s[a] += b[6*a]*v[0] + b[6*a+1]*v[1] + b[6*a+2]*v[2] + b[6*a+3]*v[3] + b[6*a+4]*v[4] + b[6*a+5]*v[5]
					}
				}
				copy(y[rigid*i:], s[:])
			}
		})
	}
	l.row = func(i int, r *row) {
		r.col = m.col[m.ptr[i]:m.ptr[i+1]]
		r.block = m.val[int(m.ptr[i])*rigid*rigid : int(m.ptr[i+1])*rigid*rigid]
	}
	l.dinv = make([]float64, n*rigid*rigid)
	var r row
	for i := range n {
		l.row(i, &r)
		for e, j := range r.col {
			if int(j) == i {
				InvertBlock(r.block[e*rigid*rigid:(e+1)*rigid*rigid], l.dinv[i*rigid*rigid:(i+1)*rigid*rigid], rigid)
			}
		}
	}
	return l
}

// coarsen builds the levels below l. block is the pattern of blocks for the
// first coarsening and motion the rigid motions of its nodes.
func (l *level) coarsen(block [][3]int32, motion []float64) error {
	l.allocate()
	if l.smallEnough() {
		return l.factorise()
	}
	l.top = l.largest()
	g := l.group(block)
	if len(g.block) == l.n {
		return fmt.Errorf("solid: the grid of %d nodes does not coarsen", l.n)
	}
	q, coarse := l.tentative(g, motion)
	l.p = l.smoothed(g, q)
	l.next = levelOf(l.galerkin(len(g.block)))
	return l.next.coarsen(thirds(g.block), coarse)
}

// thirds groups a pattern of blocks by threes along each axis.
func thirds(block [][3]int32) [][3]int32 {
	var count [3]int32
	for _, b := range block {
		for a := range 3 {
			count[a] = max(count[a], b[a]+1)
		}
	}
	out := make([][3]int32, len(block))
	for i, b := range block {
		for a := range 3 {
			groups := max(1, (count[a]+1)/3) // a last single one joins the group before
			out[i][a] = min(b[a]/3, groups-1)
		}
	}
	return out
}

// A level is solved directly where the factors of its band take no more room
// and the factorisation no more work than this.
const (
	bandRoom = 24e6 // numbers
	bandWork = 1e9  // multiplications
)

// bandwidth returns the number of entries beside the diagonal that the matrix
// of a level reaches.
func (l *level) bandwidth() int {
	reach := 0
	var r row
	for i := range l.n {
		l.row(i, &r)
		for _, j := range r.col {
			reach = max(reach, l.at(int(j))-l.at(i))
		}
	}
	return min(reach+l.bs-1, l.size-1)
}

// smallEnough reports whether a level is solved directly.
func (l *level) smallEnough() bool {
	if float64(l.size) > bandRoom/6 {
		return false
	}
	n, b := float64(l.size), float64(l.bandwidth()+1)
	return n*b <= bandRoom && n*b*b <= bandWork
}

// ErrFree says that the bricks can move without being strained.
var ErrFree = errors.New("solid: the part is not held against every rigid motion; hold it in more directions or at more places")

// factorise prepares the coarsest level.
func (l *level) factorise() error {
	width := l.bandwidth()
	a := blas64.SymmetricBand{
		Uplo: blas.Upper, N: l.size, K: width, Stride: width + 1,
		Data: make([]float64, l.size*(width+1)),
	}
	var r row
	for i := range l.n {
		l.row(i, &r)
		for e, j := range r.col {
			for p := range l.bs {
				for q := range l.bs {
					x, y := l.at(i)+p, l.at(int(j))+q
					if x <= y {
						a.Data[x*a.Stride+y-x] = r.block[(e*l.bs+p)*l.bs+q]
					}
				}
			}
		}
	}
	for i := range l.size { // held components and ghosts
		if a.Data[i*a.Stride] == 0 {
			a.Data[i*a.Stride] = 1
		}
	}
	factor, ok := lapack64.Pbtrf(a)
	if !ok {
		return ErrFree
	}
	l.direct = &factor
	return nil
}
