package swap

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam"
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
)

// bar returns a bar of the given sides in mm, its low corner at the origin, as
// if it had been read from a file.
func bar(x, y, z float64) *mesh.Loaded {
	m := mesh.Cuboid(r3.Vec{}, r3.Vec{X: x, Y: y, Z: z})
	return &mesh.Loaded{Path: "bar.stl", Mesh: m, Triangles: len(m.Faces), Report: mesh.Check(m)}
}

func material(t *testing.T, name string) *materials.Material {
	t.Helper()
	m, err := materials.Default().Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return &m
}

func decide(t *testing.T, c Case) Result {
	t.Helper()
	if c.Table == nil {
		c.Table = materials.Default()
	}
	if c.Limits == (Limits{}) {
		c.Limits = DefaultLimits()
	}
	r, err := Decide(context.Background(), c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// steelCase is a bar said to be steel and a redesign of the same shape in
// aluminium, with a third of the stiffness accepted.
func steelCase(t *testing.T) Case {
	limits := DefaultLimits()
	limits.MinStiffnessRatio, limits.StiffnessAsked = 0.3, true
	return Case{
		Old:    Side{Loaded: bar(120, 20, 5), Material: material(t, "S235")},
		New:    Side{Loaded: bar(120, 20, 5), Material: material(t, "6061-T6")},
		Limits: limits,
		// most of these tests are about the decision: a bar is a beam, and quick
		Loading: Loading{Method: ByBeam},
	}
}

func TestASteelPartThatNobodyWeighedIsCheckedFirst(t *testing.T) {
	r := decide(t, steelCase(t))
	if r.Verdict != CheckFirst {
		t.Errorf("verdict %q, want %q", r.Verdict, CheckFirst)
	}
	if len(r.Turnovers) == 0 || r.Turnovers[0].Check != "weigh the part" || r.Turnovers[0].Verdict != Keep {
		t.Errorf("turnovers %+v, want weighing the part first, which may end in keep", r.Turnovers)
	}
	if !strings.Contains(r.NextStep, "Weigh the part") {
		t.Errorf("next step %q, want weighing", r.NextStep)
	}
}

func TestASteelPartThatWeighsLikeSteelIsSwapped(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1} // 12 cm3 of 7.85 g/cm3 are 94.2 g
	r := decide(t, c)
	if r.Verdict != Swap || r.Old.Basis != Weighed {
		t.Errorf("verdict %q with the material %q, want swap with an agreeing weight: %v", r.Verdict, r.Old.Basis, r.Reasons)
	}
	if !slices.ContainsFunc(r.Reasons, func(s string) bool { return strings.Contains(s, "Strength is left open") }) {
		t.Errorf("reasons %q do not say that strength was left open", r.Reasons)
	}
}

func TestAMagnetThatHoldsIsAsGoodAsAScaleAgainstAluminium(t *testing.T) {
	c := steelCase(t)
	holds := true
	c.Old.Observed.Magnet = &holds
	if r := decide(t, c); r.Verdict != Swap {
		t.Errorf("verdict %q, want swap: no metal that a magnet holds would turn it over: %+v", r.Verdict, r.Turnovers)
	}
}

func TestAPartWeighedAt33GramsIsNotSteel(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 33, Resolution: 1} // 12 cm3: 2.75 g/cm3
	r := decide(t, c)
	if first := r.Reasons[0]; !strings.Contains(first, "not S235") || !strings.Contains(first, "aluminium") {
		t.Errorf("the first reason is %q, want the contradiction and what the weight fits", first)
	}
	if r.Verdict == Swap {
		t.Errorf("verdict swap promises a saving that the scale contradicts")
	}
	if got := r.Saving.PerPart.Nominal; math.Abs(got-(33-12*2.70)) > 1e-9 {
		t.Errorf("saving %g g, want that of the weighed part, 0.6 g", got)
	}
	if r.Old.Mass.Low != 32.5 || r.Old.Mass.High != 33.5 {
		t.Errorf("mass of the stock part %v, want the weighed 32.5 to 33.5 g", *r.Old.Mass)
	}
	if ratio := r.Stiffness[0].Ratio; !ratio.Contains(1) || ratio.High > 1.1 {
		t.Errorf("stiffness ratio %v, want that of aluminium to aluminium", *ratio)
	}
	if r.Stiffness[0].OldSafetyFactor != nil || r.Stiffness[0].OldYieldForce != nil {
		t.Error("a weight gives a density, not an alloy, yet a strength of the stock part is given")
	}
}

func TestALightAndStiffRedesignOfAContradictedPartIsStillNotPromised(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 60, Resolution: 1} // 5 g/cm3: nothing in the table
	r := decide(t, c)
	if r.Verdict != CheckFirst || !strings.Contains(r.Reasons[0], "No material in the table fits") {
		t.Errorf("verdict %q because %q, want check first because nothing fits", r.Verdict, r.Reasons[0])
	}
}

