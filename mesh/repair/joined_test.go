package repair

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/sample"
	"swapworth/mesh"
)

func TestCornersOffByHundredthsAreJoinedOnDemandWithTheEffectInTheRange(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	for _, off := range []float64{1e-3, 1e-2} {
		corners := cornersOf(box(0, 40))
		for i := range corners {
			corners[i] = r3.Add(corners[i], r3.Scale(off, r3.Vec{X: random.Float64() - 0.5, Y: random.Float64() - 0.5, Z: random.Float64() - 0.5}))
		}
		m := mesh.Weld(corners)
		if l := loaded(t, m, mesh.Options{}); l.Report.Closed {
			t.Errorf("%g mm: closed as it is", off)
		}
		l := loaded(t, m, mesh.Options{Repair: Faults{Join: 0.02}})
		less, more := 0.0, 0.0
		for _, r := range l.Repairs {
			lo, hi := r.Doubt()
			less, more = less+lo, more+hi
		}
		v := l.Mesh.SignedVolume()
		if !l.Report.Closed || v-less > 64000 || v+more < 64000 || more > 6*off*40*40 {
			t.Errorf("%g mm: closed %v, %g - %g + %g, want 64000", off, l.Report.Closed, v, less, more)
		}
	}
}

func TestAMendedFileSaysSoInTheNextRun(t *testing.T) {
	m := sample.Without(box(0, 10), func(f int) bool { return f == 0 || f == 1 })
	l := loaded(t, m, mesh.Options{Repair: Faults{}})
	l.Repairs[0].LessMM3, l.Repairs[0].MoreMM3 = 12.5, 250 // as where a hole may be missing
	path := t.TempDir() + "/mended.stl"
	if err := l.WriteFile(path, false); err != nil {
		t.Fatal(err)
	}
	for unit, cube := range map[mesh.Unit]float64{mesh.Millimetre: 1, mesh.Centimetre: 1000} {
		again, err := mesh.Load(path, mesh.Options{Unit: unit})
		if err != nil {
			t.Fatal(err)
		}
		if len(again.Repairs) != 1 || !again.Repairs[0].Earlier {
			t.Fatalf("repairs %+v", again.Repairs)
		}
		if less, more := again.Repairs[0].Doubt(); less != 12.5*cube || more != 250*cube {
			t.Errorf("in %s: %g less, %g more", unit, less, more)
		}
		// And in the run after that.
		second := t.TempDir() + "/again.stl"
		if err := again.WriteFile(second, false); err != nil {
			t.Fatal(err)
		}
		if third, err := mesh.Load(second, mesh.Options{}); err != nil || len(third.Repairs) != 1 || third.Repairs[0].LessMM3 != 12.5*cube {
			t.Errorf("%+v, %v", third, err)
		}
	}
	if plain := loaded(t, box(0, 10), mesh.Options{}); len(plain.Repairs) > 0 {
		t.Errorf("a sound file: %+v", plain.Repairs)
	}
}

func TestCornersThatNearlyMeetAreSaidBeforeTheyAreJoined(t *testing.T) {
	corners := cornersOf(box(0, 64))
	corners[4].X += 1e-4
	file := string(binaryOf(t, mesh.Weld(corners)))
	l, err := mesh.LoadFrom(strings.NewReader(file), "part.stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if text := strings.Join(l.Warnings, " "); l.Report.Closed || !strings.Contains(text, "1 corner at a gap lies within ") {
		t.Errorf("closed %v, warnings %q", l.Report.Closed, text)
	}
	l, err = mesh.LoadFrom(strings.NewReader(file), "part.stl", mesh.Options{Repair: Faults{}})
	if err != nil {
		t.Fatal(err)
	}
	if !l.Report.Closed || len(l.Repairs) != 1 || math.Abs(l.Mesh.SignedVolume()-64*64*64) > l.Repairs[0].AddedVolumeMM3 {
		t.Errorf("closed %v, volume %g, repairs %+v", l.Report.Closed, l.Mesh.SignedVolume(), l.Repairs)
	}
}
