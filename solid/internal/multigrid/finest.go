package multigrid

import (
	"maps"
	"slices"

	"gonum.org/v1/gonum/mat"

	"swapworth/solid/internal/brick"
)

// row writes the blocks of active node t, with held components taken out.
func (s *System) row(t int, r *row) {
	r.col, r.block = r.col[:0], r.block[:0]
	op := s.op
	st := op.stencil[int(op.sid[t])*StencilLength:][:StencilLength]
	own := 3 * int(op.pos[t])
	for n, start := range op.runs[t] {
		if start == 0 {
			continue
		}
		for m := range 3 {
			p := int(start) + m
			j := s.node[p]
			if j < 0 {
				continue
			}
			b := st[27*n+9*m:]
			if b[0] == 0 && b[4] == 0 && b[8] == 0 {
				continue
			}
			r.col = append(r.col, j)
			for a := range 3 {
				for c := range 3 {
					v := b[3*c+a]
					if s.held[own+a] || s.held[3*p+c] {
						v = 0
					}
					r.block = append(r.block, v)
				}
			}
		}
	}
}

// motions returns the six rigid motions of each active node, nothing where it is held.
func (s *System) motions() []float64 {
	rigidAt := s.rigidAt()
	m := make([]float64, len(s.op.pos)*3*rigid)
	for t, p := range s.op.pos {
		rows := rigidAt(t)
		for a := range 3 {
			if !s.held[3*int(p)+a] {
				copy(m[(3*t+a)*rigid:], rows[a][:])
			}
		}
	}
	return m
}

// rigidAt returns a function that gives the displacements of an active node in the six
// rigid motions: three slides, then turns about the middle of the box, with lengths as a
// share of its longest side.
func (s *System) rigidAt() func(t int) [3][rigid]float64 {
	var mid [3]float64
	long := 0.0
	for a := range 3 {
		l := s.g.Lines[a]
		mid[a] = (l[0] + l[len(l)-1]) / 2
		long = max(long, l[len(l)-1]-l[0])
	}
	return func(t int) [3][rigid]float64 {
		x := s.Place(t)
		for a := range 3 {
			x[a] = (x[a] - mid[a]) / long
		}
		return [3][rigid]float64{
			{1, 0, 0, 0, x[2], -x[1]},
			{0, 1, 0, -x[2], 0, x[0]},
			{0, 0, 1, x[1], -x[0], 0},
		}
	}
}

// firmly is the share of the work against the best-held rigid motion below which another
// counts as free. A motion that is free comes out at 1e-16, by rounding; held by a bolt
// at a millionth of the part's length from its axis it would come out at this.
const firmly = 1e-12

// isFree reports whether some rigid motion of all bricks together meets nothing that is
// held: it moves no held entry and strains no spring.
func (s *System) isFree() bool {
	rigidAt := s.rigidAt()
	work := mat.NewSymDense(rigid, nil)
	for _, e := range s.Fixed {
		row := rigidAt(s.NodeOf(int(e)))[e%3]
		work.SymRankOne(work, 1, mat.NewVecDense(rigid, row[:]))
	}
	strongest := 0.0
	for _, x := range s.g.Springs {
		for d := range brick.DOF {
			strongest = max(strongest, x[d*brick.DOF+d])
		}
	}
	for _, cell := range slices.Sorted(maps.Keys(s.g.Springs)) {
		if s.g.Kind[cell] < 0 {
			continue
		}
		i, j, k := cell/(s.g.cells(1)*s.g.cells(2)), cell/s.g.cells(2)%s.g.cells(1), cell%s.g.cells(2)
		moves := mat.NewDense(brick.DOF, rigid, nil)
		for c := range brick.Corners {
			for a, row := range rigidAt(s.NodeOf(s.EntryAt(i+c>>2, j+c>>1&1, k+c&1))) {
				moves.SetRow(3*c+a, row[:])
			}
		}
		var forces, product mat.Dense
		forces.Mul(mat.NewDense(brick.DOF, brick.DOF, s.g.Springs[cell][:]), moves)
		product.Mul(moves.T(), &forces)
		for p := range rigid {
			for q := p; q < rigid; q++ {
				work.SetSym(p, q, work.At(p, q)+product.At(p, q)/strongest)
			}
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(work, false) {
		return false
	}
	size := eig.Values(nil) // rising
	return !(size[0] > firmly*size[rigid-1])
}

// nodeBlocks gives each active node the number of its block of about three
// nodes along each axis; where cells are flat, more nodes across the flat side,
// so that blocks come out nearly cubic. Where cells are long, nodes are coupled
// weakly along them, and a block is no longer than three nodes.
func (s *System) nodeBlocks() [][3]int32 {
	var mean [3]float64
	for a := range 3 {
		l := s.g.Lines[a]
		mean[a] = (l[len(l)-1] - l[0]) / float64(len(l)-1)
	}
	edge := 2.2 * min(max(mean[0], mean[1], mean[2]), 2*min(mean[0], mean[1], mean[2]))
	var of [3][]int32
	for a := range 3 {
		of[a] = lineBlocks(s.g.Lines[a], edge)
	}
	out := make([][3]int32, len(s.op.at))
	for t, at := range s.op.at {
		out[t] = [3]int32{of[0][at[0]], of[1][at[1]], of[2][at[2]]}
	}
	return out
}

// lineBlocks groups the lines of an axis into runs of three or more that reach
// over the given length, nine at most.
func lineBlocks(lines []float64, length float64) []int32 {
	out := make([]int32, len(lines))
	var starts []int
	start := 0
	for i := range lines {
		n := i - start + 1
		h := lines[i] - lines[start]
		if (n >= 3 && h >= length) || n >= 9 {
			starts = append(starts, start)
			start = i + 1
		}
	}
	if rest := len(lines) - start; rest >= 2 || len(starts) == 0 {
		starts = append(starts, start)
	}
	b := int32(-1)
	next := 0
	for i := range lines {
		if next < len(starts) && i == starts[next] {
			b++
			next++
		}
		out[i] = b
	}
	return out
}

// apply sets y = A x for the free entries; fixed entries of x must be zero and
// those of y become zero.
func (s *System) apply(x, y []float64) {
	s.op.apply(x, y)
	for _, f := range s.Fixed {
		y[f] = 0
	}
}