func TestARedesignThatWeighsMoreThanDrawnIsSaid(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.New.Weight = &mass.Weighing{Grams: 40.5, Resolution: 0.1} // 25 % over 32.4 g
	r := decide(t, c)
	if !strings.Contains(r.Reasons[0], "25 % more than its model") {
		t.Errorf("first reason %q, want the 25 %% that the scale shows", r.Reasons[0])
	}
	if r.Verdict == Swap {
		t.Error("verdict swap in spite of a part that is not as drawn")
	}
}

// The saving of 61.8 g from a carriage of 1000 g: 1000/(1000-61.8) - 1 = 6.587 %
// more acceleration and sqrt(1.06587) - 1 = 3.241 % more frequency.
func TestALinearAxisGainsByTheMassItLoses(t *testing.T) {
	c := steelCase(t)
	c.Machine.MovingMass = 1000
	r := decide(t, c)
	saved := 12*7.85 - 12*2.70
	want := 100 * (1000/(1000-saved) - 1)
	if got := r.Motion.AccelerationGain.Nominal; math.Abs(got-want) > 1e-9 {
		t.Errorf("acceleration gain %g %%, want %g", got, want)
	}
	if got, want := r.Motion.FrequencyGain.Nominal, 100*(math.Sqrt(1+want/100)-1); math.Abs(got-want) > 1e-9 {
		t.Errorf("frequency gain %g %%, want %g", got, want)
	}
	if r.Criteria[0].kind != gainCriterion {
		t.Errorf("the first criterion is %q, want the gain in place of the saving", r.Criteria[0].Name)
	}
}

// A bar of mass m and sides a along and b across, turned about an axis through
// its end: m (a^2/3 + b^2/12) about the middle of the end edge.
func TestASwingingArmGainsByItsInertiaAboutThePivot(t *testing.T) {
	c := steelCase(t)
	c.Count = 2
	c.Machine = Machine{Pivot: &r3.Vec{Y: 10, Z: 77}, PivotAxis: mesh.Z, MovingInertia: 3000}
	r := decide(t, c)
	perGram := (120.0*120/3 + 20.0*20/12) / 1000 // kg mm2 per g
	oldInertia, newInertia := 94.2*perGram, 32.4*perGram
	if got := *r.Motion.OldInertia; math.Abs(got-oldInertia) > 1e-6*oldInertia {
		t.Errorf("inertia of the stock part %g kg mm2, want %g", got, oldInertia)
	}
	want := 100 * (3000/(3000-2*(oldInertia-newInertia)) - 1)
	if got := r.Motion.AccelerationGain.Nominal; math.Abs(got-want) > 1e-6*want {
		t.Errorf("acceleration gain %g %%, want %g", got, want)
	}
	if r.Motion.Kind != "swinging" {
		t.Errorf("kind %q, want swinging", r.Motion.Kind)
	}
}

func TestAMovingMassBelowThePartsThatMoveIsRefused(t *testing.T) {
	c := steelCase(t)
	c.Table, c.Machine.MovingMass, c.Count = materials.Default(), 150, 2
	if _, err := Decide(context.Background(), c); err == nil || !strings.Contains(err.Error(), "--moving-mass 150 g") {
		t.Errorf("error %v, want the flag and its value", err)
	}
}

func TestPartsOfOneAlloyShareItsModulusAndDensity(t *testing.T) {
	limits := DefaultLimits()
	aluminium := material(t, "6082-T6")
	cantilever := beam.Cantilever
	c := Case{
		Old:     Side{Loaded: bar(120, 20, 5), Material: aluminium},
		New:     Side{Loaded: bar(120, 18, 5), Material: aluminium},
		Loading: Loading{Support: &cantilever, Along: []mesh.Axis{mesh.Z}, Method: ByBeam},
		Limits:  limits,
		SameLot: true,
	}
	r := decide(t, c)
	one := *aluminium // of which every piece weighs the same
	one.Density = materials.Exactly(2700)
	c.Old.Material, c.New.Material = &one, &one
	if p, q := r.Saving.Percent, decide(t, c).Saving.Percent; math.Abs(p.High-q.High) > 1e-9 || math.Abs(p.Low-q.Low) > 1e-9 || math.Abs(p.Nominal-10) > 1e-9 {
		t.Errorf("saving %v %%, want %v whatever the alloy weighs", p, q)
	}
	for _, d := range r.Drivers {
		if strings.Contains(d.Input, "modulus") {
			t.Errorf("%s moves the %s over %v, want no spread from a modulus that both parts share", d.Input, d.Quantity, d.Range)
		}
	}
}

func TestAStubbyPartIsRefusedByBeamTheoryAndBlocksTheSwap(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.Loading.Along = []mesh.Axis{mesh.Y}
	c.Old.Loaded, c.New.Loaded = bar(120, 60, 5.0/3), bar(120, 60, 5.0/3)
	r := decide(t, c)
	if r.Stiffness[0].Ratio != nil || r.Verdict != CheckFirst {
		t.Errorf("ratio %v and verdict %q, want no ratio and check first", r.Stiffness[0].Ratio, r.Verdict)
	}
	if !strings.Contains(r.NextStep, "--check solid") {
		t.Errorf("next step %q does not name the solid check", r.NextStep)
	}
}

