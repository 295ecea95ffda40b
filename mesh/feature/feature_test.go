package feature

import (
	"math"
	"testing"

	"swapworth/internal/property"
	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func reference(t testing.TB, name string) *mesh.Mesh {
	t.Helper()
	loaded, err := mesh.Load("../../testdata/reference/"+name+".stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return loaded.Mesh
}

// motion draws any rotation (a random unit quaternion) and a shift of up to
// half a metre.
func motion(t *rapid.T) mesh.Transform {
	g := rapid.Float64Range(-1, 1)
	q := [4]float64{}
	n := 0.0
	for n < 0.1 {
		n = 0
		for k := range q {
			q[k] = g.Draw(t, "q")
			n += q[k] * q[k]
		}
	}
	n = math.Sqrt(n)
	w, x, y, z := q[0]/n, q[1]/n, q[2]/n, q[3]/n
	return mesh.Transform{
		Rotation: [3][3]float64{
			{1 - 2*(y*y+z*z), 2 * (x*y - w*z), 2 * (x*z + w*y)},
			{2 * (x*y + w*z), 1 - 2*(x*x+z*z), 2 * (y*z - w*x)},
			{2 * (x*z - w*y), 2 * (y*z + w*x), 1 - 2*(x*x+y*y)},
		},
		Shift: r3.Vec{X: 500 * g.Draw(t, "x"), Y: 500 * g.Draw(t, "y"), Z: 500 * g.Draw(t, "z")},
	}
}

// rounded moves a mesh and rounds its corners to float32, as writing it to an
// STL file does.
func rounded(m *mesh.Mesh, move mesh.Transform) *mesh.Mesh {
	out := m.Transformed(move)
	for i, v := range out.Vertices {
		out.Vertices[i] = r3.Vec{
			X: float64(float32(v.X)), Y: float64(float32(v.Y)), Z: float64(float32(v.Z)),
		}
	}
	return out
}

// drawn holds the holes of the reference carriages as drawn: see
// testdata/reference/README.md.
var drawn = []struct{ x, y, d float64 }{
	{10, 10, 5.5}, {10, 60, 5.5}, {60, 15, 4.5}, {60, 55, 4.5}, {110, 10, 5.5}, {110, 60, 5.5},
}

func TestHolesOfTheReferencePartsAreFoundAfterAnyRigidMotion(t *testing.T) {
	for _, part := range []struct {
		name  string
		thick float64
	}{{"carriage_old", 5}, {"carriage_new", 6}} {
		m := reference(t, part.name)
		property.Few(t, 8, func(t *rapid.T) {
			move := motion(t)
			holes := Holes(rounded(m, move))
			if len(holes) != len(drawn) {
				t.Fatalf("%s: %d holes, drawn with %d", part.name, len(holes), len(drawn))
			}
			for _, d := range drawn {
				want := move.Apply(r3.Vec{X: d.x, Y: d.y, Z: part.thick / 2})
				found := false
				for _, h := range holes {
					if r3.Norm(r3.Sub(h.Centre, want)) > 0.01 {
						continue
					}
					found = true
					if math.Abs(h.Diameter-d.d) > 0.02 || math.Abs(h.Depth-part.thick) > 0.02 || h.Kind != Through {
						t.Fatalf("%s: hole at %v: %+v, drawn %g through %g", part.name, want, h, d.d, part.thick)
					}
				}
				if !found {
					t.Fatalf("%s: no hole at %v", part.name, want)
				}
			}
		})
	}
}

func TestPartsWithoutRoundWallsHaveNoHoles(t *testing.T) {
	for _, name := range []string{"slab", "tube", "ribbed"} {
		if h := Holes(reference(t, name)); len(h) != 0 {
			t.Errorf("%s: %+v", name, h)
		}
	}
}

func TestPlanarFacesOfTheOldCarriage(t *testing.T) {
	faces := PlanarFaces(reference(t, "carriage_old"))
	if len(faces) != 6 {
		t.Fatalf("%d faces, drawn with 6", len(faces))
	}
	// the reference JSON's surface_mm2 less the six bores' walls, as drawn
	walls := 0.0
	for _, d := range drawn {
		walls += math.Pi * d.d * 5
	}
	sum := 0.0
	for _, f := range faces {
		sum += f.Area
	}
	if want := 18933.263254529054 - walls; math.Abs(sum-want) > 1e-4*want {
		t.Errorf("planar faces have %.2f mm2, want %.2f", sum, want)
	}
}

func BenchmarkFind(b *testing.B) {
	m := reference(b, "carriage_new")
	for b.Loop() {
		Find(m)
	}
}
