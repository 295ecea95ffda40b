package mass_test

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// prism extrudes a convex outline, counter-clockwise, from z 0 to height.
func prism(outline []r2.Vec, height float64) *mesh.Mesh {
	n := int32(len(outline))
	m := &mesh.Mesh{}
	for _, z := range []float64{0, height} {
		for _, p := range outline {
			m.Vertices = append(m.Vertices, r3.Vec{X: p.X, Y: p.Y, Z: z})
		}
	}
	for i := range n {
		j := (i + 1) % n
		m.Faces = append(m.Faces, [3]int32{i, j, j + n}, [3]int32{i, j + n, i + n})
	}
	for i := int32(1); i < n-1; i++ {
		m.Faces = append(m.Faces, [3]int32{0, i + 1, i}, [3]int32{n, n + i, n + i + 1})
	}
	return m
}

// polygon is a regular outline with its corners on a circle.
func polygon(sides int, radius float64) []r2.Vec {
	out := make([]r2.Vec, sides)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(sides))
		out[i] = r2.Vec{X: radius * cos, Y: radius * sin}
	}
	return out
}

// lathe turns a closed profile of (radius, z), counter-clockwise, about z in n
// steps. Points on the axis become one vertex.
func lathe(profile []r2.Vec, n int) *mesh.Mesh {
	m := &mesh.Mesh{}
	ring := make([][]int32, len(profile))
	for i, p := range profile {
		for k := range n {
			if p.X == 0 && k > 0 {
				ring[i] = append(ring[i], ring[i][0])
				continue
			}
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
			ring[i] = append(ring[i], int32(len(m.Vertices)))
			m.Vertices = append(m.Vertices, r3.Vec{X: p.X * cos, Y: p.X * sin, Z: p.Y})
		}
	}
	for i := range profile {
		lower, upper := ring[i], ring[(i+1)%len(profile)]
		for k := range n {
			a, b, c, d := lower[k], lower[(k+1)%n], upper[(k+1)%n], upper[k]
			if a != b {
				m.Faces = append(m.Faces, [3]int32{a, b, c})
			}
			if c != d {
				m.Faces = append(m.Faces, [3]int32{a, c, d})
			}
		}
	}
	return m
}

// ball is the profile of a sphere for lathe.
func ball(radius float64, steps int) []r2.Vec {
	var out []r2.Vec
	for i := range steps + 1 {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(steps))
		out = append(out, r2.Vec{X: radius * sin, Y: -radius * cos})
	}
	out[0].X, out[steps].X = 0, 0
	return out
}

// arc adds the points of a round corner about centre, end points included.
func arc(out []r2.Vec, centre r2.Vec, radius, from, to float64, chords int) []r2.Vec {
	for i := range chords + 1 {
		sin, cos := math.Sincos((from + (to-from)*float64(i)/float64(chords)) * math.Pi / 180)
		out = append(out, r2.Vec{X: centre.X + radius*cos, Y: centre.Y + radius*sin})
	}
	return out
}

// rounded is a rectangle with round corners.
func rounded(w, h, radius float64, chords int) []r2.Vec {
	var out []r2.Vec
	for i, c := range []r2.Vec{{X: w - radius, Y: radius}, {X: w - radius, Y: h - radius},
		{X: radius, Y: h - radius}, {X: radius, Y: radius}} {
		out = arc(out, c, radius, float64(90*i-90), float64(90*i), chords)
	}
	return out
}

// placed turns a mesh by a rotation drawn from the seed and shifts it.
func placed(m *mesh.Mesh, seed uint64, shift r3.Vec) *mesh.Mesh {
	rng := rand.New(rand.NewPCG(seed, 1))
	rotation := r3.NewRotation(2*math.Pi*rng.Float64(), r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
	out := &mesh.Mesh{Faces: m.Faces}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, r3.Add(rotation.Rotate(v), shift))
	}
	return out
}

// single rounds every coordinate to a float32, as an STL file does.
func single(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Faces: m.Faces}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, r3.Vec{
			X: float64(float32(v.X)), Y: float64(float32(v.Y)), Z: float64(float32(v.Z))})
	}
	return out
}

// referencePart is what testdata/reference says of a part: integrals of the
// boundary-representation solid by OpenCASCADE, see its README.
type referencePart struct {
	Volume   float64    `json:"volume_mm3"`
	Centroid [3]float64 `json:"centroid_mm"`
	Inertia  [9]float64 `json:"inertia_about_centroid_mm5"`
	Area     float64    `json:"surface_mm2"`
	STL      struct {
		Triangles int     `json:"triangles"`
		Volume    float64 `json:"volume_mm3"`
	} `json:"stl"`
}

func reference(t *testing.T, name string) (*mesh.Loaded, referencePart) {
	t.Helper()
	l, err := mesh.Load("../testdata/reference/"+name+".stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile("../testdata/reference/" + name + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var part referencePart
	if err := json.Unmarshal(text, &part); err != nil {
		t.Fatal(err)
	}
	return l, part
}

var referenceParts = []string{"slab", "tube", "ribbed", "carriage_old", "carriage_new"}

func relative(got, want float64) float64 { return math.Abs(got-want) / math.Abs(want) }
