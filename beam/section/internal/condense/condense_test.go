package condense

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
)

// springs is a square net of n x n points with random springs between
// neighbours; every point of the first row is fixed.
func springs(n int, rng *rand.Rand) *System {
	s := &System{Size: 2, Total: n * n}
	id := func(i, j int) int32 {
		if i == 0 {
			return -1
		}
		return int32(i*n + j)
	}
	var stiff []float64
	add := func(i, j, k, l int) {
		s.Unknowns = append(s.Unknowns, id(i, j), id(k, l))
		s.Centers = append(s.Centers, r2.Vec{X: float64(i+k) / 2, Y: float64(j+l) / 2})
		stiff = append(stiff, 0.1+rng.Float64())
	}
	for i := range n {
		for j := range n {
			if i+1 < n {
				add(i, j, i+1, j)
			}
			if j+1 < n {
				add(i, j, i, j+1)
			}
		}
	}
	s.Stiffness = func(e int, k []float64) {
		k[0], k[1], k[2], k[3] = stiff[e], -stiff[e], -stiff[e], stiff[e]
	}
	for range 2 {
		load := make([]float64, s.Total)
		for i := range load {
			load[i] = rng.NormFloat64()
		}
		s.Loads = append(s.Loads, load)
	}
	return s
}

func TestSolutionsAgreeWithADenseFactorisation(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{2, 3, 10, 25, 45} {
		s := springs(n, rng)
		got, err := s.Solve()
		if err != nil {
			t.Fatal(err)
		}
		a := mat.NewSymDense(s.Total, nil)
		k := make([]float64, 4)
		for e := range s.Centers {
			s.Stiffness(e, k)
			u := s.of(int32(e))
			for i := range 2 {
				for j := range 2 {
					if u[i] >= 0 && u[j] >= u[i] {
						a.SetSym(int(u[i]), int(u[j]), a.At(int(u[i]), int(u[j]))+k[2*i+j])
					}
				}
			}
		}
		for i := range n {
			a.SetSym(i, i, 1)
		}
		var c mat.Cholesky
		if !c.Factorize(a) {
			t.Fatal("dense factorisation failed")
		}
		for j, load := range s.Loads {
			var x mat.VecDense
			if err := c.SolveVecTo(&x, mat.NewVecDense(s.Total, load)); err != nil {
				t.Fatal(err)
			}
			for i := n; i < s.Total; i++ {
				if math.Abs(got[j][i]-x.AtVec(i)) > 1e-9*(1+math.Abs(x.AtVec(i))) {
					t.Fatalf("n %d, load %d: unknown %d is %g, want %g", n, j, i, got[j][i], x.AtVec(i))
				}
			}
		}
	}
}

func (s *System) of(e int32) []int32 { return s.Unknowns[2*e : 2*e+2] }

func TestALooseStructureIsSingular(t *testing.T) {
	s := springs(6, rand.New(rand.NewPCG(3, 4)))
	for i, u := range s.Unknowns {
		if u < 0 {
			s.Unknowns[i] = 0
		}
	}
	s.Stiffness = func(e int, k []float64) { k[0], k[1], k[2], k[3] = 1, -1, -1, 1 }
	if _, err := s.Solve(); !errors.Is(err, errSingular) {
		t.Errorf("error %v, want ErrSingular", err)
	}
}

func BenchmarkNetOf40000(b *testing.B) {
	s := springs(200, rand.New(rand.NewPCG(5, 6)))
	for b.Loop() {
		if _, err := s.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
