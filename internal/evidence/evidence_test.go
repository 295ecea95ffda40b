package evidence

import (
	"math"
	"testing"

	"swapworth/mesh"
)

const folder = "../../testdata/verify"

// Made parts are closed, and every place they are held and loaded at is found.
func TestBlindPartsAreSoundAndTheirPlacesAreThere(t *testing.T) {
	for seed := range uint64(3) {
		parts, err := BlindParts(seed, 16)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range parts {
			if r := mesh.Check(b.Mesh); !r.Closed || !(b.Volume > 1000) {
				t.Errorf("%s, a %s: closed %v, volume %.0f mm3", b.Name, b.Family, r.Closed, b.Volume)
				continue
			}
			if found, _ := mesh.Intersections(b.Mesh); len(found) > 0 {
				t.Errorf("%s, a %s: it cuts itself", b.Name, b.Family)
			}
			s, err := b.from(b.Mesh)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range b.Cases {
				if _, err := s.problem(c.Hold, 1); err != nil {
					t.Error(b.Family, err)
				}
			}
		}
	}
}

func TestTheSameSeedMakesTheSameParts(t *testing.T) {
	volumes := func(seed uint64) (v []float64) {
		parts, err := BlindParts(seed, 8)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range parts {
			v = append(v, p.Volume)
		}
		return
	}
	a, b, c := volumes(3), volumes(3), volumes(4)
	for i := range a {
		if a[i] != b[i] {
			t.Errorf("part %d: %g and %g mm3 from one seed", i+1, a[i], b[i])
		}
		if a[i] == c[i] {
			t.Errorf("part %d: %g mm3 from two seeds", i+1, a[i])
		}
	}
}

func TestARowIsInsideWithinBothErrorsAlone(t *testing.T) {
	rows := []Row{
		{Truth: 100, TruthError: 0.5, Ours: 101.4, Stated: 1},
		{Truth: 100, TruthError: 0.5, Ours: 101.6, Stated: 1},
		{Truth: 100, TruthError: 0.5, Ours: 97, Stated: 1},
	}
	s := Summed(rows)
	if s.Inside != 1 || s.Of != 3 || math.Abs(s.Median-1.6) > 1e-9 || math.Abs(s.Worst-3) > 1e-9 || s.Beyond != 1 {
		t.Errorf("%+v", s)
	}
}
