package materials_test

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"swapworth/materials"
)

// What the standards print, and where each was looked up: N/mm2, and the thickness in
// mm it holds to.
func TestStrengthsAreThoseOfTheStandardsWithTheirThickness(t *testing.T) {
	for name, want := range map[string]struct{ strength, to float64 }{
		"2024-T3":  {290, 80},  // EN 485-2, from memory
		"5052-H32": {130, 40},  // EN 485-2, from memory
		"7020-T6":  {280, 40},  // EN 485-2, from memory
		"304L":     {175, 160}, // EN 10088-3, from memory
		"304":      {190, 160}, // EN 10088-3, from memory
		"S235":     {235, 16},  // EN 10025-2, table 7: readle.co.uk, steel grades to Eurocodes
		"S355":     {355, 16},  // the same
		"E295":     {285, 40},  // EN 10025-2, table 8, 16 to 40 mm, from memory
		"16MnCr5":  {350, 100}, // hot rolled, 10 to 100 mm: Lucefin technical card, scribd.com/document/389288590
	} {
		s := find(t, name).Strength
		if s.Value != want.strength || s.To != want.to {
			t.Errorf("%s: %g MPa to %g mm, want %g to %g", name, s.Value, s.To, want.strength, want.to)
		}
		if s.HoldsAt(want.to+1) || !s.HoldsAt(want.to) {
			t.Errorf("%s does not keep to its thickness", name)
		}
	}
	// EN 622-5, boards above 6 mm: 2700 to 9 mm, 2500 to 12 (data sheet scribd.com/document/713265031).
	if e := find(t, "MDF").Modulus(); e.Low != 2500 || e.High != 2700 {
		t.Errorf("MDF: E %v", e)
	}
	// Bar of 17-4PH is sold solution treated, far weaker than aged.
	if a, h := find(t, "17-4PH condition A"), find(t, "17-4PH"); a.Strength.Value > 0.7*h.Strength.Value || !strings.Contains(h.Note, "condition A") {
		t.Errorf("condition A %g MPa, H900 %g MPa, %q", a.Strength.Value, h.Strength.Value, h.Note)
	}
}

func TestModulusAndStrengthCarryBoundsThatAreHonest(t *testing.T) {
	wide := map[string]bool{"cast iron": true, "sintered steel": true, "zinc": true} // by graphite, pores and creep
	for _, m := range materials.Default().All() {
		e, s := m.Modulus(), m.Strength.Bounds()
		if m.YoungsModulus.High <= m.YoungsModulus.Low || m.Strength.High <= m.Strength.Low {
			t.Errorf("%s has no bounds of its own: E %v, strength %v", m.Name, e, s)
		}
		half := (e.High - e.Low) / 2 / e.Nominal
		switch {
		case m.Kind == materials.Metal && !wide[m.Family]:
			if half < 0.009 || half > 0.065 {
				t.Errorf("%s: E %v spreads by %.1f %% each way", m.Name, e, 100*half)
			}
		case m.Kind == materials.Wood && m.Name != "MDF", m.Family == "printed plastic":
			if half < 0.15 {
				t.Errorf("%s: E %v spreads by %.1f %% each way; boards and printers spread by 20", m.Name, e, 100*half)
			}
		}
	}
	if e := find(t, "carbon-fibre plate").Modulus(); e.Low != 45000 || e.High != 70000 {
		t.Errorf("carbon-fibre plate: E %v", e)
	}
	if e := find(t, "PA6").Modulus(); e.Nominal > 0.55*e.High {
		t.Errorf("PA6: %v, and moist it has half of what it has dry", e)
	}
}

// What an isotropic computation makes of a woven carbon plate in twist: E/(2 (1 + v)) of
// 28 GPa, where data sheets have 5 (performance-composites.com).
func TestFibresAndGrainTwistFarSofterThanAnIsotropicPart(t *testing.T) {
	for _, m := range materials.Default().All() {
		grained := m.Family == "laminate" || m.Family == "wood"
		if grained != (m.Directional != nil) {
			t.Errorf("%s: directional %v", m.Name, m.Directional)
		}
		if !grained {
			if m.Twist() != materials.Exactly(1) {
				t.Errorf("%s: twist %v", m.Name, m.Twist())
			}
			continue
		}
		if k := m.Twist(); !(0 < k.Low && k.Low <= k.High && k.High < 1.25) {
			t.Errorf("%s: twist %v", m.Name, k)
		}
		if said := m.GrainWarning(); !strings.Contains(said, "twist") || !strings.Contains(said, " to ") {
			t.Errorf("%s: warnings %q", m.Name, said)
		}
	}
	if k := find(t, "carbon-fibre plate").Twist(); math.Abs(k.High-5000/28301.9) > 1e-4 {
		t.Errorf("carbon-fibre plate: %v", k)
	}
}

