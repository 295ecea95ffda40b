package multigrid

import "golang.org/x/sys/cpu"

// wide4 says that the processor multiplies and adds four numbers at a time.
var wide4 = cpu.X86.HasAVX2 && cpu.X86.HasFMA

// rowsFMA does what stencilRows does for count nodes; it reads one number beyond
// the last stencil.
//
//go:noescape
func rowsFMA(stencil *float64, sid *int32, runs *[9]int32, pos *int32, x, y *float64, count int)

// rows sets the three entries of y of active nodes lo to hi-1 to those of A x.
func (op *operator) rows(x, y []float64, lo, hi int) {
	if !wide4 || lo == hi {
		op.plainRows(x, y, lo, hi)
		return
	}
	rowsFMA(&op.stencil[0], &op.sid[lo], &op.runs[lo], &op.pos[lo], &x[0], &y[0], hi-lo)
}