func TestALoadLetsTheSafetyFactorBeJudged(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 94, Resolution: 1}
	c.Loading.Force = 20
	r := decide(t, c)
	// Root stress of a cantilever: 6 F L/(b h^2) = 6*20*120/(20*25) = 28.8 MPa,
	// so that yield over it is the safety factor (beam tables).
	yield := material(t, "6061-T6").Strength.Value
	if got, want := *r.Stiffness[0].NewSafetyFactor, yield/28.8; math.Abs(got/want-1) > 0.02 {
		t.Errorf("safety factor %g, want %g", got, want)
	}
	if r.Verdict != Swap {
		t.Errorf("verdict %q, want swap: %v", r.Verdict, r.Reasons)
	}
	c.Loading.Force = 400
	if r := decide(t, c); r.Verdict != Keep {
		t.Errorf("verdict %q at 400 N, want keep: the redesign yields", r.Verdict)
	}
}

func TestBreakEvensSolveTheCriteria(t *testing.T) {
	t.Parallel()
	c := steelCase(t)
	r := decide(t, c)
	largest := find(t, r.BreakEvens, "largest moving mass").Value
	c.Machine.MovingMass = largest
	if got := decide(t, c).Motion.AccelerationGain.Nominal; math.Abs(got-1) > 1e-9 {
		t.Errorf("at the largest moving mass of %g g the gain is %g %%, want 1", largest, got)
	}
	if got, want := find(t, r.BreakEvens, "lightest stock part").Value, 32.4/0.9; math.Abs(got-want) > 1e-9 {
		t.Errorf("lightest stock part %g g, want %g", got, want)
	}
	for name, machine := range map[string]Machine{
		"linear":   {MovingMass: 1500},
		"swinging": {MovingInertia: 9000, Pivot: &r3.Vec{}, PivotAxis: mesh.Z},
	} {
		c := steelCase(t)
		c.Machine, c.Limits.MinGain = machine, 0.02
		heaviest := find(t, decide(t, c).BreakEvens, "heaviest redesign").Value
		c.New.Weight = &mass.Weighing{Grams: heaviest, Resolution: 0.001}
		if got := decide(t, c).Motion.AccelerationGain.Nominal; math.Abs(got-2) > 1e-6 {
			t.Errorf("%s: with the heaviest redesign of %g g the gain is %g %%, want 2", name, heaviest, got)
		}
	}
}

func find(t *testing.T, all []BreakEven, quantity string) BreakEven {
	t.Helper()
	for _, b := range all {
		if b.Quantity == quantity {
			return b
		}
	}
	t.Fatalf("no break-even %q in %+v", quantity, all)
	return BreakEven{}
}

func TestTwoMeshesAloneAlreadyHelp(t *testing.T) {
	t.Parallel()
	r := decide(t, Case{Old: Side{Loaded: bar(120, 20, 5)}, New: Side{Loaded: bar(120, 20, 4)}})
	if math.Abs(r.Saving.Percent.Nominal-20) > 1e-9 {
		t.Errorf("saving %v, want a fifth, from the volumes alone", r.Saving.Percent)
	}
	if len(r.Assumptions) < 4 || len(r.Missing) < 4 {
		t.Errorf("assumptions %q and missing inputs %q, want them named", r.Assumptions, r.Missing)
	}
	if r.NextStep == "" {
		t.Error("no next step")
	}
}

func TestTheSameCaseGivesTheSameResult(t *testing.T) {
	a, b := decide(t, steelCase(t)), decide(t, steelCase(t))
	if a.Saving != b.Saving || *a.Stiffness[0].Ratio != *b.Stiffness[0].Ratio {
		t.Error("two runs differ")
	}
}

// A cantilever bar: f = 1.8751^2/(2 pi L^2) sqrt(EI/(rho A)), Roark's Formulas
// (from memory); a weighed bar vibrates with the mass it really has.
func TestTheNaturalFrequencyIsThatOfTheWeighedBar(t *testing.T) {
	c := steelCase(t)
	c.Old.Weight = &mass.Weighing{Grams: 93.9, Resolution: 0.1}
	r := decide(t, c)
	e, inertia, perLength := 210e3*1e6, 20.0*125/12*1e-12, 93.9e-3/0.12
	want := 1.8751 * 1.8751 / (2 * math.Pi * 0.12 * 0.12) * math.Sqrt(e*inertia/perLength)
	if got := *r.Stiffness[0].OldFrequency; math.Abs(got/want-1) > 0.02 {
		t.Errorf("%g Hz, want %g", got, want)
	}
	plain := *r.Stiffness[0].NewFrequency
	c.Loading.AttachedMass = 200
	if got := *decide(t, c).Stiffness[0].NewFrequency; got > plain/2 {
		t.Errorf("%g Hz with 200 g at the end and %g Hz without", got, plain)
	}
}
