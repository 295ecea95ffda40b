package mesh

import (
	"math"
	"strings"
	"swapworth/internal/property"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// bracket is a sound part with holes, a pocket and a boss, 60 x 40 x 9.
func bracket() *Mesh {
	plate, boss, bore := rectangle(0, 0, 60, 40), ring(r2.Vec{X: 15, Y: 20}, 10, 32), ring(r2.Vec{X: 15, Y: 20}, 4, 32)
	pocket := rectangle(35, 10, 55, 30)
	m, err := Stack(AxisPlane(Z, 0),
		Layer{Region{{Outer: plate, Holes: [][]r2.Vec{reversed(bore)}}}, 2},
		Layer{Region{{Outer: plate, Holes: [][]r2.Vec{reversed(bore), reversed(pocket)}}}, 4},
		Layer{Region{{Outer: boss, Holes: [][]r2.Vec{reversed(bore)}}}, 3})
	if err != nil {
		panic(err)
	}
	return m
}

// requireBalanced fails unless every edge is used as often in one direction as
// in the other: a plane that touches a hole's wall along a line leaves an edge of
// four faces there.
func requireBalanced(t *rapid.T, m *Mesh) {
	t.Helper()
	uses := map[[2]int32]int{}
	for _, f := range m.Faces {
		for k := range f {
			uses[[2]int32{f[k], f[(k+1)%3]}]++
		}
	}
	for e, n := range uses {
		if back := uses[[2]int32{e[1], e[0]}]; n != back || n > 2 {
			t.Fatalf("edge %v at %v is used %d times, its reverse %d times", e, m.Vertices[e[0]], n, back)
		}
	}
}

// drawMotion is any rigid motion up to 1 m away.
func drawMotion(t *rapid.T) Transform {
	f := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
	motion := RotationAbout(r3.Vec{X: f("ax"), Y: f("ay"), Z: f("az")}, math.Pi*f("angle"))
	motion.Shift = r3.Scale(1000, r3.Vec{X: f("sx"), Y: f("sy"), Z: f("sz")})
	return motion
}

// drawPlane is a plane through the part's box, with a lean to axis directions
// and to planes that pass exactly through vertices.
func drawPlane(t *rapid.T, m *Mesh) Plane {
	through := m.Vertices[rapid.IntRange(0, len(m.Vertices)-1).Draw(t, "vertex")]
	if rapid.Bool().Draw(t, "between") {
		b := m.Bounds()
		f := func(name string) float64 { return rapid.Float64Range(0.01, 0.99).Draw(t, name) }
		s := b.Size()
		through = r3.Add(b.Min, r3.Vec{X: f("x") * s.X, Y: f("y") * s.Y, Z: f("z") * s.Z})
	}
	if rapid.Bool().Draw(t, "axis") {
		a := rapid.SampledFrom([]Axis{X, Y, Z}).Draw(t, "along")
		return AxisPlane(a, a.Of(through))
	}
	n := func(name string) float64 { return rapid.Float64Range(-1, 1).Draw(t, name) }
	p, err := PlaneFromNormal(through, r3.Vec{X: n("nx"), Y: n("ny"), Z: n("nz")})
	if err != nil {
		return AxisPlane(X, through.X)
	}
	return p
}

func TestTheTwoHalvesOfAClippedPartAddUp(t *testing.T) {
	part := bracket()
	property.Check(t, func(t *rapid.T) {
		m := part.Transformed(drawMotion(t))
		p := drawPlane(t, m)
		whole := signedVolume(m)
		var sum float64
		for _, side := range []Plane{p, p.Flipped()} {
			half, err := Clip(m, side)
			if err != nil {
				if strings.Contains(err.Error(), "nothing lies below") {
					continue
				}
				t.Fatalf("%v", err)
			}
			requireBalanced(t, half)
			for _, v := range half.Vertices {
				if side.Height(v) > 1e-8 {
					t.Fatalf("vertex %v lies %g mm above the plane", v, side.Height(v))
				}
			}
			sum += signedVolume(half)
		}
		if math.Abs(sum-whole) > 1e-9*whole {
			t.Fatalf("halves add up to %.12g mm3, the whole is %.12g mm3", sum, whole)
		}
	})
}

// The area of the section, integrated along the axis, is the volume. Between
// neighbouring vertex positions the area is a quadratic polynomial, which
// Simpson's rule integrates exactly.
func TestSectionAreasIntegrateToTheVolume(t *testing.T) {
	part := bracket()
	property.Check(t, func(t *rapid.T) {
		m := part.Transformed(drawMotion(t))
		a := rapid.SampledFrom([]Axis{X, Y, Z}).Draw(t, "axis")
		s := NewSlicer(m, a)
		area := func(cut func(float64) (Region, error), x float64) float64 {
			r, err := cut(x)
			if err != nil {
				t.Fatalf("%v", err)
			}
			return r.Area()
		}
		xs := s.Positions(0)
		var volume float64
		for i := 0; i+1 < len(xs); i++ {
			lo, hi := xs[i], xs[i+1]
			volume += (hi - lo) / 6 * (area(s.Above, lo) + 4*area(s.At, lo/2+hi/2) + area(s.At, hi))
		}
		if want := signedVolume(m); math.Abs(volume-want) > 1e-8*want {
			t.Fatalf("integral %.12g mm3, volume %.12g mm3", volume, want)
		}
	})
}

func TestCutAndSlicerAndTheCapAgree(t *testing.T) {
	part := bracket()
	property.Check(t, func(t *rapid.T) {
		m := part.Transformed(drawMotion(t))
		a := rapid.SampledFrom([]Axis{X, Y, Z}).Draw(t, "axis")
		b := m.Bounds()
		x := a.Of(b.Min) + rapid.Float64Range(0.001, 0.999).Draw(t, "at")*a.Of(b.Size())
		p := AxisPlane(a, x)
		one, err := Cut(m, p)
		if err != nil {
			t.Fatalf("%v", err)
		}
		two, err := NewSlicer(m, a).At(x)
		if err != nil {
			t.Fatalf("%v", err)
		}
		half, err := Clip(m, p)
		if err != nil {
			t.Fatalf("%v", err)
		}
		var cap float64
		for f := range half.Faces {
			a, b, c := half.Triangle(f)
			if max(p.Height(a), p.Height(b), p.Height(c)) == 0 && min(p.Height(a), p.Height(b), p.Height(c)) == 0 {
				cap += r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
			}
		}
		want := one.Area()
		if math.Abs(two.Area()-want) > 1e-12*want {
			t.Fatalf("slicer %g mm2, cut %g mm2", two.Area(), want)
		}
		for _, p := range one {
			if LoopArea(p.Outer) <= 0 {
				t.Fatalf("an outer loop runs clockwise")
			}
			for _, h := range p.Holes {
				if LoopArea(h) >= 0 {
					t.Fatalf("a hole runs counter-clockwise")
				}
			}
			requireTriangulation(t, p)
		}
	})
}

func TestClipLeavesAPartBelowThePlaneAlone(t *testing.T) {
	m := bracket()
	for _, z := range []float64{9, 10} {
		half, err := Clip(m, AxisPlane(Z, z))
		if err != nil {
			t.Fatal(err)
		}
		requireClosed(t, half)
		near(t, "volume", signedVolume(half), signedVolume(m), 1e-9)
	}
	if _, err := Clip(m, AxisPlane(Z, 0)); err == nil || !strings.Contains(err.Error(), "0 to 9 mm") {
		t.Errorf("got %v", err)
	}
}

func TestClippingAnOpenMeshIsRefused(t *testing.T) {
	m := tube()
	m.Faces = m.Faces[1:]
	if _, err := Clip(m, AxisPlane(X, 20)); err == nil || !strings.Contains(err.Error(), "open near") {
		t.Errorf("got %v", err)
	}
}

func TestShellsThatCutIntoEachOtherCannotBeCapped(t *testing.T) {
	m := Merge(Cuboid(r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10}), Cuboid(r3.Vec{X: 5, Y: 5}, r3.Vec{X: 15, Y: 15, Z: 10}))
	if _, err := Clip(m, AxisPlane(Z, 3)); err == nil || !strings.Contains(err.Error(), "cut into each other near") {
		t.Errorf("got %v", err)
	}
}