// sources lists where every value of the row comes from, those it has: density,
// stiffness, strengths, and what decides whether a part lasts.
func sources(m materials.Material) []string {
	all := []string{m.DensitySource, m.YoungsModulus.Source, m.Poisson.Source, m.Strength.Source, m.Tensile.Source,
		m.Fatigue.Source, m.Expansion.Source, m.Softens.Source, m.Moisture.Source, m.AnodicIndex.Source}
	if m.Directional != nil {
		all = append(all, m.Directional.Source)
	}
	return slices.DeleteFunc(all, func(s string) bool { return s == "" })
}

// Of every value the source says whether it was looked up: first that of the value, after
// a semicolon those of its bounds. The figures stand in docs/materials.md.
func TestHowMuchOfTheTableIsFromMemory(t *testing.T) {
	values, remembered, bounds, rows, wholly := 0, 0, 0, 0, 0
	for _, m := range materials.Default().All() {
		sources := sources(m)
		own := 0
		for _, s := range sources {
			values++
			of, rest, _ := strings.Cut(s, ";")
			switch {
			case strings.Contains(of, "from memory"):
				own++
			case strings.Contains(rest, "from memory"):
				bounds++
			}
		}
		remembered += own
		rows++
		if own == len(sources) {
			wholly++
		}
	}
	got := fmt.Sprintf("%d rows, %d values: %d are from memory, in %d rows all of them, and of %d more the bounds", rows, values, remembered, wholly, bounds)
	if !fileHas(t, filepath.Join("..", "docs", "materials.md"), got) {
		t.Errorf("docs/materials.md does not say: %s", got)
	}
}

func TestTheNamesThatPeopleTypeAreFound(t *testing.T) {
	table := materials.Default()
	for want, typed := range map[string][]string{
		"6061-T6": {"A6061", "AA6061", "A96061", "ENAW6061", "EN AW 6061", "al 6061"}, "7075-T6": {"A7075", "A97075", "AA7075-T6"},
		"304": {"SUS304", "S30400", "AISI304", "A2 stainless"}, "304L": {"1.4307", "SUS304L"}, "1.4310": {"301", "SUS301"}, "S235": {"SS400", "Q235"},
		"C45": {"S45C", "G10450", "EN8"}, "42CrMo4": {"SCM440"}, "D2": {"SKD11"}, "DC01": {"SPCC"}, "S355": {"SM490", "Q355"}, "17-4PH": {"SUS630", "S17400"},
		"POM": {"acetal", "delrin", "POM-C"}, "PC": {"polycarbonate"}, "PMMA": {"acrylic", "plexiglass"}, "cast tooling plate": {"tooling plate", "jig plate"},
		"2007-T4": {"2007", "AlCuMgPb"}, "2011-T6": {"2011", "AlCuBiPb"}, "6005A-T6": {"6005A"}, "7020-T6": {"7020", "AlZn4.5Mg1"}, "A356-T6": {"A356", "AC4C"},
		"1.2312": {"P20", "40CrMnMoS8-6"}, "16MnCr5": {"1.7131", "5115"}, "E295": {"St50-2"}, "E335": {"St60", "1.0060"}, "RG7": {"Rg7", "C93200", "gunmetal"},
		"sintered steel FC-0208": {"sintered steel", "powder metal"}, "spruce": {"softwood", "C24"}, "PA-CF print": {"PA-CF", "PA6-CF"},
		"EN-GJL-250": {"FC250"}, "AlSi9Cu3 die cast": {"ADC12"}, "PTFE": {"teflon"}, "Ti-6Al-4V": {"R56400"}, "ZAMAK 3": {"ZDC2", "mazak"}, "CuSn8": {"C52100"},
	} {
		for _, name := range typed {
			if m, err := table.Find(name); err != nil || m.Name != want {
				t.Errorf("%s: found %q, %v; want %s", name, m.Name, err, want)
			}
		}
	}
	if _, err := table.Find("SUS305"); err == nil || !strings.Contains(err.Error(), "did you mean") || !strings.Contains(err.Error(), "30") {
		t.Errorf("%v", err)
	}
}

