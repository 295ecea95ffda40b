package beam

import (
	"encoding/json"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestPlacesOfStressesAreWrittenAsThreeNumbers(t *testing.T) {
	out, err := json.Marshal(Stress{Bending: 4, BendingAt: r3.Vec{X: 1, Y: 2, Z: 3}, EquivalentAt: r3.Vec{Z: 5}})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"bending_mpa":4`, `"bending_at_mm":[1,2,3]`, `"equivalent_at_mm":[0,0,5]`, `"hole":null`} {
		if strings.Count(string(out), want) != 1 {
			t.Errorf("%s lacks %s", out, want)
		}
	}
}
