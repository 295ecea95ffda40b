package multigrid

import (
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
)

// solveBand solves U^T U x = b in place, where U is the factor of a banded matrix as
// lapack64.Pbtrf returns it: row by row, the diagonal first. It gives what lapack64.Pbtrs
// gives to the last bit. That sums down the columns of U, each of whose numbers lies in
// another row of the band and another page of memory; this walks the rows and adds each
// to the sums of all columns below, in the same order.
func solveBand(u blas64.TriangularBand, x []float64) {
	sums := make([]float64, u.N)
	for i := range u.N {
		row := u.Data[i*u.Stride:]
		x[i] = (x[i] - sums[i]) / row[0]
		right := min(u.K, u.N-i-1)
		floats.AddScaled(sums[i+1:i+1+right], x[i], row[1:1+right])
	}
	blas64.Tbsv(blas.NoTrans, u, blas64.Vector{N: u.N, Inc: 1, Data: x})
}
