package triangle

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestSideIsExactNextToThePlane(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	point := func() r3.Vec { return r3.Vec{X: random.Float64(), Y: random.Float64(), Z: random.Float64()} }
	for range 2000 {
		a, b, c := point(), point(), point()
		s, u := random.Float64(), random.Float64()
		d := r3.Add(a, r3.Add(r3.Scale(s, r3.Sub(b, a)), r3.Scale(u, r3.Sub(c, a))))
		if got, want := Side(a, b, c, d), exactSide(a, b, c, d); got != want {
			t.Fatalf("side of %v is %d, want %d", d, got, want)
		}
		if Side(a, b, c, a) != 0 || Side(a, b, c, d)+Side(b, a, c, d) != 0 {
			t.Fatal("a corner lies beside its own plane, or the sign does not turn with the plane")
		}
	}
}
