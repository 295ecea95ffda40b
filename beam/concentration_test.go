package beam

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

func TestStressAtAHoleTakesTheChartsFactor(t *testing.T) {
	// across its thickness: 80 x 8, hole of 8: d/t 1, d/w 0.1; Roark's formula
	// gives (1.79+0.25/1.39+0.81/2-0.26/2)(1-1.04*0.1+1.22*0.01), from memory
	m := flatPart(t, 8, box(0, 0, 200, 80), bore(50, 40, 8))
	hole := RoundHole{Axis: r3.Vec{Z: 1}, Centre: r3.Vec{X: 50, Y: 40, Z: 4}, Diameter: 8}
	r := ofPart(t, m, steel, Setup{Load: mesh.Z, Force: 100, Holes: []RoundHole{hole}})
	h := r.Stress.Hole
	if h == nil {
		t.Fatal("the hole was not judged")
	}
	near(t, "factor", h.Factor, 2.2449*0.9082, 1e-3)
	near(t, "nominal", h.Nominal, 100*150*4/(72*512/12.0), 5e-3) // M c/I of the net section
	near(t, "peak", *r.MaxStress, h.Factor*h.Nominal, 1e-9)
}

// A hole on the neutral axis of a bar bent on edge: twice the nominal stress at
// its edge (Peterson), which here stays below the stress of the outer fibre.
func TestAHoleOnTheNeutralAxisDoublesTheStressAtItsEdge(t *testing.T) {
	m := flatPart(t, 8, box(0, 0, 300, 30), bore(100, 15, 8))
	hole := RoundHole{Axis: r3.Vec{Z: 1}, Centre: r3.Vec{X: 100, Y: 15, Z: 4}, Diameter: 8}
	s := Setup{Load: mesh.Y, Force: 100, Holes: []RoundHole{hole}}
	c := cutAt(t, m, 100)
	a := problem{setup: s}
	k, fits := a.atHole(hole, c, sectionForces{MU: 1000})
	if !fits {
		t.Fatal("no chart fits")
	}
	near(t, "factor", k.Factor, 2, 0.01)
	near(t, "nominal", k.Nominal, 1000*4/c.Section.Iyy, 1e-6)
}

// A strip that is pulled: 2+(1-d/w)^3 on the net section (Heywood's fit to
// Howland), 2.41 for d/w = 0.257; Howland's chart reads 2.4, from memory.
func TestAHoleInAPulledStripFollowsHowland(t *testing.T) {
	m := flatPart(t, 8, box(0, 0, 300, 35), bore(100, 17.5, 9))
	hole := RoundHole{Axis: r3.Vec{Z: 1}, Centre: r3.Vec{X: 100, Y: 17.5, Z: 4}, Diameter: 9}
	c := cutAt(t, m, 100)
	a := problem{setup: Setup{Load: mesh.Y}, u0: 17.5, v0: 4}
	k, fits := a.atHole(hole, c, sectionForces{N: 1000})
	if !fits {
		t.Fatal("no chart fits")
	}
	near(t, "nominal", k.Nominal, 1000/(26*8.0), 5e-3)
	near(t, "factor", k.Factor, 2+math.Pow(1-9/35.0, 3), 1e-6)
}

func TestAHoleThatFitsNoChartIsSaidToBeNominal(t *testing.T) {
	m := flatPart(t, 8, box(0, 0, 200, 30), bore(40, 15, 2))
	aslant := r3.Unit(r3.Vec{Y: 1, Z: 1})
	hole := RoundHole{Number: 4, Axis: aslant, Centre: r3.Vec{X: 40, Y: 15, Z: 4}, Diameter: 2}
	r := ofPart(t, m, steel, Setup{Load: mesh.Z, Force: 10, Holes: []RoundHole{hole}})
	want := "the stress at hole 4 is nominal: no chart fits there, the peak may be up to three times as high"
	if r.Stress.Hole != nil || !slices.Contains(r.Warnings, want) {
		t.Errorf("warnings %q", r.Warnings)
	}
}

// Wide and narrow holes: Goodier's 1.79 (v = 0.3) and Kirsch's 3.
func TestBendingConcentrationRunsFromKirschToGoodier(t *testing.T) {
	near(t, "narrow", bendingConcentration(0), 3, 0.01)
	near(t, "wide", bendingConcentration(1000), (5+0.9)/3.3, 5e-3)
}

func cutAt(t *testing.T, m *mesh.Mesh, x float64) *cutSection {
	t.Helper()
	s := cut.NewSlicer(m, mesh.X)
	var last cutSection
	c, err := newCut(s.At, x, 1, &last)
	if err != nil {
		t.Fatal(err)
	}
	return &c
}
