package grid

import (
	"testing"

	"pgregory.net/rapid"

	"swapworth/internal/property"
)

// A row of rays is on one side of an edge just where every single ray says so, whole
// numbers, which lie on the edge, among them.
func TestARowOfRaysIsOnOneSideWhereEachRayIs(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		at := rapid.OneOf(rapid.Float64Range(-5, 5), rapid.Map(rapid.IntRange(-5, 5), func(n int) float64 { return float64(n) }))
		point := func(name string) [3]float64 { return [3]float64{at.Draw(t, name), at.Draw(t, name)} }
		e := edgeOf(point("from"), point("to"))
		y := make([]float64, rapid.IntRange(0, 30).Draw(t, "rays"))
		for i := range y {
			y[i] = -4 + 0.5*float64(i)
		}
		x, left := at.Draw(t, "x"), rapid.Bool().Draw(t, "left")
		first, end := e.within(x, y, 0, len(y), left)
		for j := range y {
			if within := j >= first && j < end; within != (e.left(x, y[j]) == left) {
				t.Fatalf("rays %d to %d of %v, yet ray %d is on the side: %t", first, end, y, j, !within)
			}
		}
	})
}