func TestAUsersTableInOtherUnitsIsAskedAbout(t *testing.T) {
	const metal, plastic = "[[material]]\nname = \"x\"\nfamily = \"aluminium\"\n", "[[material]]\nname = \"x\"\nfamily = \"plastic\"\n"
	for text, want := range map[string]string{
		metal + "density_kg_m3 = { nominal = 2.7 }":                                                          "line 4, column 1: material \"x\": a density of 2.7 kg/m3 is that of a foam: is it in g/cm3? Then give 2700",
		metal + "density_kg_m3 = { nominal = 0.098 }":                                                        "lb/in3 or g/cm3? Then give 2712.6",
		metal + "density_kg_m3 = { nominal = 2700 }\nyoungs_modulus_mpa = { value = 70 }":                    "line 5, column 1: material \"x\": a Young's modulus of 70 MPa is that of no metal: is it in GPa? Then give 70000",
		plastic + "density_kg_m3 = { nominal = 1400 }\nyoungs_modulus_mpa = { value = 2.8 }":                 "give 2800",
		metal + "density_kg_m3 = { nominal = 2700 }\nstrength_mpa = { value = 0.24 }":                        "give 240",
		metal + "density_kg_m3 = { nominal = 2700 }\n\n" + metal + "density_kg_m3 = { nominal = 2800 }":      "line 7, column 1: material \"x\": a second row of that name",
		metal + "density_kg_m3 = { nominal = 2700 }\ntraits = [\"sings\"]":                                   "line 5, column 1: \"x\": unknown trait \"sings\"",
		metal + "density_kg_m3 = { nominal = 2700 }\nsoftens_c = { value = 900 }":                            "line 5, column 1:",
		metal + "density_kg_m3 = { nominal = 2700 }\nstrength_mpa = { value = 200, from_mm = 9, to_mm = 3 }": "line 5, column 1:",
		metal + "density_kg_m3 = { nominal = 2700 }\ndirectional = { shear_mpa = [5, 3] }":                   "line 5, column 1:",
	} {
		path := filepath.Join(t.TempDir(), "own.toml")
		write(t, path, text)
		err := materials.Default().AddFile(path)
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: got %v, want %s", text, err, want)
		}
	}
	path := filepath.Join(t.TempDir(), "foam.toml")
	write(t, path, "[[material]]\nname = \"foam\"\nfamily = \"plastic\"\nas_meant = true\ndensity_kg_m3 = { nominal = 60 }\n")
	table := materials.Default()
	if err := table.AddFile(path); err != nil {
		t.Error(err)
	}
	if m, err := table.Find("foam"); err != nil || m.Density.Nominal != 60 || !m.Has(materials.Creeps) {
		t.Errorf("%+v, %v", m, err)
	}
}

// Coefficients of expansion, um/m K: EN 10088-1 (as materials-welding.blogspot.com prints
// it, 2017/05), EN 1993-1-1 and EN 1999-1-1, 3.2.5; plastics of Crawford, Plastics
// Engineering, table 1.8; temperatures of scribd.com/document/48570403.
func TestExpansionAndSofteningAreThoseOfTheirSources(t *testing.T) {
	for name, want := range map[string]float64{"304": 16, "316": 16, "430": 10, "420": 10.5, "17-4PH": 10.9, "S235": 12, "6082-T6": 23,
		"ABS": 90, "PMMA": 70, "PTFE": 140, "PC": 65, "CFRP": 2.1} {
		if got := find(t, name).Expansion; got.Value != want || strings.Contains(got.Source, "from memory") {
			t.Errorf("%s: %+v, want %g", name, got, want)
		}
	}
	for name, want := range map[string]float64{"ABS": 89, "PA6": 80, "PA66": 100, "POM": 95} {
		if got := find(t, name).Softens; got.Value != want || strings.Contains(got.Source, "from memory") {
			t.Errorf("%s: %+v, want %g", name, got, want)
		}
	}
}
