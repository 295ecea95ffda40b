package feature

import (
	"math"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// pierced is a plate of 60 x 60 x 5 with through holes of 4 mm at places.
func pierced(t testing.TB, at [][2]float64) *mesh.Mesh {
	t.Helper()
	p := cut.Polygon{Outer: []r2.Vec{{}, {X: 60}, {X: 60, Y: 60}, {Y: 60}}}
	for _, c := range at {
		p.Holes = append(p.Holes, reversed(circle(c[0], c[1], 2, 24)))
	}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{p}, Thickness: 5})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// shuffled is the mesh with its triangles and vertices in another order and the
// corners of each triangle turned.
func shuffled(m *mesh.Mesh, seed int64) *mesh.Mesh {
	random := rand.New(rand.NewSource(seed))
	place := random.Perm(len(m.Vertices))
	out := &mesh.Mesh{Vertices: make([]r3.Vec, len(m.Vertices))}
	for i, to := range place {
		out.Vertices[to] = m.Vertices[i]
	}
	for _, f := range random.Perm(len(m.Faces)) {
		v := m.Faces[f]
		turn := random.Intn(3)
		out.Faces = append(out.Faces, [3]int32{
			int32(place[v[turn]]), int32(place[v[(turn+1)%3]]), int32(place[v[(turn+2)%3]])})
	}
	return out
}

// quartered cuts every triangle into four at the middles of its sides.
func quartered(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: slices.Clone(m.Vertices)}
	middle := map[[2]int32]int32{}
	between := func(a, b int32) int32 {
		key := [2]int32{min(a, b), max(a, b)}
		if _, ok := middle[key]; !ok {
			middle[key] = int32(len(out.Vertices))
			out.Vertices = append(out.Vertices, r3.Scale(0.5, r3.Add(m.Vertices[a], m.Vertices[b])))
		}
		return middle[key]
	}
	for _, v := range m.Faces {
		ab, bc, ca := between(v[0], v[1]), between(v[1], v[2]), between(v[2], v[0])
		out.Faces = append(out.Faces, [3]int32{v[0], ab, ca}, [3]int32{v[1], bc, ab}, [3]int32{v[2], ca, bc}, [3]int32{ab, bc, ca})
	}
	return out
}

func TestHoleNumbersStayWhateverTheOrderOfTriangles(t *testing.T) {
	for name, c := range map[string]struct {
		at   [][2]float64
		want []int // indices of at in the order of the numbers
	}{
		"three within 0.08 of x, the middle one near both": {[][2]float64{{30, 50}, {30.04, 30}, {30.08, 10}}, []int{2, 1, 0}},
		"neighbours beyond 0.1 are two columns":            {[][2]float64{{30, 50}, {30.15, 30}, {30.3, 10}}, []int{0, 1, 2}},
		"a chain of near neighbours is one column":         {[][2]float64{{30, 52}, {30.09, 40}, {30.18, 28}, {30.27, 16}}, []int{3, 2, 1, 0}},
		"a column and a row that share a hole": {
			[][2]float64{{10, 10.06}, {10.05, 30}, {10.02, 50}, {30, 10}, {50, 10.09}}, []int{0, 1, 2, 3, 4}},
	} {
		m := pierced(t, c.at)
		for seed := range int64(12) {
			for kind, part := range map[string]*mesh.Mesh{"shuffled": shuffled(m, seed), "remeshed": shuffled(quartered(m), seed)} {
				holes := Holes(part)
				if len(holes) != len(c.at) {
					t.Fatalf("%s, %s: %d holes of %d", name, kind, len(holes), len(c.at))
				}
				for n, h := range holes {
					want := c.at[c.want[n]]
					if math.Hypot(h.Centre.X-want[0], h.Centre.Y-want[1]) > 0.01 {
						t.Fatalf("%s, %s %d: hole %d lies at %.2f, %.2f, not at %v", name, kind, seed, n+1, h.Centre.X, h.Centre.Y, want)
					}
				}
			}
		}
	}
}

func TestTheOrderOfPlacesIsThatOfTheSetWhateverTheOrderOfTheList(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		near := rapid.SampledFrom([]float64{0, 0.03, 0.06, 0.09, 0.12, 5, 5.05, 5.1, 9})
		var points []r3.Vec
		for range rapid.IntRange(2, 9).Draw(t, "count") {
			points = append(points, r3.Vec{X: near.Draw(t, "x"), Y: near.Draw(t, "y"), Z: near.Draw(t, "z")})
		}
		mixed := rapid.Permutation(points).Draw(t, "mixed")
		a, b := inOrder(points, byPlace(points, oneCoordinate)), inOrder(mixed, byPlace(mixed, oneCoordinate))
		if !slices.Equal(a, b) {
			t.Fatalf("%v\n%v", a, b)
		}
	})
}

func TestAGapNearTheLimitIsSaidWhereItDecidesNumbers(t *testing.T) {
	for _, c := range []struct {
		at   [][2]float64
		said bool
	}{
		{[][2]float64{{30, 50}, {30.095, 30}}, true},
		{[][2]float64{{30, 50}, {30.105, 30}}, true},
		{[][2]float64{{30, 50}, {30.115, 30}}, true},
		{[][2]float64{{30, 50}, {30.13, 30}}, false},
		{[][2]float64{{30, 30}, {30.095, 50}}, false}, // the same either way
		{[][2]float64{{30, 50}, {30.05, 30}}, false},
		{[][2]float64{{30, 50}, {30.2, 30}}, false},
	} {
		said := NumberingDoubt(Holes(pierced(t, c.at)))
		if (said != "") != c.said || c.said && !strings.Contains(said, "holes 1 and 2 differ by 0.") {
			t.Errorf("%v: %q", c.at, said)
		}
	}
}

func TestRimsAreTheOuterRoundWallsThatGoRound(t *testing.T) {
	disc := cut.Polygon{Outer: circle(0, 0, 30, 48), Holes: [][]r2.Vec{reversed(circle(0, 0, 8, 32))}}
	neck := cut.Polygon{Outer: circle(0, 0, 12, 48), Holes: [][]r2.Vec{reversed(circle(0, 0, 8, 32))}}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), cut.Layer{Region: cut.Region{disc}, Thickness: 6}, cut.Layer{Region: cut.Region{neck}, Thickness: 10})
	if err != nil {
		t.Fatal(err)
	}
	f := Find(m)
	rims := f.Rims()
	if len(rims) != 2 || math.Abs(rims[0].Radius-30) > 1e-3 || math.Abs(rims[1].Radius-12) > 1e-3 {
		t.Errorf("rims %+v", rims)
	}
	plate := Find(pierced(t, [][2]float64{{30, 30}}))
	if rims := plate.Rims(); len(rims) != 0 {
		t.Errorf("a square plate has %d rims", len(rims))
	}
}
