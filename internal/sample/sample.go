package sample

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// Ring returns n points on a circle, counter-clockwise.
func Ring(center r2.Vec, radius float64, n int) []r2.Vec {
	loop := make([]r2.Vec, n)
	for i := range loop {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		loop[i] = r2.Add(center, r2.Vec{X: radius * c, Y: radius * s})
	}
	return loop
}

func Reversed(loop []r2.Vec) []r2.Vec {
	back := make([]r2.Vec, len(loop))
	for i, p := range loop {
		back[len(loop)-1-i] = p
	}
	return back
}

func Rectangle(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// Tube is a closed square tube along x, outside 10 x 10, wall 2, length 40,
// with the bore's ends joined to the outside by ring faces.
func Tube() *mesh.Mesh {
	const length = 40.0
	m := &mesh.Mesh{}
	for _, s := range []float64{0, 2} { // outer square, then inner square
		for _, x := range []float64{0, length} {
			for _, p := range [][2]float64{{s, s}, {10 - s, s}, {10 - s, 10 - s}, {s, 10 - s}} {
				m.Vertices = append(m.Vertices, r3.Vec{X: x, Y: p[0], Z: p[1]})
			}
		}
	}
	quad := func(a, b, c, d int32) {
		m.Faces = append(m.Faces, [3]int32{a, b, c}, [3]int32{a, c, d})
	}
	for i := range int32(4) {
		j := (i + 1) % 4
		quad(i, i+4, j+4, j)       // outside walls... turned below if needed
		quad(8+i, 8+j, 12+j, 12+i) // bore
		quad(i, j, 8+j, 8+i)       // Ring at x = 0
		quad(4+i, 12+i, 12+j, 4+j) // Ring at x = length
	}
	for i, f := range m.Faces {
		m.Faces[i] = [3]int32{f[0], f[2], f[1]}
	}
	return m
}

// Volume is the sum of signed tetrahedra about the first vertex.
func Volume(m *mesh.Mesh) float64 {
	var six float64
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		o := m.Vertices[0]
		six += r3.Dot(r3.Sub(a, o), r3.Cross(r3.Sub(b, o), r3.Sub(c, o)))
	}
	return six / 6
}

func Near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.15g, want %.15g within %g", what, got, want, tol)
	}
}

// Bracket is a sound part with holes, a pocket and a boss, 60 x 40 x 9.
func Bracket() *mesh.Mesh {
	plate, boss, bore := Rectangle(0, 0, 60, 40), Ring(r2.Vec{X: 15, Y: 20}, 10, 32), Ring(r2.Vec{X: 15, Y: 20}, 4, 32)
	pocket := Rectangle(35, 10, 55, 30)
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0),
		cut.Layer{Region: cut.Region{{Outer: plate, Holes: [][]r2.Vec{Reversed(bore)}}}, Thickness: 2},
		cut.Layer{Region: cut.Region{{Outer: plate, Holes: [][]r2.Vec{Reversed(bore), Reversed(pocket)}}}, Thickness: 4},
		cut.Layer{Region: cut.Region{{Outer: boss, Holes: [][]r2.Vec{Reversed(bore)}}}, Thickness: 3})
	if err != nil {
		panic(err)
	}
	return m
}

// DrawMotion is any rigid motion up to 1 m away.
func DrawMotion(t *rapid.T) mesh.Transform {
	f := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
	motion := mesh.RotationAbout(r3.Vec{X: f("ax"), Y: f("ay"), Z: f("az")}, math.Pi*f("angle"))
	motion.Shift = r3.Scale(1000, r3.Vec{X: f("sx"), Y: f("sy"), Z: f("sz")})
	return motion
}

// DrawPlane is a plane through the part's box, with a lean to axis directions
// and to planes that pass exactly through vertices.
func DrawPlane(t *rapid.T, m *mesh.Mesh) mesh.Plane {
	through := m.Vertices[rapid.IntRange(0, len(m.Vertices)-1).Draw(t, "vertex")]
	if rapid.Bool().Draw(t, "between") {
		b := m.Bounds()
		f := func(name string) float64 { return rapid.Float64Range(0.01, 0.99).Draw(t, name) }
		s := b.Size()
		through = r3.Add(b.Min, r3.Vec{X: f("x") * s.X, Y: f("y") * s.Y, Z: f("z") * s.Z})
	}
	if rapid.Bool().Draw(t, "axis") {
		a := rapid.SampledFrom([]mesh.Axis{mesh.X, mesh.Y, mesh.Z}).Draw(t, "along")
		return mesh.AxisPlane(a, a.Of(through))
	}
	n := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
	p, err := mesh.PlaneFromNormal(through, r3.Vec{X: n("nx"), Y: n("ny"), Z: n("nz")})
	if err != nil {
		return mesh.AxisPlane(mesh.X, through.X)
	}
	return p
}

// edgeUses counts how often faces use every edge in each direction.
func edgeUses(m *mesh.Mesh) map[[2]int32]int {
	uses := map[[2]int32]int{}
	for _, f := range m.Faces {
		for k := range f {
			uses[[2]int32{f[k], f[(k+1)%3]}]++
		}
	}
	return uses
}

// RequireBalanced fails unless every edge is used as often in one direction as
// in the other: a plane that touches a hole's wall along a line leaves an edge of
// four faces there.
func RequireBalanced(t *rapid.T, m *mesh.Mesh) {
	t.Helper()
	uses := edgeUses(m)
	for e, n := range uses {
		if back := uses[[2]int32{e[1], e[0]}]; n != back || n > 2 {
			t.Fatalf("edge %v at %v is used %d times, its reverse %d times", e, m.Vertices[e[0]], n, back)
		}
	}
}

// RequireClosed fails unless every edge is used once in each direction.
func RequireClosed(t interface {
	Helper()
	Fatalf(string, ...any)
}, m *mesh.Mesh) {
	t.Helper()
	uses := edgeUses(m)
	for e, n := range uses {
		if n != 1 || uses[[2]int32{e[1], e[0]}] != 1 {
			t.Fatalf("edge %v at %v is used %d times, its reverse %d times",
				e, m.Vertices[e[0]], n, uses[[2]int32{e[1], e[0]}])
		}
	}
}

// Ball is a sphere of latitude rings with n chords a turn.
func Ball(radius float64, n int) *mesh.Mesh {
	m := &mesh.Mesh{Vertices: []r3.Vec{{Z: -radius}}}
	for i := 1; i < n/2; i++ {
		lat := math.Pi*float64(i)/float64(n/2) - math.Pi/2
		for _, q := range Ring(r2.Vec{}, radius*math.Cos(lat), n) {
			m.Vertices = append(m.Vertices, r3.Vec{X: q.X, Y: q.Y, Z: radius * math.Sin(lat)})
		}
	}
	top := int32(len(m.Vertices))
	m.Vertices = append(m.Vertices, r3.Vec{Z: radius})
	size := int32(n)
	for j := range size {
		k := (j + 1) % size
		m.Faces = append(m.Faces, [3]int32{0, 1 + k, 1 + j}, [3]int32{top, top - size + j, top - size + k})
		for a := int32(1); a+size < top; a += size {
			m.Faces = append(m.Faces, [3]int32{a + j, a + k, a + size + k}, [3]int32{a + j, a + size + k, a + size + j})
		}
	}
	return m
}

func Without(m *mesh.Mesh, gone func(f int) bool) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: m.Vertices}
	for f := range m.Faces {
		if !gone(f) {
			out.Faces = append(out.Faces, m.Faces[f])
		}
	}
	return out
}
