package beam

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// redrawn divides and flips faces of a mesh at random; the solid stays the same.
func redrawn(t *rapid.T, m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: append([]r3.Vec{}, m.Vertices...), Faces: append([][3]int32{}, m.Faces...)}
	random := func(n int, what string) int { return rapid.IntRange(0, n-1).Draw(t, what) }
	for range rapid.IntRange(1, 60).Draw(t, "changes") {
		f := random(len(out.Faces), "face")
		switch rapid.SampledFrom([]string{"point", "edge", "flip"}).Draw(t, "change") {
		case "point":
			split(out, f, rapid.Float64Range(0.1, 0.8).Draw(t, "a"), rapid.Float64Range(0.1, 0.9).Draw(t, "b"))
		case "edge":
			divide(out, f, random(3, "side"), rapid.Float64Range(0.05, 0.95).Draw(t, "at"))
		case "flip":
			flip(out, f, random(3, "side"))
		}
	}
	return out
}

// split puts a point into a face.
func split(m *mesh.Mesh, f int, a, b float64) {
	p, q, r := m.Triangle(f)
	b *= 1 - a
	at := r3.Add(p, r3.Add(r3.Scale(a, r3.Sub(q, p)), r3.Scale(b, r3.Sub(r, p))))
	v, old := int32(len(m.Vertices)), m.Faces[f]
	m.Vertices = append(m.Vertices, at)
	m.Faces[f] = [3]int32{old[0], old[1], v}
	m.Faces = append(m.Faces, [3]int32{old[1], old[2], v}, [3]int32{old[2], old[0], v})
}

// across finds the face on the other side of the edge from a to b and its
// corner beyond.
func across(m *mesh.Mesh, a, b int32) (g int, beyond int32) {
	for i, f := range m.Faces {
		for k := range 3 {
			if f[k] == b && f[(k+1)%3] == a {
				return i, f[(k+2)%3]
			}
		}
	}
	return -1, -1
}

// divide puts a point onto an edge.
func divide(m *mesh.Mesh, f, side int, at float64) {
	a, b, c := m.Faces[f][side], m.Faces[f][(side+1)%3], m.Faces[f][(side+2)%3]
	g, d := across(m, a, b)
	v := int32(len(m.Vertices))
	m.Vertices = append(m.Vertices, r3.Add(m.Vertices[a], r3.Scale(at, r3.Sub(m.Vertices[b], m.Vertices[a]))))
	m.Faces[f], m.Faces[g] = [3]int32{a, v, c}, [3]int32{v, a, d}
	m.Faces = append(m.Faces, [3]int32{v, b, c}, [3]int32{b, v, d})
}

// flip turns the edge between two faces of one plane that make a convex
// quadrilateral.
func flip(m *mesh.Mesh, f, side int) {
	a, b, c := m.Faces[f][side], m.Faces[f][(side+1)%3], m.Faces[f][(side+2)%3]
	g, d := across(m, a, b)
	normal := func(p, q, r int32) r3.Vec {
		return r3.Cross(r3.Sub(m.Vertices[q], m.Vertices[p]), r3.Sub(m.Vertices[r], m.Vertices[p]))
	}
	one, other := normal(a, b, c), normal(b, a, d)
	if r3.Norm(r3.Cross(r3.Unit(one), r3.Unit(other))) > 1e-9 || r3.Dot(one, other) < 0 {
		return
	}
	left, right := normal(d, b, c), normal(a, d, c)
	if least := 1e-3 * r3.Norm(r3.Add(one, other)); r3.Dot(left, one) < least*r3.Norm(one) || r3.Dot(right, one) < least*r3.Norm(one) {
		return
	}
	m.Faces[f], m.Faces[g] = [3]int32{d, b, c}, [3]int32{a, d, c}
}

