package multigrid

import (
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// bandFactor is the factor of a banded matrix whose diagonal outweighs its rows.
func bandFactor(n, k int) (blas64.TriangularBand, []float64) {
	r := rand.New(rand.NewPCG(uint64(n), uint64(k)))
	a := blas64.SymmetricBand{Uplo: blas.Upper, N: n, K: k, Stride: k + 1, Data: make([]float64, n*(k+1))}
	for i := range a.Data {
		a.Data[i] = r.Float64() - 0.5
	}
	for i := range n {
		a.Data[i*a.Stride] = float64(k + 1)
	}
	u, ok := lapack64.Pbtrf(a)
	if !ok {
		panic("not definite")
	}
	b := make([]float64, n)
	for i := range b {
		b[i] = r.NormFloat64()
	}
	return u, b
}

func TestABandIsSolvedAsLapackSolvesIt(t *testing.T) {
	for _, size := range [][2]int{{1, 0}, {7, 2}, {40, 39}, {300, 57}} {
		u, b := bandFactor(size[0], size[1])
		got, want := slices.Clone(b), slices.Clone(b)
		solveBand(u, got)
		lapack64.Pbtrs(u, blas64.General{Rows: len(b), Cols: 1, Stride: 1, Data: want})
		if !slices.Equal(got, want) {
			t.Errorf("%v: differs", size)
		}
	}
}

func BenchmarkSolveBand(b *testing.B) {
	u, x := bandFactor(3000, 500)
	b.Run("rows", func(b *testing.B) {
		for range b.N {
			solveBand(u, slices.Clone(x))
		}
	})
	b.Run("lapack", func(b *testing.B) {
		for range b.N {
			lapack64.Pbtrs(u, blas64.General{Rows: len(x), Cols: 1, Stride: 1, Data: slices.Clone(x)})
		}
	})
}
