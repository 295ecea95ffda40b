package swap

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
)

func TestAWeightThatNoMaterialHasPromisesNothing(t *testing.T) {
	c := steelCase(t)
	c.Old.Material = nil
	c.Old.Weight = &mass.Weighing{Grams: 170, Resolution: 1} // 14.2 g/cm3
	r := decide(t, c)
	if r.Verdict != CheckFirst || !strings.Contains(r.Reasons[0], "14.2 g/cm3. No material in the table fits") {
		t.Errorf("verdict %q because %q, want check first because nothing fits", r.Verdict, r.Reasons[0])
	}
	if r.Old.Contradiction == nil {
		t.Error("the contradiction is not stated")
	}
}

func TestAWeighedRedesignIsNoOtherMetal(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.New.Material, c.New.Weight = nil, &mass.Weighing{Grams: 32.4, Resolution: 0.1} // 2.70 g/cm3
	if r := decide(t, c); len(r.Turnovers) != 0 {
		t.Errorf("turnovers %+v, want none of the redesign's material", r.Turnovers)
	}
	c.New.Weight.Grams = 300
	if first := decide(t, c).Reasons[0]; !strings.HasPrefix(first, "The redesign weighs 300 g, which over its volume is 25 g/cm3") {
		t.Errorf("first reason %q, want the redesign's weight", first)
	}
}

func TestWhatAMagnetSaysIsSaid(t *testing.T) {
	c := steelCase(t)
	for holds, want := range map[bool]string{false: "not S235: no magnet holds on it", true: "not 6061-T6: a magnet holds on it"} {
		c.Old.Observed.Magnet = &holds
		c.Old.Material = material(t, map[bool]string{false: "S235", true: "6061-T6"}[holds])
		r := decide(t, c)
		if !strings.Contains(r.Reasons[0], want) || r.Verdict == Swap || !strings.HasPrefix(r.NextStep, "Weigh the part") {
			t.Errorf("verdict %q because %q, next %q", r.Verdict, r.Reasons[0], r.NextStep)
		}
	}
	holds := false
	c.Old.Observed, c.Old.Material = mass.Observation{Magnet: &holds}, material(t, "S235")
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	if first := decide(t, c).Reasons[0]; !strings.HasPrefix(first, "The stock part is not S235: no magnet holds on it. The weight fits stainless steel") {
		t.Errorf("first reason %q, want the magnet and what the weight fits", first)
	}
	c.Old.Observed, c.Old.Weight = mass.Observation{Colour: "yellow"}, nil
	c.Old.Material = material(t, "S235")
	if r := decide(t, c); !strings.Contains(r.Reasons[0], "not S235: it is yellow") {
		t.Errorf("first reason %q, want the colour", r.Reasons[0])
	}
}

func TestAGainAskedForIsNotPassedOver(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.Limits.GainAsked = true
	r := decide(t, c)
	if first := r.Criteria[0]; first.kind != gainCriterion || first.Probability != nil || first.Missing != "--moving-mass" {
		t.Errorf("first criterion %+v, want a gain that waits for the moving mass", first)
	}
	if r.Verdict != CheckFirst || r.NextStep != "Give --moving-mass" {
		t.Errorf("verdict %q, next %q", r.Verdict, r.NextStep)
	}
	c.Machine.MovingMass = 1000
	if r := decide(t, c); r.Verdict != Swap {
		t.Errorf("verdict %q with the moving mass, want swap: %v", r.Verdict, r.Reasons)
	}
}

func TestALoadAlongTheSpanIsRefusedWithItsFlag(t *testing.T) {
	c := steelCase(t)
	c.Table, c.Loading.Along = materials.Default(), []mesh.Axis{mesh.X}
	if _, err := Decide(context.Background(), c); err == nil || !strings.Contains(err.Error(), "--load-along") {
		t.Errorf("error %v, want the flag", err)
	}
}

// Two blocks beside each other are no beam, but they weigh what they weigh.
func TestAPartThatIsNoBeamIsComparedAllTheSame(t *testing.T) {
	c := steelCase(t)
	a, b := bar(50, 20, 5).Mesh, bar(50, 20, 5).Mesh.Transformed(mesh.Translation(r3.Vec{X: 70}))
	pair := &mesh.Mesh{Vertices: append(slices.Clone(a.Vertices), b.Vertices...), Faces: slices.Clone(a.Faces)}
	for _, f := range b.Faces {
		n := int32(len(a.Vertices))
		pair.Faces = append(pair.Faces, [3]int32{f[0] + n, f[1] + n, f[2] + n})
	}
	c.New.Loaded = &mesh.Loaded{Path: "pair.stl", Mesh: pair, Triangles: len(pair.Faces), Report: mesh.Check(pair)}
	r := decide(t, c)
	if r.Stiffness[0].Ratio != nil || r.Verdict != CheckFirst || r.Saving.Percent.Nominal < 10 {
		t.Errorf("ratio %v, verdict %q, saving %v", r.Stiffness[0].Ratio, r.Verdict, r.Saving.Percent)
	}
	if !strings.Contains(strings.Join(r.Warnings, "\n"), "no beam along x") {
		t.Errorf("warnings %q do not say why there is no stiffness", r.Warnings)
	}
}

// Rows as made are solved on small grids, and so is the stock part they are held
// against, however finely the comparison itself was solved.
func TestRowsAsMadeCompareLikeWithLike(t *testing.T) {
	c := steelCase(t)
	c.Table = materials.Default()
	c.Making.NotFaced = []NotFaced{{Side: r3.Vec{Z: 1}, Stock: 6}}
	r := decide(t, c)
	if len(r.AsMade) != 2 || r.AsMade[1].StiffnessRatio == nil {
		t.Fatalf("rows %+v", r.AsMade)
	}
	if used := r.AsMade[1]; !used.Used || math.Abs(*used.StiffnessRatio/r.Stiffness[0].Ratio.Nominal-1) > 1e-9 {
		t.Errorf("the row that is used has ratio %v, the comparison %v", *used.StiffnessRatio, r.Stiffness[0].Ratio)
	}
}

func TestADepartureThatThePartHasNothingForIsAWarning(t *testing.T) {
	c := steelCase(t)
	c.Making.NoChamfers, c.Making.WallStock = true, 0.2
	r := decide(t, c)
	if len(r.AsMade) != 0 || r.New.Volume != decide(t, steelCase(t)).New.Volume {
		t.Errorf("rows %+v, volume %g", r.AsMade, r.New.Volume)
	}
	for _, want := range []string{"no chamfer", "no pocket"} {
		if !strings.Contains(strings.Join(r.Warnings, "\n"), want) {
			t.Errorf("warnings %q say nothing of %q", r.Warnings, want)
		}
	}
}

func TestSeveralRedesignsGiveWhatEachGivesAlone(t *testing.T) {
	c := steelCase(t)
	c.Table = materials.Default()
	var cases []Case
	for _, thick := range []float64{4, 6, 8} {
		c.New.Loaded = bar(120, 20, thick)
		cases = append(cases, c)
	}
	ranking, err := Rank(context.Background(), cases, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, together := range ranking.Redesigns {
		c.New.Loaded = bar(120, 20, together.New.Size[2])
		if alone := decide(t, c); *alone.Stiffness[0].Ratio != *together.Stiffness[0].Ratio || alone.Verdict != together.Verdict ||
			*alone.Stiffness[0].OldFrequency != *together.Stiffness[0].OldFrequency {
			t.Errorf("%g mm: %+v together, %+v alone", together.New.Size[2], together.Stiffness[0], alone.Stiffness[0])
		}
	}
}
