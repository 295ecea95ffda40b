package reach

import (
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
)

// A view finds some things when it is first asked for them; several may ask at once, and
// the race detector watches.
func TestAViewMayBeAskedByManyAtOnce(t *testing.T) {
	m := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 40, Y: 30, Z: 2})
	f := feature.Find(m)
	v := Look(m, f, feature.Axes(m, f.Faces))
	thin := func(v *View) (n int) {
		for _, s := range v.Samples {
			if t, _, ok := v.Thickness(s); ok && t < 5 {
				n++
			}
		}
		return n
	}
	alone := thin(Look(m, f, feature.Axes(m, f.Faces)))
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			if got := thin(v); got != alone {
				t.Errorf("%d thin places, alone %d", got, alone)
			}
			for k := range m.Faces {
				v.extent(int32(k), k%3)
			}
		})
	}
	all.Wait()
}
