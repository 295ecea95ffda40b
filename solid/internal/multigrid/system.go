package multigrid

import (
	"context"
	"fmt"
	"math"

	"swapworth/solid/internal/brick"
)

// System is the equations of a grid of bricks with their hierarchy of coarser grids.
//
// A vector holds displacements in mm or forces in N: three numbers, by axis, for each
// node at which bricks meet, and some that are always zero. Entry and EntryAt say where
// those of a node start.
type System struct {
	Fixed []int32             // entries of a vector that are held, rising
	Told  func(share float64) // hears which share of a solve is done, by the digits won; may be nil

	g       *Grid
	op      *operator
	held    []bool // by entry
	top     *level
	node    []int32 // active node at a stored place, -1 for a ghost
	reached float64 // the share told last
}

// New assembles the stiffness of a grid and builds its hierarchy. It fails with ErrFree
// where bricks are not held against every rigid motion. The grid must not change
// afterwards.
func New(g *Grid) (*System, error) {
	s := &System{g: g, op: newOperator(g)}
	s.node = make([]int32, s.op.stored+2)
	for i := range s.node {
		s.node[i] = -1
	}
	for t, p := range s.op.pos {
		s.node[p] = int32(t)
	}
	s.held = make([]bool, s.Length())
	for node, hold := range g.Held {
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
			s.Fixed = append(s.Fixed, int32(i))
		}
	}
	if s.isFree() {
		return nil, ErrFree
	}
	s.top = &level{
		bs: 3, n: len(s.op.pos), pos: s.op.pos, size: s.Length(),
		apply: s.apply, row: s.row,
	}
	s.top.patch = newPatches(s)
	return s, s.top.coarsen(s.nodeBlocks(), s.motions())
}

// Length returns the length of a vector.
func (s *System) Length() int { return s.op.length() }

// Unknowns returns the number of free displacement components.
func (s *System) Unknowns() int { return 3*len(s.op.pos) - len(s.Fixed) }

// ApplyAll sets y = A x with the rows of fixed entries too: there y is the
// reaction.
func (s *System) ApplyAll(x, y []float64) { s.op.apply(x, y) }

// Strain sets y = A x as ApplyAll does, but in a way that a rigid motion in x, however
// large, costs no digits.
func (s *System) Strain(x, y []float64) { s.op.strain(x, y) }

// Solve finds u with A u = f, from u = 0, until the error left is below a
// tolerance of u in the norm of the energy, as the preconditioner sees it; the
// stiffness is then right to about its square. It returns the number of
// iterations. In a slender part the motion is so much larger than the strain that
// the residual of the conjugate gradients drifts from the true one by rounding;
// what the true one has left is solved for once more.
func (s *System) Solve(ctx context.Context, f, u []float64, tolerance float64) (int, error) {
	n := len(f)
	r, e := make([]float64, n), make([]float64, n)
	copy(r, f)
	for _, i := range s.Fixed {
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
		Axpy(1, e, u)
		if its == 0 {
			break
		}
		s.op.strain(u, r)
		ScaleAdd(-1, f, r)
		for _, i := range s.Fixed {
			r[i] = 0
		}
	}
	return total, nil
}

// conjugate runs conjugate gradients for A u = r from u = 0, overwriting r, until
// the square of the error is below that of the tolerance times the energy: what
// was there before and the gain u.A u, which it returns beside the iterations.
func (s *System) conjugate(ctx context.Context, r, u []float64, energy, tolerance float64) (its int, gain float64, err error) {
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
		rz = Dot(r, z)
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
			ScaleAdd(rz/before, z, p)
		}
		s.apply(p, q)
		alpha := rz / Dot(p, q)
		gain += alpha * rz
		Axpy(alpha, p, u)
		Axpy(-alpha, q, r)
	}
}

// tell passes on a share that has risen.
func (s *System) tell(share float64) {
	if s.Told != nil && share > s.reached && share < 1 {
		s.reached = share
		s.Told(share)
	}
}

// Bytes estimates the memory that the system takes: stencils, patches, prolongations,
// matrices and the vectors of a solution or two.
func (s *System) Bytes() int {
	n := 8*len(s.op.stencil) + 8*len(s.g.Elements)*brick.DOF*brick.DOF + 8*len(s.top.patch.val)
	for l := s.top; l != nil; l = l.next {
		n += 8 * 8 * l.size
		if l.p != nil {
			n += 4 * len(l.p.val)
		}
		if l.direct != nil {
			n += 8 * len(l.direct.Data)
		}
	}
	return n + 120*len(s.op.pos)
}
