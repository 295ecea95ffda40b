package page

import (
	"math"
	"path/filepath"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/quantity"
	"swapworth/solid"
)

// Every place that the page offers is found by its word where the page shows it: by the
// reader of the flags, on the same faces of the mesh.
func TestThePlacesOfThePageAreThoseOfTheSolution(t *testing.T) {
	for _, name := range []string{"plate_old.stl", "plate_new.stl", "arm_new.stl", "reference/carriage_new.stl"} {
		l, err := mesh.Load(filepath.Join("..", "..", "testdata", name), mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		found := feature.Find(l.Mesh)
		p := placesOf(quantity.Metric, l.Mesh, &found)
		kinds := map[string]int{}
		for i, place := range p.places {
			read, err := solid.ParsePlace(place.Word, mesh.X)
			if err != nil || read.String() != place.Word {
				t.Fatalf("%s: %q is read as %v, %v", name, place.Word, read, err)
			}
			if len(place.Marks) == 0 || place.Label == "" {
				t.Errorf("%s: %s has no mark or no label", name, place.Word)
			}
			var faces []int32
			switch {
			case read.Hole() > 0:
				kinds["hole"]++
				faces = found.Holes[read.Hole()-1].Faces
			case read.Rim() > 0:
				kinds["rim"]++
				faces = found.Rims()[read.Rim()-1].Faces
			default:
				kinds["face"]++
				at, look, ok := read.Face()
				if !ok {
					t.Fatalf("%s: %s is no place of a surface", name, place.Word)
				}
				faces = []int32{nearestTriangle(l.Mesh, at, look)}
			}
			for _, f := range faces {
				if p.owner[f] != int32(i) {
					t.Errorf("%s: %s is place %d, and its face %d belongs to place %d", name, place.Word, i, f, p.owner[f])
					break
				}
			}
		}
		if kinds["hole"] != len(found.Holes) || kinds["rim"] != len(found.Rims()) || kinds["face"] == 0 {
			t.Errorf("%s: %v of %d holes and %d rims", name, kinds, len(found.Holes), len(found.Rims()))
		}
	}
}

// nearestTriangle is the face of a mesh whose middle and sides come nearest to a point,
// of those that look a way.
func nearestTriangle(m *mesh.Mesh, at, look r3.Vec) (best int32) {
	least := math.Inf(1)
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
		if l := r3.Norm(n); l == 0 || r3.Dot(n, look) < 0.996*l {
			continue
		}
		n = r3.Unit(n)
		d := math.Abs(r3.Dot(n, r3.Sub(at, a)))
		for _, side := range [][2]r3.Vec{{a, b}, {b, c}, {c, a}} { // how far outside of each side
			out := r3.Unit(r3.Cross(r3.Sub(side[1], side[0]), n))
			d += max(0, r3.Dot(out, r3.Sub(at, side[0])))
		}
		if d < least {
			best, least = int32(f), d
		}
	}
	return best
}
