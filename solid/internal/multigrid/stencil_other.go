//go:build !amd64

package multigrid

// rows sets the three entries of y of active nodes lo to hi-1 to those of A x.
func (op *operator) rows(x, y []float64, lo, hi int) { op.plainRows(x, y, lo, hi) }
