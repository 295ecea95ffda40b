package swap

import (
	"context"
	"flag"
	"math"
	"slices"
	"strings"
	"testing"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
)

var long = flag.Bool("long", false, "vary a bolted plate under a load, a minute")

func vary(t *testing.T, c Case, v Variation) Variants {
	t.Helper()
	if c.Table == nil {
		c.Table = materials.Default()
	}
	found, err := Vary(context.Background(), c, v)
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// weighed is a side of which the weight is known as it is computed.
func weighed(l *mesh.Loaded, m *materials.Material) Side {
	return Side{Loaded: l, Material: m, Weight: &mass.Weighing{Grams: m.Density.Nominal * mass.Of(l.Mesh).Volume * 1e-6, Resolution: 0.1}}
}

// Bending of a panel goes with t^3 and E (beam tables); shear of a bar forty times as
// long as thick is nothing.
func TestTheNominalThicknessIsThatOfABeamTable(t *testing.T) {
	t.Parallel()
	aluminium, steel := material(t, "6082-T6"), material(t, "S235")
	c := Case{Old: weighed(bar(200, 20, 5), aluminium), New: Side{Loaded: bar(200, 20, 5), Material: aluminium}, Limits: Stiffer.Limits()}
	c.Loading.Method = ByBeam
	c.Limits.MinStiffnessRatio, c.Limits.StiffnessAsked = 0.5, true
	v := vary(t, c, Variation{Thickness: []float64{3, 4, 5, 6}, Materials: []materials.Material{*aluminium, *steel}})
	if len(v.Thinnest) != 2 {
		t.Fatalf("found %+v, none in %+v", v.Thinnest, v.None)
	}
	for i, want := range []float64{5 * math.Cbrt(0.5), 5 * math.Cbrt(0.5*aluminium.YoungsModulus.Value/steel.YoungsModulus.Value)} {
		if got := v.Thinnest[i]; math.Abs(got.Nominal/want-1) > 0.01 {
			t.Errorf("%s: %g mm with nominal values, want %g", got.Material, got.Nominal, want)
		}
		if got := v.Thinnest[i]; got.Thickness < got.Nominal || got.Thickness > 1.1*got.Nominal || *got.Probability < defaultConfidence {
			t.Errorf("%s: %g mm meets everything with %g, nominally from %g mm", got.Material, got.Thickness, *got.Probability, got.Nominal)
		}
	}
	if v.Lightest.Material != aluminium.Name {
		t.Errorf("lightest is %s, want aluminium: a panel goes with E^(1/3)/rho", v.Lightest.Material)
	}
	for _, one := range v.Variants {
		if one.Material == aluminium.Name && !one.Unbeaten {
			t.Errorf("%+v is marked as beaten", one)
		}
		if one.Material == steel.Name && one.Thickness == 4 && one.Unbeaten {
			t.Errorf("%+v is beaten by 6 mm of aluminium, lighter and as stiff", one)
		}
	}
	// The search leaves what was asked for, on both sides.
	for _, tried := range [][]float64{{1}, {12}} {
		if far := vary(t, c, Variation{Thickness: tried}); len(far.Thinnest) != 1 || math.Abs(far.Thinnest[0].Thickness-v.Thinnest[0].Thickness) > 2*enough {
			t.Errorf("asked for %g mm: %+v, want %g mm", tried, far.Thinnest, v.Thinnest[0].Thickness)
		}
	}
}

// drawnAt is a part as its file holds it at another thickness along z: a plate whose holes
// are parallel to it is scaled.
func drawnAt(t *testing.T, l *mesh.Loaded, thickness float64) *mesh.Loaded {
	t.Helper()
	box := l.Mesh.Bounds()
	m := &mesh.Mesh{Vertices: slices.Clone(l.Mesh.Vertices), Faces: l.Mesh.Faces}
	for i, v := range m.Vertices {
		m.Vertices[i].Z = float64(float32(box.Min.Z + (v.Z-box.Min.Z)*thickness/box.Size().Z))
	}
	return &mesh.Loaded{Path: "drawn.stl", Mesh: m, Triangles: len(m.Faces), Report: mesh.Check(m)}
}

func testFile(t *testing.T, name string) *mesh.Loaded {
	t.Helper()
	l, err := mesh.Load("../testdata/"+name, mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// What vary calls enough, a comparison with a part that is drawn so calls `swap`; a
// little thinner it does not.
func TestWhatIsCalledEnoughIsASwap(t *testing.T) {
	t.Parallel()
	steel, aluminium, carbon := material(t, "S235"), material(t, "7075-T6"), material(t, "CFRP")
	bars := func(m *materials.Material) Case { // bars are beams, and quick
		return Case{Loading: Loading{Method: ByBeam}, Old: weighed(bar(160, 25, 5), steel), New: Side{Loaded: bar(160, 25, 6), Material: m}, Limits: DefaultLimits()}
	}
	cases := map[string]func() Case{
		"a bar":           func() Case { return bars(aluminium) },
		"a bar of carbon": func() Case { return bars(carbon) },
		"absolute limits": func() Case {
			c := bars(aluminium)
			c.Limits.MinStiffnessRatio, c.Limits.StiffnessAsked = 0.5, true
			c.Loading.Force = 40
			c.Limits.MaxDeflection, c.Limits.MinFrequency, c.Limits.MaxMass = ptr(1.0), ptr(180.0), ptr(90.0)
			return c
		},
		"for stiffness": func() Case {
			c := bars(aluminium)
			c.Limits = Stiffer.Limits()
			c.Limits.MaxMass = ptr(120.0)
			return c
		},
		"for money, within hours": func() Case {
			c := bars(aluminium)
			c.Limits = Cheaper.Limits()
			c.Limits.MaxHours = ptr(3.0)
			c.Making.Pricing = Pricing{HourlyValue: ptr(materials.Exactly(20)), StockPart: ptr(materials.Exactly(90))}
			return c
		},
	}
	if *long { // seconds a trial near the answer, for each looks closely at the stress
		cases["a bolted plate"] = func() Case {
			c := Case{Old: weighed(testFile(t, "plate_old.stl"), steel), New: Side{Loaded: testFile(t, "plate_new.stl"), Material: aluminium}, Limits: DefaultLimits()}
			c.Limits.MinStiffnessRatio, c.Limits.StiffnessAsked = 0.5, true
			c.Loading.Fix, c.Loading.LoadAt = []string{"hole:1", "hole:2"}, []string{"hole:4"}
			c.Loading.Force, c.Limits.MaxDeflection = 60, ptr(0.02)
			return c
		}
	}
	for name, make := range cases {
		t.Run(name, func(t *testing.T) {
			c := make()
			c.Table = materials.Default()
			base := c.New.Loaded
			v := vary(t, c, Variation{Thickness: []float64{4, 8}})
			if v.Lightest == nil {
				t.Fatalf("nothing is enough: %+v, %+v", v.None, v.Unsettled)
			}
			check := func(thickness float64) Verdict {
				c.New.Loaded = drawnAt(t, base, thickness)
				return decide(t, c).Verdict
			}
			t.Logf("%.2f mm, nominally %.2f, with %.3f", v.Lightest.Thickness, v.Lightest.Nominal, *v.Lightest.Probability)
			if got := check(v.Lightest.Thickness); got != Swap {
				t.Errorf("%g mm is called enough, and compared it is %q", v.Lightest.Thickness, got)
			}
			if got := check(0.98 * v.Lightest.Thickness); got == Swap {
				t.Errorf("%g mm is called the thinnest, and a fiftieth thinner is a swap too", v.Lightest.Thickness)
			}
			if c.Loading.Method != ByBeam {
				return // seconds a comparison
			}
			for _, one := range v.Variants {
				if got := check(one.Thickness); got != one.Verdict || one.Meets != (got == Swap) {
					t.Errorf("%g mm is called %q, and compared it is %q", one.Thickness, one.Verdict, got)
				}
			}
		})
	}
}

func TestAMaterialInWhichNothingIsEnoughSaysWhy(t *testing.T) {
	t.Parallel()
	steel := material(t, "S235")
	c := Case{Old: weighed(bar(160, 25, 5), steel), New: Side{Loaded: bar(160, 25, 6), Material: steel}, Limits: DefaultLimits()}
	c.Loading.Method = ByBeam
	// 0.9 of the stiffness take cbrt(0.9) = 0.965 of the thickness, which saves 3.5 %.
	v := vary(t, c, Variation{})
	if v.Lightest != nil || len(v.None) != 1 || !strings.Contains(v.None[0].Why, "10 %") && !strings.Contains(v.None[0].Why, "0.9") {
		t.Errorf("steel for steel: %+v, none for %+v", v.Lightest, v.None)
	}
	// A stock part of which nobody knows the material is nothing to promise against.
	c.Old.Weight, c.New.Material = nil, material(t, "7075-T6")
	v = vary(t, c, Variation{})
	if v.Lightest != nil || len(v.Unsettled) != 1 || !strings.Contains(v.Unsettled[0].Why, "nobody has checked") {
		t.Errorf("against a part that nobody weighed: %+v, unsettled %+v", v.Lightest, v.Unsettled)
	}
}