// shown are parts of every kind: taken and refused.
func shown(t checker) map[string]*mesh.Mesh {
	lip, err := cut.Extrude(only(loop(0, 0, 20, 0, 20, 3, 3, 3, 3, 27, 20, 27, 20, 30, 0, 30)), mesh.AxisPlane(mesh.X, 0), 300)
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*mesh.Mesh{
		"taper with a hole": flatPart(t, 6, loop(0, 0, 150, 4, 150, 22, 0, 26), bore(50, 13, 2)),
		"step":              flatPart(t, 8, loop(0, 0, 200, 0, 200, 12, 80, 12, 80, 24, 0, 24)),
		"channel":           lip,
		"leaning bar":       flatPart(t, 8, loop(0, 0, 200, 20, 200, 40, 0, 20)),
		"bent bar":          flatPart(t, 7, loop(0, 0, 80, 0, 150, 40, 150, 58, 78, 16, 0, 16)),
		"windows":           flatPart(t, 6, box(0, 0, 170, 50), window(12, 6, 80, 44), window(90, 6, 160, 44)),
		"row of holes":      flatPart(t, 6, box(0, 0, 170, 20), bore(40, 10, 9), bore(80, 10, 9), bore(120, 10, 9)),
	}
}

// sameAnswer demands the same numbers, or a refusal for the same cause.
func sameAnswer(t checker, name string, got, want Result, tol float64) {
	t.Helper()
	if (got.Refused == "") != (want.Refused == "") {
		t.Errorf("%s: refused with %q, before with %q", name, got.Refused, want.Refused)
		return
	}
	for what, pair := range map[string][2]*float64{"stiffness": {got.Stiffness, want.Stiffness}, "stress": {got.MaxStress, want.MaxStress},
		"frequency": {got.Frequency, want.Frequency}, "deflection": {got.Deflection, want.Deflection}, "twist": {got.Twist, want.Twist}} {
		if (pair[0] == nil) != (pair[1] == nil) {
			t.Errorf("%s: %s %v, before %v", name, what, pair[0], pair[1])
		} else if pair[0] != nil {
			near(t, name+": "+what, *pair[0], *pair[1], tol)
		}
	}
	if got.MethodError != nil {
		near(t, name+": low error", got.MethodError.Low, want.MethodError.Low, max(tol, tol/abs(want.MethodError.Low)))
		near(t, name+": high error", got.MethodError.High, want.MethodError.High, max(tol, tol/abs(want.MethodError.High)))
	}
}

// The same solid, its faces divided and flipped: the same answer.
func TestTheTrianglesDoNotMatter(t *testing.T) {
	for name, m := range shown(t) {
		for _, load := range []mesh.Axis{mesh.Y, mesh.Z} {
			s := Setup{Load: load, Force: 10}
			want, err := OfPart(m, steel, s)
			if err != nil {
				t.Fatal(err)
			}
			property.Few(t, 6, func(t *rapid.T) {
				got, err := OfPart(redrawn(t, m), steel, s)
				if err != nil {
					t.Fatal(err)
				}
				sameAnswer(t, name, got, want, 1e-6)
			})
		}
	}
}

// The same solid somewhere else, with other names for its axes or seen from
// behind: the same answer.
func TestAPartMayLieAnywhereAndAnyWayRound(t *testing.T) {
	for name, m := range shown(t) {
		want, err := OfPart(m, steel, Setup{Load: mesh.Z, Force: 10})
		if err != nil {
			t.Fatal(err)
		}
		property.Few(t, 6, func(t *rapid.T) {
			shift := r3.Vec{X: rapid.Float64Range(-500, 500).Draw(t, "x"), Y: rapid.Float64Range(-500, 500).Draw(t, "y"), Z: rapid.Float64Range(-500, 500).Draw(t, "z")}
			turn := rapid.IntRange(0, 2).Draw(t, "axes")
			half := rapid.Bool().Draw(t, "half a turn about the span")
			moved := &mesh.Mesh{Faces: m.Faces}
			for _, v := range m.Vertices {
				c := [3]float64{v.X, v.Y, v.Z}
				if half {
					c[1], c[2] = -c[1], -c[2]
				}
				q := r3.Vec{X: c[(3-turn)%3], Y: c[(4-turn)%3], Z: c[(5-turn)%3]} // a cyclic change is a rotation
				moved.Vertices = append(moved.Vertices, r3.Add(q, shift))
			}
			got, err := OfPart(moved, steel, Setup{Span: mesh.Axis(turn), Load: mesh.Axis((2 + turn) % 3), Force: 10})
			if err != nil {
				t.Fatal(err)
			}
			if half && got.Twist != nil { // the shear centre lies on the other side
				back := -*got.Twist
				got.Twist = &back
			}
			sameAnswer(t, name, got, want, 1e-4)
			if !math.IsNaN(got.Slenderness) {
				near(t, name+": slenderness", got.Slenderness, want.Slenderness, 1e-9)
			}
		})
	}
}
