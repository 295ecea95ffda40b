package swap

import (
	"context"
	"strings"
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/swap/joint"
)

func boltedCase(t *testing.T, thread string) Case {
	t.Helper()
	load := func(name string) *mesh.Loaded {
		l, err := mesh.Load("../testdata/"+name, mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	bolt, err := joint.ParseThread(thread)
	if err != nil {
		t.Fatal(err)
	}
	class, err := joint.ParseClass("8.8")
	if err != nil {
		t.Fatal(err)
	}
	c := Case{
		Old:    Side{Loaded: load("arm_old.stl"), Material: material(t, "S235"), Observed: steelCase(t).Old.Observed},
		New:    Side{Loaded: load("arm_new.stl"), Material: material(t, "6061-T6")},
		Limits: DefaultLimits(), Table: materials.Default(),
		Loading: Loading{Method: ByBeam}, // the joint takes its forces as typed
	}
	c.Making.Bolted = &Bolted{Thread: bolt, Class: class}
	return c
}

func TestAJointIsJudgedInTheHoleThatClearsItsBolt(t *testing.T) {
	c := boltedCase(t, "M5")
	c.Making.Bolted.Axial = 100
	r := decide(t, c)
	if r.Joint == nil || r.Joint.Thread != "M5" || len(r.Joint.Findings) == 0 {
		t.Fatalf("joint %+v, want findings on an M5", r.Joint)
	}
}

func TestABoltThatPullsTooHardForbidsTheSwap(t *testing.T) {
	c := boltedCase(t, "M5")
	c.Making.Bolted.Axial = 20_000 // an M5 8.8 breaks at 11.4 kN (ISO 898-1, from memory)
	r := decide(t, c)
	if r.Verdict == Swap || !strings.Contains(strings.Join(r.Reasons, "\n"), "The joint falls short") {
		t.Errorf("verdict %q because %q, want the joint in the way", r.Verdict, r.Reasons)
	}
}

func TestABoltThatFitsNoHoleIsAnError(t *testing.T) {
	c := boltedCase(t, "M16")
	if _, err := Decide(context.Background(), c); err == nil || !strings.Contains(err.Error(), "--bolt-hole") {
		t.Errorf("error %v, want the flag that names a hole", err)
	}
}
