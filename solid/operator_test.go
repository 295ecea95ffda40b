package solid

import (
	"math"
	"testing"

	"swapworth/solid/internal/brick"
)

// roughOperator is the stiffness of the milled plate on a grid of its own.
func roughOperator(t testing.TB, count [3]int) *operator {
	m, _ := loadReference(t, "carriage_new")
	s := modelSurface(m)
	g := &grid{}
	for a := range 3 {
		g.setAxis(a, []float64{s.low[a], s.high[a]}, []int{count[a]})
	}
	return newOperator(fillCells(s, g, 4), brick.LameOf(1, 0.33), nil)
}

// noise fills a vector with numbers from -1 to 1 at the active nodes.
func (op *operator) noise() []float64 {
	x := make([]float64, op.length())
	for _, p := range op.pos {
		for a := range 3 {
			x[3*int(p)+a] = math.Sin(float64(3*int(p) + a))
		}
	}
	return x
}

func TestRowsFourNumbersAtATimeAreThoseOneAtATime(t *testing.T) {
	op := roughOperator(t, [3]int{24, 14, 2})
	x := op.noise()
	want, got := make([]float64, len(x)), make([]float64, len(x))
	op.plainRows(x, want, 0, len(op.pos))
	op.rows(x, got, 0, len(op.pos))
	largest := 0.0
	for _, v := range want {
		largest = max(largest, math.Abs(v))
	}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-13*largest {
			t.Fatalf("entry %d: %g, want %g", i, got[i], want[i])
		}
	}
}

// BenchmarkRows compares the product with the matrix four numbers at a time with
// that one at a time.
func BenchmarkRows(b *testing.B) {
	op := roughOperator(b, [3]int{120, 70, 6})
	x := op.noise()
	y := make([]float64, len(x))
	var plain, quick float64
	for b.Loop() {
		before := processorSeconds()
		op.plainRows(x, y, 0, len(op.pos))
		between := processorSeconds()
		op.rows(x, y, 0, len(op.pos))
		plain, quick = plain+between-before, quick+processorSeconds()-between
	}
	b.ReportMetric(quick/plain, "of-plain")
	b.ReportMetric(1e9*quick/float64(b.N*len(op.pos)), "ns/node")
}
