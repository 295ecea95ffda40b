package mesh

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// with returns the cube after a change to a copy of its faces.
func with(change func(f [][3]int32) [][3]int32) *Mesh {
	return &Mesh{Vertices: unitCube.Vertices, Faces: change(slices.Clone(unitCube.Faces))}
}

// turned returns the mesh with every face looking the other way.
func (m *Mesh) turned() *Mesh {
	t := &Mesh{Vertices: m.Vertices}
	for _, f := range m.Faces {
		t.Faces = append(t.Faces, turnedFace(f))
	}
	return t
}

func TestEachFaultOfACubeIsCounted(t *testing.T) {
	type counts struct {
		closed                               bool
		open, overused, flipped, flat, twice int
	}
	for _, c := range []struct {
		name string
		m    *Mesh
		want counts
	}{
		{"sound", unitCube, counts{closed: true}},
		{"no faces", &Mesh{}, counts{}},
		{"a face missing", with(func(f [][3]int32) [][3]int32 { return f[1:] }), counts{open: 3}},
		{"a face turned", with(func(f [][3]int32) [][3]int32 { f[4] = turnedFace(f[4]); return f }), counts{flipped: 3}},
		{"a face twice", with(func(f [][3]int32) [][3]int32 { return append(f, f[2]) }), counts{overused: 3, twice: 1}},
		{"a face and its back", with(func(f [][3]int32) [][3]int32 { return append(f, turnedFace(f[2])) }), counts{overused: 3, twice: 1}},
		{"a face that is a point", with(func(f [][3]int32) [][3]int32 { return append(f, [3]int32{2, 2, 2}) }), counts{closed: true, flat: 1}},
		{"a face that is an edge", with(func(f [][3]int32) [][3]int32 { return append(f, [3]int32{2, 3, 2}) }), counts{closed: true, flat: 1}},
		{"nothing but a point", &Mesh{Vertices: unitCube.Vertices, Faces: [][3]int32{{1, 1, 1}}}, counts{flat: 1}},
		{"inside out", unitCube.turned(), counts{closed: true}},
		{"every face twice", Weld(append(cornersOf(unitCube), cornersOf(unitCube)...)), counts{overused: 18, twice: 12}},
	} {
		r := Check(c.m)
		got := counts{r.Closed, r.OpenEdges, r.OverusedEdges, r.FlippedEdges, r.ZeroAreaFaces, r.DuplicateFaces}
		if got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}

// cornersOf lists the corners of a mesh, three a face.
func cornersOf(m *Mesh) []r3.Vec {
	var list []r3.Vec
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		list = append(list, a, b, c)
	}
	return list
}

func TestASliverOnAnEdgeKeepsAMeshClosed(t *testing.T) {
	// The edge 0-1 of the cube gets a point in its middle on one side only; a face
	// Without area fills the difference.
	m := with(func(f [][3]int32) [][3]int32 {
		for i, v := range f {
			if v == [3]int32{0, 1, 5} {
				f[i] = [3]int32{0, 8, 5}
				return append(f, [3]int32{8, 1, 5}, [3]int32{0, 1, 8})
			}
		}
		t.Fatal("the cube has no face 0 1 5")
		return nil
	})
	m.Vertices = append(slices.Clone(m.Vertices), r3.Vec{X: 0.5})
	r := Check(m)
	if !r.Closed || r.ZeroAreaFaces != 1 || m.SignedVolume() != 1 {
		t.Errorf("closed %v, %d faces without area, volume %g; want true, 1, 1", r.Closed, r.ZeroAreaFaces, m.SignedVolume())
	}
}

func TestGapsAreListedWithTheirMiddleLargestFirst(t *testing.T) {
	// Without the top, a square of four edges; without one bottom triangle, three.
	m := with(func(f [][3]int32) [][3]int32 { return slices.Delete(f, 0, 1) })
	m.Faces = slices.DeleteFunc(m.Faces, func(f [3]int32) bool { return min(f[0], f[1], f[2]) >= 4 })
	r := Check(m)
	if r.Closed || r.OpenEdges != 7 || r.GapTotal != 2 {
		t.Fatalf("%+v, want 7 open edges in 2 gaps", r)
	}
	if g := r.Gaps[0]; g.Edges != 4 || r3.Norm(r3.Sub(g.At, r3.Vec{X: 0.5, Y: 0.5, Z: 1})) > 1e-15 {
		t.Errorf("first gap %+v, want the open top", g)
	}
	if g := r.Gaps[1]; g.Edges != 3 || g.At.Z != 0 {
		t.Errorf("second gap %+v, want the triangle below", g)
	}
}

func box(lo, hi float64) *Mesh {
	return Cuboid(r3.Vec{X: lo, Y: lo, Z: lo}, r3.Vec{X: hi, Y: hi, Z: hi})
}

func TestAnInsideOutShellInsideAnotherIsACavity(t *testing.T) {
	m := Merge(box(40, 60).turned(), box(0, 100), box(45, 55))
	r := Check(m)
	if !r.Closed || len(r.Shells) != 3 {
		t.Fatalf("%+v, want three closed shells", r)
	}
	for i, want := range []struct {
		volume float64
		cavity bool
	}{{1e6, false}, {-8000, true}, {1000, false}} {
		if s := r.Shells[i]; s.Cavity != want.cavity || math.Abs(s.VolumeMM3-want.volume) > 1e-9 || s.Faces != 12 {
			t.Errorf("shell %d: %+v, want %+v", i+1, s, want)
		}
	}
	if v := m.SignedVolume(); math.Abs(v-993000) > 1e-6 {
		t.Errorf("volume %g, want 993000", v)
	}
}

func TestAnInsideOutShellBesideAnotherIsNoCavity(t *testing.T) {
	r := Check(Merge(box(0, 10), box(20, 25).turned()))
	if r.Shells[1].Cavity {
		t.Error("a shell outside of the other was taken for a cavity")
	}
}

func TestBodiesThatTouchAlongAnEdgeAreBalancedNotClosed(t *testing.T) {
	m := Weld(append(cornersOf(box(0, 1)), cornersOf(Cuboid(r3.Vec{X: 1, Y: 1}, r3.Vec{X: 2, Y: 2, Z: 1}))...))
	r := Check(m)
	if r.Closed || !r.Balanced || r.OverusedEdges != 1 {
		t.Errorf("%+v, want a balanced mesh with one edge of four faces", r)
	}
}
