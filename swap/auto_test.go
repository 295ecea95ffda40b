package swap

import (
	"math"
	"strings"
	"testing"

	"swapworth/beam"
	"swapworth/materials"
	"swapworth/mesh"
)

// plainCase compares two bars of one alloy in three dimensions, everything stated.
func plainCase(t *testing.T, old, new *mesh.Loaded) Case {
	aluminium, cantilever, x := material(t, "6061-T6"), beam.Cantilever, mesh.X
	return Case{
		Old: Side{Loaded: old, Material: aluminium}, New: Side{Loaded: new, Material: aluminium},
		Limits: DefaultLimits(), Table: materials.Default(),
		Loading: Loading{Span: &x, Along: []mesh.Axis{mesh.Z}, Support: &cantilever},
	}
}

// A cantilever bends as F L^3/(3 E I) and shears as 1.2 F L/(G A): Timoshenko and
// Gere, Mechanics of Materials, from memory.
func TestPartsAreSolvedInThreeDimensionsWithoutBeingAsked(t *testing.T) {
	t.Parallel()
	r := decide(t, plainCase(t, bar(120, 20, 8), bar(120, 20, 7.6)))
	s := r.Stiffness[0]
	if s.Method != "solid" {
		t.Errorf("method %q, want solid", s.Method)
	}
	e, nu := material(t, "6061-T6").YoungsModulus.Value, material(t, "6061-T6").Elastic().Poisson
	flexible := 120*120*120/(3*e*20*8*8*8/12) + 1.2*120/(e/(2*(1+nu))*20*8)
	if got := *s.Old * flexible; math.Abs(got-1) > 0.02 {
		t.Errorf("stiffness %g of that of beam theory", got)
	}
	if got, want := s.Ratio.Nominal, math.Pow(7.6/8, 3); math.Abs(got/want-1) > 0.01 {
		t.Errorf("ratio %g, want about %g", got, want)
	}
	if s.OldError == nil || *s.OldError > 5 {
		t.Errorf("stated error %v, want one below 5 %%", s.OldError)
	}
}

// Young's modulus only scales a solution, but Poisson's ratio changes its shape:
// a wide clamped plate bends with E/(1-nu^2), and a swap from steel to a plastic
// must feel that (Timoshenko and Woinowsky-Krieger).
func TestAnotherPoissonsRatioIsSolvedForAgain(t *testing.T) {
	t.Parallel()
	c := plainCase(t, bar(60, 60, 4), bar(60, 60, 4))
	c.New.Material = nil
	_, on := placedOf(t, c)
	m := mechanicsOf(c, false)
	base, err := m.respondBoth(t.Context(), on, on.cases, quick, nil)
	if err != nil {
		t.Fatal(err)
	}
	scale, err := poissonScale(t.Context(), m, on.new, onRedesign, on.cases, on.cases, 0.42)
	if err != nil {
		t.Fatal(err)
	}
	p := on.new
	p.known.material.Poisson.Value = 0.42
	direct, err := m.respond(t.Context(), p, onRedesign, on.cases, quick, nil)
	if err != nil {
		t.Fatal(err)
	}
	soft := on.new
	soft.known.material.Poisson.Value = nodes[1] // a material that is a node itself
	if back, err := poissonScale(t.Context(), m, soft, onRedesign, on.cases, on.cases, 0.33); err != nil || !(back[0] > 0.9 && back[0] < 1) {
		t.Errorf("from %g to 0.33: scale %v, %v", nodes[1], back, err)
	}
	if got, want := scale[0], direct[0].perModulus/base[0].new.perModulus; math.Abs(got-want) > 0.003 || want < 1.01 {
		t.Errorf("scale %g, solved anew %g", got, want)
	}
}

// The stated error of the small grids is refined away where it leaves the answer
// open, and not where it does not.
func TestGridsAreRefinedOnlyWhereTheAnswerNeedsIt(t *testing.T) {
	in := plates()
	in.limits = DefaultLimits()
	in.old.modulus, in.new.modulus = materials.Exactly(70_000), materials.Exactly(70_000)
	d := &in.directions[0]
	d.old.within, d.new.within = 0.04, 0.001
	d.new.perModulus = 0.915
	if old, new := wanting(in, true); !old || new {
		t.Errorf("near the limit: stock part %v, redesign %v; want the one with the error alone", old, new)
	}
	d.new.perModulus = 0.5
	if old, new := wanting(in, true); old || new {
		t.Errorf("far below the limit: stock part %v, redesign %v; want neither", old, new)
	}
	d.old.within = 0.07
	if old, _ := wanting(in, true); !old {
		t.Error("an error of 7 % is left as it is")
	}
}

func TestABeamIsTheSecondOpinion(t *testing.T) {
	t.Parallel()
	c := plainCase(t, bar(120, 20, 8), bar(120, 20, 7))
	on, d := solvedQuick(t, c)
	m := mechanicsOf(c, true)
	if _, r := secondOpinion(m, on, d); len(r.warnings) != 0 {
		t.Errorf("%q: both agree on a bar", r.warnings)
	}
	d[0].new.perModulus *= 1.3
	if _, r := secondOpinion(m, on, d); len(r.warnings) != 1 || !strings.Contains(r.warnings[0], "redesign") {
		t.Errorf("%q: want one warning of the redesign", r.warnings)
	}
}
