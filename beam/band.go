package beam

import (
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// bandFactor is the Cholesky factor of a symmetric positive definite band
// matrix. mat.BandCholesky also estimates the condition, which here takes ten
// times as long as the factor and says little: rotations and displacements
// differ by a length.
type bandFactor struct{ upper blas64.TriangularBand }

// factorBand returns false when the matrix is not positive definite. The matrix
// is lost.
func factorBand(m *mat.SymBandDense) (bandFactor, bool) {
	t, ok := lapack64.Pbtrf(m.RawSymBand())
	return bandFactor{t}, ok
}

// solve returns the solutions for the columns of b.
func (f bandFactor) solve(b *mat.Dense) *mat.Dense {
	x := mat.DenseCopyOf(b)
	lapack64.Pbtrs(f.upper, x.RawMatrix())
	return x
}

// solveVec returns the solution for one right-hand side.
func (f bandFactor) solveVec(b []float64) []float64 {
	x := mat.NewDense(len(b), 1, append([]float64(nil), b...))
	lapack64.Pbtrs(f.upper, x.RawMatrix())
	return x.RawMatrix().Data
}
