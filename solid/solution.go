package solid

import (
	"context"
	"fmt"
	"math"

	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/multigrid"
)

// solution is what a system answers to nodal forces. A system is that of a
// material with a modulus of 1 MPa: displacements are mm times the modulus of the
// part, and forces and stresses are as they are.
type solution struct {
	f, u       []float64
	iterations int
	work       float64    // f.u
	largest    float64    // displacement of the surface
	reaction   [3]float64 // of the supports, grid axes
	imbalance  float64
	springs    float64 // energy in the springs of holds, of the whole
	peaks      map[string]peaks
}

// peaks are the largest stresses of a solution, MPa.
type peaks struct {
	peak
	atCorner bool
}

// ringing are natural frequencies for a modulus of 1 MPa, Hz.
type ringing struct {
	mass []float64 // g
	hz   []float64
}

// multiple returns the number by which a must be multiplied to give b; ok says
// whether there is one.
func multiple(a, b []float64) (by float64, ok bool) {
	if len(a) != len(b) {
		return 0, false
	}
	at := 0
	for i, v := range a {
		if math.Abs(v) > math.Abs(a[at]) {
			at = i
		}
	}
	if a[at] == 0 || b[at] == 0 {
		return 0, false
	}
	by = b[at] / a[at]
	slack := 1e-12 * math.Abs(b[at])
	for i, v := range a {
		if math.Abs(by*v-b[i]) > slack {
			return 0, false
		}
	}
	return by, true
}

const (
	keptSolutions = 12   // of one system
	solverGoal    = 3e-6 // error over displacement, in the norm of the energy
)

// solved returns the answer to nodal forces f and the number by which it must be
// multiplied.
func (k *keptSystem) solved(ctx context.Context, f []float64, load float64, name string) (*solution, float64, error) {
	for _, s := range k.solutions {
		if by, ok := multiple(s.f, f); ok {
			return s, by, nil
		}
	}
	s := &solution{f: f, u: make([]float64, len(f)), peaks: map[string]peaks{}}
	var err error
	if s.iterations, err = k.Solve(ctx, f, s.u, solverGoal); err != nil {
		return nil, 0, err
	}
	s.work = multigrid.Dot(f, s.u)
	if !(s.work > 0) {
		return nil, 0, fmt.Errorf("solid: load case %q acts only where the part is held, so nothing moves; load another place", name)
	}
	k.eachSpring(k.springs, s.u, func(entry int, force float64) { s.springs += force * s.u[entry] / s.work })
	s.reaction, s.imbalance = k.reaction(f, s.u, load)
	if len(k.solutions) == keptSolutions {
		k.solutions = append(k.solutions[:0], k.solutions[1:]...)
	}
	k.solutions = append(k.solutions, s)
	return s, 1, nil
}

// rings returns the lowest natural frequencies for masses (g) by entry of a
// vector and a modulus of 1 MPa.
func (k *keptSystem) ringsAt(ctx context.Context, mass []float64, count int) ([]float64, error) {
	for _, r := range k.rings {
		if by, ok := multiple(r.mass, mass); ok && by > 0 && len(r.hz) >= count {
			hz := make([]float64, count)
			for i := range hz {
				hz[i] = r.hz[i] / math.Sqrt(by)
			}
			return hz, nil
		}
	}
	hz, err := k.Frequencies(ctx, mass, count)
	if err != nil {
		return nil, err
	}
	k.rings = append(k.rings, &ringing{mass, hz})
	return hz, nil
}

// answer is a solution and the number by which it must be multiplied.
type answer struct {
	*solution
	by float64
}

// moveAt returns the displacement at a point of a cell, grid axes.
func (s *system) moveAt(u []float64, cell [3]int, p [3]float64) (move [3]float64) {
	shape := brick.Shapes(s.c.Local(cell, p))
	for k := range brick.Corners {
		q := s.EntryAt(cell[0]+k>>2, cell[1]+k>>1&1, cell[2]+k&1)
		for a := range 3 {
			move[a] += shape[k] * u[q+a]
		}
	}
	return
}
