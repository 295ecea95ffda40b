package solid

import (
	"context"
	"fmt"
	"math"

	"swapworth/solid/internal/brick"
)

// system is the discrete problem on one grid: stiffness, what is held, and the
// preconditioner. Any number of load cases share it.
type system struct {
	c     *cells
	op    *operator
	holds []*holding // by support
	held  []bool     // entries of a vector that are held
	top   *level
	node  []int32 // active node at a stored place, -1 for a ghost
	scale brick.Lame

	// told hears which share of a solve is done, by the digits won; it may be nil.
	told    func(share float64)
	reached float64
}

// newSystem assembles the operator on the cells and builds its hierarchy.
func newSystem(c *cells, e brick.Lame, h *holding) (*system, error) {
	s := &system{c: c, scale: e, holds: h.each, op: newOperator(c, e, h.extra)}
	s.node = make([]int32, s.op.stored+2)
	for i := range s.node {
		s.node[i] = -1
	}
	for t, p := range s.op.pos {
		s.node[p] = int32(t)
	}
	s.held = make([]bool, s.op.length())
	for node, hold := range h.nodes {
		p := s.op.storedAt(node[0], node[1], node[2])
		if p == 0 || s.node[p] < 0 {
			continue
		}
		for a, yes := range hold {
			if yes {
				s.held[3*int(p)+a] = true
			}
		}
	}
	for i, yes := range s.held {
		if yes {
			s.op.fixed = append(s.op.fixed, int32(i))
		}
	}
	s.top = &level{
		bs: 3, n: len(s.op.pos), pos: s.op.pos, size: s.op.length(),
		apply: s.op.apply, row: s.row,
	}
	s.top.patch = newPatches(s)
	return s, s.top.coarsen(s.nodeBlocks(), s.motions())
}

// length returns the length of a vector.
func (op *operator) length() int { return 3 * (op.stored + 2) }

// unknowns returns the number of free displacement components.
func (s *system) unknowns() int { return 3*len(s.op.pos) - len(s.op.fixed) }

// row writes the blocks of active node t, with held components taken out.
func (s *system) row(t int, r *row) {
	r.col, r.block = r.col[:0], r.block[:0]
	op := s.op
	st := op.stencil[int(op.sid[t])*stencilLen:][:stencilLen]
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

// place returns the coordinates of active node t in mm.
func (s *system) place(t int) [3]float64 {
	at := s.op.at[t]
	return [3]float64{s.c.lines[0][at[0]], s.c.lines[1][at[1]], s.c.lines[2][at[2]]}
}

// motions returns the six rigid motions of each active node, about the middle
// of the box and with lengths as a share of its longest side.
func (s *system) motions() []float64 {
	var mid [3]float64
	long := 0.0
	for a := range 3 {
		l := s.c.lines[a]
		mid[a] = (l[0] + l[len(l)-1]) / 2
		long = max(long, l[len(l)-1]-l[0])
	}
	m := make([]float64, len(s.op.pos)*3*rigid)
	for t, p := range s.op.pos {
		x := s.place(t)
		for a := range 3 {
			x[a] = (x[a] - mid[a]) / long
		}
		rows := [3][rigid]float64{
			{1, 0, 0, 0, x[2], -x[1]},
			{0, 1, 0, -x[2], 0, x[0]},
			{0, 0, 1, x[1], -x[0], 0},
		}
		for a := range 3 {
			if !s.held[3*int(p)+a] {
				copy(m[(3*t+a)*rigid:], rows[a][:])
			}
		}
	}
	return m
}

// nodeBlocks gives each active node the number of its block of about three
// nodes along each axis; where cells are flat, more nodes across the flat side,
// so that blocks come out nearly cubic. Where cells are long, nodes are coupled
// weakly along them, and a block is no longer than three nodes.
func (s *system) nodeBlocks() [][3]int32 {
	var mean [3]float64
	for a := range 3 {
		l := s.c.lines[a]
		mean[a] = (l[len(l)-1] - l[0]) / float64(len(l)-1)
	}
	edge := 2.2 * min(max(mean[0], mean[1], mean[2]), 2*min(mean[0], mean[1], mean[2]))
	var of [3][]int32
	for a := range 3 {
		of[a] = lineBlocks(s.c.lines[a], edge)
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

// solve finds u with A u = f, from u = 0, until the error left is below a
// tolerance of u in the norm of the energy, as the preconditioner sees it; the
// stiffness is then right to about its square. It returns the number of
// iterations. In a slender part the motion is so much larger than the strain that
// the residual of the conjugate gradients drifts from the true one by rounding;
// what the true one has left is solved for once more.
func (s *system) solve(ctx context.Context, f, u []float64, tolerance float64) (int, error) {
	n := len(f)
	r, e := make([]float64, n), make([]float64, n)
	copy(r, f)
	for _, i := range s.op.fixed {
		r[i] = 0
	}
	s.reached = 0
	total, energy := 0, 0.0
	for range 2 {
		clear(e)
		its, more, err := s.conjugate(ctx, r, e, energy, tolerance)
		total += its
		energy += more
		if err != nil {
			return total, err
		}
		axpy(1, e, u)
		if its == 0 {
			break
		}
		s.op.strain(u, r)
		scaleAdd(-1, f, r)
		for _, i := range s.op.fixed {
			r[i] = 0
		}
	}
	return total, nil
}

// conjugate runs conjugate gradients for A u = r from u = 0, overwriting r, until
// the square of the error is below that of the tolerance times the energy: what
// was there before and the gain u.A u, which it returns beside the iterations.
func (s *system) conjugate(ctx context.Context, r, u []float64, energy, tolerance float64) (its int, gain float64, err error) {
	const most, enough = 250, 1e-5 // what rounding leaves in a sheet of paper
	n := len(r)
	z, p, q := make([]float64, n), make([]float64, n), make([]float64, n)
	rz, start := 0.0, 0.0
	for ; ; its++ {
		if err := ctx.Err(); err != nil {
			return its, gain, err
		}
		s.top.cycle(r, z)
		before := rz
		rz = dot(r, z)
		start = max(start, rz)
		if rz <= tolerance*tolerance*(energy+gain) {
			return its, gain, nil
		}
		if its == most && rz <= enough*enough*(energy+gain) {
			return its, gain, nil
		}
		if its == most || math.IsNaN(rz) {
			return its, gain, fmt.Errorf("solid: no convergence in %d iterations (error %.1e of the first); is every piece of the part held?", its, math.Sqrt(rz/start))
		}
		if !(rz > 0) {
			return its, gain, fmt.Errorf("solid: the equations are not definite after %d iterations; is every piece of the part held?", its)
		}
		s.tell(math.Log(start/rz) / -math.Log(tolerance*tolerance))
		if its == 0 {
			copy(p, z)
		} else {
			scaleAdd(rz/before, z, p)
		}
		s.op.apply(p, q)
		alpha := rz / dot(p, q)
		gain += alpha * rz
		axpy(alpha, p, u)
		axpy(-alpha, q, r)
	}
}

// tell passes on a share that has risen.
func (s *system) tell(share float64) {
	if s.told != nil && share > s.reached && share < 1 {
		s.reached = share
		s.told(share)
	}
}
