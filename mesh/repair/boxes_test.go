package repair

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// Boxes on a small grid meet flush, at edges and at corners more often than not.
func TestBoxesOnAGridOverlapExactlyWhereTheyShareSpace(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	draw := func() mesh.Box {
		var lo, hi [3]float64
		for k := range lo {
			a, b := random.IntN(6), random.IntN(6)
			lo[k], hi[k] = float64(min(a, b)), float64(max(a, b)+1)
		}
		return mesh.Box{Min: r3.Vec{X: lo[0], Y: lo[1], Z: lo[2]}, Max: r3.Vec{X: hi[0], Y: hi[1], Z: hi[2]}}
	}
	volume := func(b mesh.Box) float64 {
		s := b.Size()
		return max(0, s.X) * max(0, s.Y) * max(0, s.Z)
	}
	for range 40 {
		a, b := draw(), draw()
		if a == b {
			continue // one box after welding
		}
		both := volume(mesh.Box{Min: upper(a.Min, b.Min), Max: lower(a.Max, b.Max)})
		m := mesh.Merge(mesh.Cuboid(a.Min, a.Max), mesh.Cuboid(b.Min, b.Max))
		if got := mesh.Check(m).OverlapTotal > 0; got != (both > 0) {
			t.Errorf("boxes %v and %v share %g mm3, overlap found: %v", a, b, both, got)
		}
		united, repairs := unite(m)
		if (len(repairs) > 0) != (both > 0) {
			t.Errorf("boxes %v and %v share %g mm3, repairs %+v", a, b, both, repairs)
			continue
		}
		doubt := 1e-9
		for _, r := range repairs {
			doubt += r.AddedVolumeMM3
		}
		if want := volume(a) + volume(b) - both; math.Abs(united.SignedVolume()-want) > doubt || doubt > 1e-4*want {
			t.Errorf("boxes %v and %v: united %g, want %g within %g", a, b, united.SignedVolume(), want, doubt)
		}
	}
}

// upper returns the larger of each pair of coordinates, lower the smaller.
func upper(a, b r3.Vec) r3.Vec { return r3.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)} }

func lower(a, b r3.Vec) r3.Vec { return r3.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)} }
