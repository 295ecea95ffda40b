package mesh_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/internal/sample"
	"swapworth/mesh"
)

func TestAQuarterTurnAboutZTakesXToY(t *testing.T) {
	got := mesh.RotationAbout(r3.Vec{Z: 2}, math.Pi/2).Apply(r3.Vec{X: 1, Z: 5})
	if d := r3.Norm(r3.Sub(got, r3.Vec{Y: 1, Z: 5})); d > 1e-15 {
		t.Errorf("got %v", got)
	}
}

func TestMotionsComposeAndUndoThemselves(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		a, b := sample.DrawMotion(t), sample.DrawMotion(t)
		p := r3.Vec{X: 3, Y: -7, Z: 11}
		if d := r3.Norm(r3.Sub(a.Compose(b).Apply(p), a.Apply(b.Apply(p)))); d > 1e-9 {
			t.Fatalf("composed motion is off by %g mm", d)
		}
		if d := r3.Norm(r3.Sub(a.Inverse().Apply(a.Apply(p)), p)); d > 1e-9 {
			t.Fatalf("undone motion is off by %g mm", d)
		}
	})
}

func TestMovingAPartKeepsItsVolume(t *testing.T) {
	part := sample.Bracket()
	property.Check(t, func(t *rapid.T) {
		m := part.Transformed(sample.DrawMotion(t))
		if off := sample.Volume(m)/sample.Volume(part) - 1; math.Abs(off) > 1e-11 {
			t.Fatalf("volume off by %g", off)
		}
	})
}

func TestAMirrorImageStillLooksOutwards(t *testing.T) {
	mirror := mesh.Identity()
	mirror.Rotation[0][0] = -1
	m := sample.Bracket().Transformed(mirror)
	sample.RequireClosed(t, m)
	sample.Near(t, "volume", sample.Volume(m), sample.Volume(sample.Bracket()), 1e-9)
}

func TestACuboidIsClosedAndMergeKeepsShellsApart(t *testing.T) {
	a := mesh.Cuboid(r3.Vec{X: 1, Y: 2, Z: 3}, r3.Vec{X: 4, Y: 6, Z: 8})
	sample.RequireClosed(t, a)
	sample.Near(t, "volume", sample.Volume(a), 60, 1e-12)
	both := mesh.Merge(a, a.Transformed(mesh.Translation(r3.Vec{X: 3})))
	sample.RequireClosed(t, both)
	sample.Near(t, "volume", sample.Volume(both), 120, 1e-12)
	if len(both.Vertices) != 16 {
		t.Errorf("%d vertices, want 16", len(both.Vertices))
	}
}
