package cut_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/internal/sample"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

func TestTheTwoHalvesOfAClippedPartAddUp(t *testing.T) {
	part := sample.Bracket()
	property.Check(t, func(t *rapid.T) {
		m := part.Transformed(sample.DrawMotion(t))
		p := sample.DrawPlane(t, m)
		whole := sample.Volume(m)
		var sum float64
		for _, side := range []mesh.Plane{p, p.Flipped()} {
			half, err := cut.Clip(m, side)
			if err != nil {
				if strings.Contains(err.Error(), "nothing lies below") {
					continue
				}
				t.Fatalf("%v", err)
			}
			sample.RequireBalanced(t, half)
			for _, v := range half.Vertices {
				if side.Height(v) > 1e-8 {
					t.Fatalf("vertex %v lies %g mm above the plane", v, side.Height(v))
				}
			}
			sum += sample.Volume(half)
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
	part := sample.Bracket()
	property.Check(t, func(t *rapid.T) {
		m := part.Transformed(sample.DrawMotion(t))
		a := rapid.SampledFrom([]mesh.Axis{mesh.X, mesh.Y, mesh.Z}).Draw(t, "axis")
		s := cut.NewSlicer(m, a)
		area := func(cut func(float64) (cut.Region, error), x float64) float64 {
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
		if want := sample.Volume(m); math.Abs(volume-want) > 1e-8*want {
			t.Fatalf("integral %.12g mm3, volume %.12g mm3", volume, want)
		}
	})
}

func TestCutAndSlicerAndTheCapAgree(t *testing.T) {
	part := sample.Bracket()
	property.Check(t, func(t *rapid.T) {
		m := part.Transformed(sample.DrawMotion(t))
		a := rapid.SampledFrom([]mesh.Axis{mesh.X, mesh.Y, mesh.Z}).Draw(t, "axis")
		b := m.Bounds()
		x := a.Of(b.Min) + rapid.Float64Range(0.001, 0.999).Draw(t, "at")*a.Of(b.Size())
		p := mesh.AxisPlane(a, x)
		one, err := cut.Section(m, p)
		if err != nil {
			t.Fatalf("%v", err)
		}
		two, err := cut.NewSlicer(m, a).At(x)
		if err != nil {
			t.Fatalf("%v", err)
		}
		half, err := cut.Clip(m, p)
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
			if cut.LoopArea(p.Outer) <= 0 {
				t.Fatalf("an outer loop runs clockwise")
			}
			for _, h := range p.Holes {
				if cut.LoopArea(h) >= 0 {
					t.Fatalf("a hole runs counter-clockwise")
				}
			}
			requireTriangulation(t, p)
		}
	})
}

func TestClipLeavesAPartBelowThePlaneAlone(t *testing.T) {
	m := sample.Bracket()
	for _, z := range []float64{9, 10} {
		half, err := cut.Clip(m, mesh.AxisPlane(mesh.Z, z))
		if err != nil {
			t.Fatal(err)
		}
		sample.RequireClosed(t, half)
		sample.Near(t, "volume", sample.Volume(half), sample.Volume(m), 1e-9)
	}
	if _, err := cut.Clip(m, mesh.AxisPlane(mesh.Z, 0)); err == nil || !strings.Contains(err.Error(), "0 to 9 mm") {
		t.Errorf("got %v", err)
	}
}

func TestClippingAnOpenMeshIsRefused(t *testing.T) {
	m := sample.Tube()
	m.Faces = m.Faces[1:]
	if _, err := cut.Clip(m, mesh.AxisPlane(mesh.X, 20)); err == nil || !strings.Contains(err.Error(), "open near") {
		t.Errorf("got %v", err)
	}
}

func TestShellsThatCutIntoEachOtherCannotBeCapped(t *testing.T) {
	m := mesh.Merge(mesh.Cuboid(r3.Vec{}, r3.Vec{X: 10, Y: 10, Z: 10}), mesh.Cuboid(r3.Vec{X: 5, Y: 5}, r3.Vec{X: 15, Y: 15, Z: 10}))
	if _, err := cut.Clip(m, mesh.AxisPlane(mesh.Z, 3)); err == nil || !strings.Contains(err.Error(), "cut into each other near") {
		t.Errorf("got %v", err)
	}
}
