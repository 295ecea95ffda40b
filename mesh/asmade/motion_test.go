package asmade

import (
	"math"
	"testing"

	"swapworth/internal/property"
	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A part's own directions matter, not those of its file.
func TestVariantsDoNotDependOnHowThePartLiesInItsFile(t *testing.T) {
	straight := stack(t,
		layer(2, rectangle(0, 0, 100, 60), circle(10, 10, 2.75), circle(90, 50, 2.75)),
		layer(4, rectangle(0, 0, 100, 60), circle(10, 10, 2.75), circle(90, 50, 2.75), rounded(30, 15, 70, 45, 4)))
	edged := chamfered(t, 80, 40, 10, 1.5)
	property.Few(t, 10, func(t *rapid.T) {
		g := rapid.Float64Range(-1, 1)
		axis := r3.Vec{X: g.Draw(t, "ax"), Y: g.Draw(t, "ay"), Z: g.Draw(t, "az")}
		move := mesh.RotationAbout(axis, math.Pi*g.Draw(t, "angle"))
		move.Shift = r3.Vec{X: 200 * g.Draw(t, "x"), Y: 200 * g.Draw(t, "y"), Z: 200 * g.Draw(t, "z")}
		turned := func(p Part) Part {
			m := p.Mesh.Transformed(move)
			for i, v := range m.Vertices { // as a file stores it
				m.Vertices[i] = r3.Vec{X: float64(float32(v.X)), Y: float64(float32(v.Y)), Z: float64(float32(v.Z))}
			}
			return Read(m)
		}
		same := func(what string, a Variant, errA error, b Variant, errB error) {
			if errA != nil || errB != nil {
				t.Fatalf("%s: %v, %v", what, errA, errB)
			}
			if math.Abs(a.Added-b.Added) > 2e-4*math.Abs(a.Added) || b.Error > 1e-3*math.Abs(a.Added) {
				t.Fatalf("%s: added %g mm3, askew %g with an error of %g", what, a.Added, b.Added, b.Error)
			}
		}
		p, q := straight, turned(straight)
		side := move.Turn(up)
		a, errA := Unfaced(p, up, 8)
		b, errB := Unfaced(q, side, 8)
		same("not faced", a, errA, b, errB)
		a, errA = StockLeft(p, MillAxis(p), 0.3, 0.2, 13)
		b, errB = StockLeft(q, MillAxis(q), 0.3, 0.2, 13)
		same("stock left", a, errA, b, errB)
		a, errA = AtLimit(p, Medium, true)
		b, errB = AtLimit(q, Medium, true)
		same("most material", a, errA, b, errB)
		a, errA = WithoutChamfers(edged)
		b, errB = WithoutChamfers(turned(edged))
		same("chamfers skipped", a, errA, b, errB)
	})
}
