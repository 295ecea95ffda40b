package swap

import (
	"math"
	"testing"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/swap/internal/draw"
)

// sizesOf are those of the redesign of a case.
func sizesOf(t *testing.T, c Case) sizes {
	t.Helper()
	c.Table = materials.Default()
	_, p := placedOf(t, c)
	by, err := sized(t.Context(), mechanicsOf(c, true), p, sizedCases(c.Loading, p.cases))
	if err != nil {
		t.Fatal(err)
	}
	return sizes{p.new.tolerance.mass, by[onRedesign]}
}

// A bar of 120 x 20 x 5 mm in class m may be 4.9 mm thick, 19.8 mm wide and 119.7 mm long
// (ISO 2768-1, table 1). Its mass goes with all three, its stiffness as a cantilever with
// b t3/L3 across its thickness and with t b3/L3 across its width.
func TestABarAtTheLimitOfItsToleranceBendsAsItsThicknessCubed(t *testing.T) {
	thin, narrow, short := math.Log(5/4.9), math.Log(20/19.8), math.Log(120/119.7)
	for _, m := range []struct {
		by  Method
		off float64 // of an exponent, as a share
	}{{ByBeam, 0.03}, {Auto, 0.05}} {
		c := steelCase(t)
		c.Loading.Method, c.Loading.Along = m.by, []mesh.Axis{mesh.Z, mesh.Y}
		z := sizesOf(t, c)
		for _, one := range []struct {
			what      string
			got, want float64
		}{
			{"mass by the depth", z.mass[depth], thin},
			{"mass by the outline", z.mass[outline], narrow + short},
			{"stiffness along z by the depth", z.stiffness["z"][depth], 3 * thin},
			{"stiffness along z by the outline", z.stiffness["z"][outline], narrow - 3*short},
			{"stiffness along y by the depth", z.stiffness["y"][depth], thin},
			{"stiffness along y by the outline", z.stiffness["y"][outline], 3*narrow - 3*short},
		} {
			if math.Abs(one.got-one.want) > m.off*3*thin {
				t.Errorf("%s: %s %.4f, want %.4f", m.by, one.what, one.got, one.want)
			}
		}
	}
}

// A bar as thick as its class allows at most weighs more: of 2700 kg/m3 to +-0.1 %, a
// percent over the drawn mass leaves its thickness a percent over, where +-2 % are
// allowed, and its stiffness, the cube, three.
func TestAWeightTellsTheThickness(t *testing.T) {
	bar := sizes{mass: bySize{depth: 0.02}, stiffness: map[string]bySize{"z": {depth: 0.06}}}
	in := inputs{draws: new(sampler), old: partInputs{
		density: materials.PlusMinus(2700, 2.7), volume: materials.Exactly(10_000), modulus: materials.Exactly(70_000), sizes: bar}}
	d := direction{loadCase: loadCase{name: "z"}, old: response{perModulus: 1}}
	open := draw.Interval(in.stiffnesses(onStock, d), 70_000)
	if width := (open.High - open.Low) / 70_000; math.Abs(width-0.95*0.12) > 0.003 {
		t.Errorf("nobody weighed it: %v, want +-5.7 %%", open)
	}
	weighed := materials.PlusMinus(27.27, 0.01)
	in.old.weighed, in.old.reading, in.old.cast = &weighed, weighed, in.old.density
	told := draw.Interval(in.stiffnesses(onStock, d), 70_000*math.Exp(0.03))
	if told.Low < 70_000*1.025 || told.High > 70_000*1.036 {
		t.Errorf("a percent too heavy: %v, want three percent stiffer", told)
	}
	for _, g := range in.lot(onStock).mass {
		if g < weighed.Low || g > weighed.High {
			t.Fatalf("a draw of %g g, weighed %v", g, weighed)
		}
	}
	weighed = materials.PlusMinus(30, 0.01) // more than the class allows: it tells nothing
	in.old.reading = weighed
	if all := draw.Interval(in.stiffnesses(onStock, d), 70_000); all != open {
		t.Errorf("a weight that contradicts the drawing leaves %v, want %v", all, open)
	}
}

// The row of least material is one corner of what is drawn: what it misses is not met
// for sure, and what it meets with the stock part at its strongest is.
func TestTheRowOfLeastMaterialAndTheVerdictAgree(t *testing.T) {
	c := steelCase(t)
	c.New.Material = c.Old.Material
	c.New.Loaded, c.Making.Tolerance = bar(120, 20, 4), "m"
	r := decide(t, c)
	row := r.AsMade[2]
	if row.Name != "ISO 2768-m, least material" || row.StiffnessRatio == nil {
		t.Fatalf("rows %+v", r.AsMade)
	}
	z := sizesOf(t, c)
	drawn := *r.Stiffness[0].Ratio
	least := drawn.Nominal * math.Exp(-z.stiffness["z"][depth]-z.stiffness["z"][outline])
	if math.Abs(*row.StiffnessRatio/least-1) > 0.01 {
		t.Errorf("the row has %.4f of the stiffness, the corner of the draws %.4f", *row.StiffnessRatio, least)
	}
	if mass := r.New.Mass.Nominal * math.Exp(-z.mass[depth]-z.mass[outline]); math.Abs(*row.Mass/mass-1) > 1e-3 {
		t.Errorf("the row weighs %.4g g, the corner of the draws %.4g", *row.Mass, mass)
	}
	met := func(limit float64) float64 {
		c.Limits.MinStiffnessRatio = limit
		for _, one := range decide(t, c).Criteria {
			if one.kind == stiffnessCriterion {
				return *one.Probability
			}
		}
		return -1
	}
	if p := met(*row.StiffnessRatio * 1.01); p == 1 || p < 0.5 {
		t.Errorf("a limit that the row of least material misses is met with %g, want likely but not sure", p)
	}
	if p := met(*row.StiffnessRatio * 0.8); p < 0.999 {
		t.Errorf("a limit far below it is met with %g, want surely", p)
	}
}
