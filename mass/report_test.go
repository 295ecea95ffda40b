package mass_test

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
)

func material(t *testing.T, name string) materials.Material {
	t.Helper()
	m, err := materials.Default().Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// loaded is a box of 10 000 mm3.
func loaded() *mesh.Loaded {
	m := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	return &mesh.Loaded{Path: "box.stl", Triangles: 12, Mesh: m, Report: mesh.Check(m)}
}

func measured(t *testing.T, l *mesh.Loaded) mass.Properties {
	t.Helper()
	p, err := mass.Measure(l)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The keys are the program's promise to scripts.
func TestTheReportHasItsStableKeys(t *testing.T) {
	l := loaded()
	al := material(t, "6061-T6")
	text, err := json.Marshal(mass.NewWeighed(l, measured(t, l), &al, nil))
	if err != nil {
		t.Fatal(err)
	}
	var got map[string]any
	if err := json.Unmarshal(text, &got); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"file", "triangles", "closed", "shells", "volume_mm3", "area_mm2", "size_mm", "centroid_mm",
		"material", "density_kg_m3", "mass_g", "inertia_g_mm2", "principal_g_mm2", "faceting_volume_percent", "warnings"} {
		if v, ok := got[key]; !ok || v == nil {
			t.Errorf("%s is %v", key, v)
		}
	}
}

func TestMassIsVolumeTimesDensity(t *testing.T) {
	l := loaded()
	al := material(t, "6061-T6") // 2690 .. 2700 .. 2720 kg/m3
	r := mass.NewReport(l, measured(t, l), &al)
	want := materials.Range{Low: 26.9, Nominal: 27, High: 27.2}
	for _, c := range [][2]float64{{r.Mass.Low, want.Low}, {r.Mass.Nominal, want.Nominal}, {r.Mass.High, want.High}} {
		if relative(c[0], c[1]) > 1e-12 {
			t.Errorf("mass %v, want %v", *r.Mass, want)
		}
	}
	// A box of 27 g: 27/12 (20^2 + 5^2) g mm2 about its length.
	if relative(r.Inertia[0][0], 27./12*425) > 1e-12 || relative(r.Principal[0], 27./12*425) > 1e-9 {
		t.Errorf("inertia %v, principal %v", *r.Inertia, *r.Principal)
	}
}

func TestARepairWidensTheMass(t *testing.T) {
	l := loaded()
	p := measured(t, l)
	l.Repairs = []mesh.Repair{{What: "closed a gap", AddedVolumeMM3: 100}, {What: "took a flap away", AddedVolumeMM3: -50}}
	if got := mass.VolumeRange(p, l.Repairs); got != (materials.Range{Low: 9850, Nominal: 10000, High: 10150}) {
		t.Errorf("volume %v", got)
	}
	al := material(t, "6061-T6")
	r := mass.NewWeighed(l, p, &al, nil)
	if r.Dominant != "repair" || len(r.Warnings) != 2 {
		t.Errorf("dominant %q, warnings %q", r.Dominant, r.Warnings)
	}
	l.Repairs = []mesh.Repair{{AddedVolumeMM3: 10, LessMM3: 200, MoreMM3: 500}}
	if got := mass.VolumeRange(p, l.Repairs); got != (materials.Range{Low: 9790, Nominal: 10000, High: 10510}) {
		t.Errorf("volume %v with a hole or boss that may be missing", got)
	}
	l.Repairs = []mesh.Repair{{AddedVolumeMM3: 1e6}}
	if got := mass.VolumeRange(p, l.Repairs); !(got.Low > 0) {
		t.Errorf("volume %v", got)
	}
}

// Two bars of 100 x 10 x 10 that cross in 10 x 10 x 9.5 mm.
func TestWhatTwoShellsShareIsWeighedOnce(t *testing.T) {
	m := mesh.Merge(mesh.Cuboid(r3.Vec{X: -50, Y: -5, Z: -5}, r3.Vec{X: 50, Y: 5, Z: 5}),
		mesh.Cuboid(r3.Vec{X: -5, Y: -50, Z: -4.5}, r3.Vec{X: 5, Y: 50, Z: 5.5}))
	l := &mesh.Loaded{Path: "cross.stl", Triangles: 24, Mesh: m, Report: mesh.Check(m)}
	p := measured(t, l)
	const union = 20000 - 10*10*9.5
	if v := mass.VolumeRange(p, nil); !v.Contains(union) || relative(v.Nominal, union) > 0.01 {
		t.Errorf("volume %v, want %v", v, union)
	}
	// Both bars about their own middles, the upper one half a millimetre up, and
	// the block 10 x 10 x 9.5 that they share taken out once: closed forms.
	centroid := (10000*0.5 - 950*0.25) / union
	along := func(v, a, b, z float64) float64 { return v/12*(a*a+b*b) + v*(z-centroid)*(z-centroid) }
	ixx := along(10000, 10, 10, 0) + along(10000, 100, 10, 0.5) - along(950, 10, 9.5, 0.25)
	izz := 2*10000./12*(100*100+10*10) - 950./12*200
	if math.Abs(p.Centroid.Z-centroid) > 1e-3 || relative(p.Inertia[0][0], ixx) > 1e-4 || relative(p.Inertia[2][2], izz) > 1e-4 {
		t.Errorf("centroid %v, inertia %v, want z %g, %g and %g", p.Centroid, p.Inertia, centroid, ixx, izz)
	}
	al := material(t, "6061-T6")
	r := mass.NewWeighed(l, p, &al, nil)
	if relative(r.Mass.Nominal, r.Volume*2700e-6) > 1e-12 || !strings.Contains(strings.Join(r.Warnings, ";"), "counted once") {
		t.Errorf("mass %v of %g mm3, warnings %q", r.Mass, r.Volume, r.Warnings)
	}
}

func TestAnOpenMeshIsRefusedWithThePlaceOfItsGaps(t *testing.T) {
	l := loaded()
	l.Mesh = &mesh.Mesh{Vertices: l.Mesh.Vertices, Faces: l.Mesh.Faces[1:]}
	l.Report = mesh.Check(l.Mesh)
	_, err := mass.Measure(l)
	if err == nil || !strings.Contains(err.Error(), "box.stl is not closed, so it has no volume: 3 open edges in 1 gap near (") {
		t.Errorf("got %v", err)
	}
	flat := &mesh.Mesh{Vertices: []r3.Vec{{}, {X: 1}, {Y: 1}}, Faces: [][3]int32{{0, 1, 2}, {0, 2, 1}}}
	if _, err := mass.Measure(&mesh.Loaded{Path: "flat.stl", Mesh: flat, Report: mesh.Check(flat)}); err == nil {
		t.Error("two faces on each other have a volume")
	}
	empty := &mesh.Mesh{}
	if _, err := mass.Measure(&mesh.Loaded{Path: "empty.stl", Mesh: empty, Report: mesh.Check(empty)}); err == nil {
		t.Error("an empty mesh has a volume")
	}
}

func TestAWeightContradictsTheWrongMaterialOnly(t *testing.T) {
	l := loaded() // 27 g in aluminium, 78.5 g in steel, 12.4 g in PLA
	p := measured(t, l)
	for _, c := range []struct {
		material string
		grams    float64
		contrary bool
	}{
		{"S235", 27, true}, {"6061-T6", 27, false}, {"S235", 78.5, false}, {"6061-T6", 78.5, true},
		{"PLA", 5, false}, {"PLA", 12.4, false}, {"PLA", 27, true}, {"PLA", 0.5, true}, {"PLA@40%", 9, false},
	} {
		m := material(t, c.material)
		r := mass.NewWeighed(l, p, &m, &mass.Weighing{Grams: c.grams, Resolution: 0.1})
		if (r.Contradiction != nil) != c.contrary {
			t.Errorf("%s at %g g: contradiction %v", c.material, c.grams, r.Contradiction)
		}
		if r.Mass.Nominal != c.grams || r.Weighed.Nominal != c.grams {
			t.Errorf("%s: mass %v, weighed %v", c.material, r.Mass, r.Weighed)
		}
		if relative(r.Density.Nominal, c.grams*100) > 1e-12 {
			t.Errorf("%s: density %v", c.material, r.Density)
		}
	}
}

func TestObservationsContradictToo(t *testing.T) {
	l := loaded()
	p := measured(t, l)
	steel, brass := material(t, "S235"), material(t, "CuZn39Pb3")
	identify := func(grams float64, m materials.Material, o mass.Observation) mass.Identification {
		return mass.NewIdentification(l, p, mass.Weighing{Grams: grams, Resolution: 1}, materials.Default(), o, &m)
	}
	if id := identify(78.5, steel, mass.Observation{Magnet: yes(false)}); id.Contradiction == nil ||
		!strings.Contains(*id.Contradiction, "does not hold") {
		t.Errorf("no magnet: %v", id.Contradiction)
	}
	if id := identify(84.7, brass, mass.Observation{Magnet: yes(true)}); id.Contradiction == nil {
		t.Error("magnetic brass passes")
	}
	if id := identify(84.7, brass, mass.Observation{Colour: "grey"}); id.Contradiction == nil {
		t.Error("grey brass passes")
	}
	if id := identify(84.7, brass, mass.Observation{Colour: "yellow"}); id.Contradiction != nil {
		t.Error(*id.Contradiction)
	}
}

func TestAnIdentificationSaysWhatWouldTellMore(t *testing.T) {
	l := loaded()
	p := measured(t, l)
	id := mass.NewIdentification(l, p, mass.Weighing{Grams: 78.6, Resolution: 1}, materials.Default(), mass.Observation{}, nil)
	if !slices.Contains(id.Families(), "structural steel") || !slices.Contains(id.Families(), "stainless steel") {
		t.Errorf("families %v", id.Families())
	}
	if advice := strings.Join(id.Advice, "; "); !strings.Contains(advice, "magnet") {
		t.Errorf("advice %q", advice)
	}
	for _, family := range id.Families() {
		if !slices.ContainsFunc(id.Candidates, func(c mass.Candidate) bool { return c.Family == family && c.Match > 0 }) {
			t.Errorf("%s fits without a material", family)
		}
	}
	coarse := mass.NewIdentification(l, p, mass.Weighing{Grams: 20, Resolution: 5}, materials.Default(), mass.Observation{}, nil)
	if len(coarse.Warnings) != 1 {
		t.Errorf("a 5 g scale for 20 g: warnings %q", coarse.Warnings)
	}
	light := mass.NewIdentification(l, p, mass.Weighing{Grams: 5, Resolution: 0.1}, materials.Default(), mass.Observation{}, nil)
	i := slices.IndexFunc(light.Prints, func(c mass.PrintCandidate) bool { return c.Material == "PLA" })
	if i < 0 || math.Abs(light.Prints[i].Fill.Nominal-5/12.4) > 1e-9 {
		t.Errorf("prints %v", light.Prints)
	}
}

// The eigenvalues of diag(1, 2, 3) s are 1, 2 and 3 s for every s.
func TestPrincipalMomentsAreFoundAtAnySize(t *testing.T) {
	for _, s := range []float64{1e-300, 1e-150, 1, 1e150, 1e300} {
		got := mass.Principal([3][3]float64{{2 * s, 0, 0}, {0, 1 * s, 0}, {0, 0, 3 * s}})
		for i, want := range [3]float64{s, 2 * s, 3 * s} {
			if math.Abs(got[i]-want) > 1e-12*want {
				t.Errorf("at %g: %v", s, got)
			}
		}
	}
	if got := mass.Principal([3][3]float64{}); got != [3]float64{} {
		t.Errorf("of nothing: %v", got)
	}
	if got := mass.Principal([3][3]float64{{math.Inf(1), 0, 0}}); !math.IsNaN(got[0]) {
		t.Errorf("of infinity: %v", got)
	}
}

// A part full of gaps is refused in one line that names the three largest.
func TestTheThreeLargestGapsOfManyAreNamed(t *testing.T) {
	report := mesh.Report{OpenEdges: 15, GapTotal: 5}
	for k := range 5 {
		report.Gaps = append(report.Gaps, mesh.Gap{At: r3.Vec{X: float64(k)}, Edges: 3})
	}
	text := mass.OpenError{File: "part.stl", Report: report}.Error()
	if strings.Count(text, "(") != 3 || !strings.Contains(text, "in 5 gaps, the largest near (0, 0, 0) (1, 0, 0) (2, 0, 0) mm") {
		t.Error(text)
	}
}
