package swap

import (
	"strings"
	"testing"

	"swapworth/mass"
	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// Inches read as millimetres, worked by hand: a bar of 120 x 20 x 5 mm in inches is
// 25.4 times smaller.
func TestAFileInAnotherUnitIsNamedWithTheFlag(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.New.Loaded = bar(120/25.4, 20/25.4, 4/25.4)
	r := decide(t, c)
	if r.Verdict != CheckFirst || !strings.Contains(r.NextStep, "--new-unit in") || !strings.Contains(r.Reasons[0], "another unit") {
		t.Errorf("%q because %q, next %q", r.Verdict, r.Reasons[0], r.NextStep)
	}
	c.New.Loaded, c.Old.Loaded = bar(120, 20, 4), bar(12, 2, 0.5)
	if r := decide(t, c); r.Verdict != CheckFirst || !strings.Contains(r.NextStep, "--old-unit cm") {
		t.Errorf("%q, next %q", r.Verdict, r.NextStep)
	}
}

// 94 g on the volume of a bar that is 25.4 times too small are 128 000 g/cm3; in
// inches it is steel.
func TestAWeightThatOnlyAnotherUnitExplainsSaysSo(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.Old.Loaded = bar(120/25.4, 20/25.4, 5/25.4)
	c.New.Loaded = bar(60, 40, 9) // no ratio of sides tells
	if r := decide(t, c); r.Verdict != CheckFirst || !strings.Contains(strings.Join(r.Reasons, "\n"), "if its file is in in") {
		t.Errorf("%q because %q", r.Verdict, r.Reasons)
	}
}

func TestTheSameFileTwiceAndFilesInTheWrongOrderAreSaid(t *testing.T) {
	c := steelCase(t)
	c.New.Material = nil
	c.New.Loaded = c.Old.Loaded
	if r := decide(t, c); r.Verdict != CheckFirst || !strings.Contains(r.Reasons[0], "same part") {
		t.Errorf("%q because %q", r.Verdict, r.Reasons)
	}
	pocketed := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 120, Y: 20, Z: 5})
	hollow := mesh.Cuboid(r3.Vec{X: 20, Y: 5, Z: 2}, r3.Vec{X: 100, Y: 15, Z: 5})
	cut := &mesh.Mesh{Vertices: append(pocketed.Vertices, hollow.Vertices...), Faces: pocketed.Faces}
	for _, f := range hollow.Faces { // a closed cavity: enough to tell who has more cut out
		cut.Faces = append(cut.Faces, [3]int32{f[0] + 8, f[2] + 8, f[1] + 8})
	}
	c.Old.Loaded = &mesh.Loaded{Path: "old.stl", Mesh: cut, Triangles: len(cut.Faces), Report: mesh.Check(cut)}
	c.New.Loaded = bar(120, 20, 5)
	if r := decide(t, c); !strings.Contains(strings.Join(r.Reasons, "\n"), "wrong order") {
		t.Errorf("%q because %q", r.Verdict, r.Reasons)
	}
}

// A swap that a direction nobody stated would turn carries it in its line: a flat bar
// made half as wide keeps half of its stiffness along z and an eighth along y.
func TestAVerdictCarriesWhatItHoldsUnder(t *testing.T) {
	c := steelCase(t)
	c.Old = Side{Loaded: bar(120, 20, 5), Material: material(t, "6061-T6"), Weight: &mass.Weighing{Grams: 32.4, Resolution: 0.1}}
	c.New = Side{Loaded: bar(120, 10, 5), Material: material(t, "6061-T6")}
	r := decide(t, c)
	if r.Verdict != Swap || r.Condition == nil || !strings.Contains(*r.Condition, "if the load acts along z") {
		t.Errorf("%q, condition %v", r.Verdict, r.Condition)
	}
	if !strings.Contains(r.NextStep, "--load-along") {
		t.Errorf("next step %q", r.NextStep)
	}
	c.Loading.Along = []mesh.Axis{mesh.Z}
	if r := decide(t, c); r.Condition != nil && strings.Contains(*r.Condition, "acts along") {
		t.Errorf("condition %q of a direction that was stated", *r.Condition)
	}
}

// A usual limit is tried within bounds: a saving of 12 % is a swap at the usual 10 %
// and none at the 20 % that some ask for.
func TestAUsualLimitThatTurnsTheVerdictIsNamed(t *testing.T) {
	c := steelCase(t)
	c.Old = Side{Loaded: bar(120, 20, 5), Material: material(t, "6061-T6"), Weight: &mass.Weighing{Grams: 32.4, Resolution: 0.1}}
	c.New = Side{Loaded: bar(120, 17.6, 5), Material: material(t, "6061-T6")}
	c.Loading.Along = []mesh.Axis{mesh.Z}
	c.SameLot = true
	r := decide(t, c)
	if r.Verdict != Swap || r.Condition == nil || !strings.Contains(*r.Condition, "least saving of 10 % is asked") {
		t.Errorf("%q, condition %v", r.Verdict, r.Condition)
	}
	c.Limits.SavingAsked = true
	if r := decide(t, c); r.Condition != nil && strings.Contains(*r.Condition, "saving") {
		t.Errorf("condition %q of a limit that was set", *r.Condition)
	}
}

// The redesign's material is as open as the stock part's, and a white part is no metal.
func TestAMaterialThatNobodyStatedLeavesTheAnswerOpen(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.New = Side{Loaded: bar(120, 20, 8)}
	r := decide(t, c)
	if r.Verdict != CheckFirst || !strings.Contains(r.NextStep, "--new-material") {
		t.Errorf("%q, next %q: a thicker bar is heavier in steel and lighter in aluminium", r.Verdict, r.NextStep)
	}
	c = steelCase(t)
	c.Old = Side{Loaded: bar(120, 20, 5), Observed: mass.Observation{Colour: "white"}}
	r = decide(t, c)
	if m := material(t, *r.Old.Material); m.Kind != "plastic" {
		t.Errorf("a white part was taken for %s", *r.Old.Material)
	}
	if !strings.Contains(r.Reasons[0], "white") && !strings.Contains(r.Reasons[0], "what was seen") {
		t.Errorf("first reason %q", r.Reasons[0])
	}
}
