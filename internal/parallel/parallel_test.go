package parallel

import (
	"strings"
	"sync/atomic"
	"testing"
)

func TestEveryIndexIsVisitedOnce(t *testing.T) {
	for _, n := range []int{0, 1, 7, 100, 101} {
		seen := make([]atomic.Int32, n)
		Chunks(n, 10, func(chunk, from, to int) {
			if from != 10*chunk || to != min(n, from+10) {
				t.Errorf("n %d: run %d is %d to %d", n, chunk, from, to)
			}
			for i := from; i < to; i++ {
				seen[i].Add(1)
			}
		})
		for i := range seen {
			if seen[i].Load() != 1 {
				t.Errorf("n %d: %d visited %d times", n, i, seen[i].Load())
			}
		}
	}
}

func TestAPanicInAnyPieceReachesTheCaller(t *testing.T) {
	for piece := range 4 {
		func() {
			defer func() {
				f, ok := recover().(*Fault)
				if !ok || f.Value != "broken" || !strings.Contains(string(f.Stack), "parallel_test") {
					t.Errorf("piece %d: recovered %v", piece, f)
				}
			}()
			Each(2, func(int) {
				Each(4, func(i int) {
					if i == piece {
						panic("broken")
					}
				})
			})
			t.Errorf("piece %d: no panic", piece)
		}()
	}
}
