package materials_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"swapworth/internal/property"
	"swapworth/materials"

	"pgregory.net/rapid"
)

func find(t *testing.T, name string) materials.Material {
	t.Helper()
	m, err := materials.Default().Find(name)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

const (
	msi   = 6894.757293168 // MPa; NIST SP 811
	lbIn3 = 27679.904710   // kg/m3; NIST SP 811
)

// MIL-HDBK-5J prints E in Msi and density in lb/in3 to three figures; a value of
// the table must round to them.
func TestMetalsAgreeWithMILHDBK5J(t *testing.T) {
	for name, want := range map[string]struct{ msi, lbIn3 float64 }{
		"6061-T6":   {9.9, 0.098},
		"7075-T6":   {10.3, 0.101},
		"2024-T3":   {10.5, 0.101},
		"Ti-6Al-4V": {16.0, 0.160},
		"4130":      {29.0, 0.283},
	} {
		m := find(t, name)
		if got := m.YoungsModulus.Value / msi; math.Abs(got-want.msi) > 0.05 {
			t.Errorf("%s: E is %.3f Msi, want %.1f", name, got, want.msi)
		}
		if got := m.Density.Nominal / lbIn3; math.Abs(got-want.lbIn3) > 0.0005 {
			t.Errorf("%s: density is %.5f lb/in3, want %.3f", name, got, want.lbIn3)
		}
	}
}

func TestStructuralValuesAreThoseOfTheEurocodes(t *testing.T) {
	for _, name := range []string{"S235", "S275", "S355"} { // EN 1993-1-1, 3.2.6
		if e := find(t, name).Elastic(); e.YoungsModulus != 210000 || e.Poisson != 0.3 {
			t.Errorf("%s: %+v, want 210 000 MPa and 0.3", name, e)
		}
	}
	if e := find(t, "6082-T6").Elastic(); e.YoungsModulus != 70000 || e.Density != 2700 { // EN 1999-1-1, 3.2.5
		t.Errorf("6082-T6: %+v, want 70 000 MPa and 2700 kg/m3", e)
	}
	for name, want := range map[string]float64{"S235": 235, "S275": 275, "S355": 355} { // EN 10025-2, t <= 16 mm
		if got := find(t, name).Strength.Value; got != want {
			t.Errorf("%s: yield strength %g MPa", name, got)
		}
	}
	// EN 10088-1, annex A: density in kg/dm3, E in GPa.
	for name, want := range map[string][2]float64{
		"303": {7.9, 200}, "304": {7.9, 200}, "316": {8.0, 200}, "430": {7.7, 220}, "17-4PH": {7.8, 200},
	} {
		m := find(t, name)
		if m.Density.Nominal != 1000*want[0] || m.YoungsModulus.Value != 1000*want[1] {
			t.Errorf("%s: %v kg/m3 and %g MPa, want %v", name, m.Density, m.YoungsModulus.Value, want)
		}
	}
}

func TestASmallShopFindsWhatItMeets(t *testing.T) {
	table := materials.Default()
	if n := len(table.All()); n < 45 {
		t.Errorf("%d materials", n)
	}
	for asked, want := range map[string]string{
		"5052": "5052-H32", "5083": "5083-H111", "6061-t6": "6061-T6", "6061 T6": "6061-T6", "EN AW-6061": "6061-T6",
		"3.3211": "6061-T6", "aluminium 6082-T6": "6082-T6", "2017": "2017-T4", "2024-T3": "2024-T3", "7075-T6": "7075-T6",
		"cast tooling plate": "cast tooling plate", "AlSi9Cu3": "AlSi9Cu3 die cast", "S235JR": "S235", "s355": "S355",
		"42crmo4": "42CrMo4", "1045": "C45", "O1": "O1", "D2": "D2", "AISI 303": "303", "stainless 304": "304",
		"1.4401": "316", "17-4 PH": "17-4PH", "grey cast iron": "EN-GJL-250", "ductile iron": "EN-GJS-400-15",
		"brass": "CuZn39Pb3", "bronze": "CuSn8", "copper": "Cu-ETP", "grade 5": "Ti-6Al-4V", "titanium grade 2": "titanium grade 2",
		"AZ31B": "AZ31B-H24", "AZ91D": "AZ91D", "zamak": "ZAMAK 3", "acetal": "POM", "nylon": "PA6", "PA66": "PA66", "PC": "PC",
		"acrylic": "PMMA", "ABS": "ABS", "PLA": "PLA", "PETG": "PETG", "PEEK": "PEEK", "PTFE": "PTFE", "HDPE": "PE-HD", "PP": "PP",
		"FR4": "G10", "carbon-fiber plate": "carbon-fibre plate", "plywood": "birch plywood", "beech": "beech", "oak": "oak",
		"AlMgSi1": "6082-T6", "al6061-t6": "6061-T6", "AL 7075": "7075-T6", "St37-2": "S235", "18/8": "304", "1018": "1018", "A36": "A36",
		"5754": "5754-H111", "gray iron": "EN-GJL-250",
		"maple": "maple", "steel": "S235", "stainless": "304", "aluminum": "6061-T6", "MAGNESIUM": "AZ31B-H24",
	} {
		if m, err := table.Find(asked); err != nil {
			t.Errorf("%s: %v", asked, err)
		} else if m.Name != want {
			t.Errorf("%s: found %s, want %s", asked, m.Name, want)
		}
	}
}

func TestEveryValueOfEveryRowHasASourceAndMakesSense(t *testing.T) {
	for _, m := range materials.Default().All() {
		sources := map[string]string{"density": m.DensitySource, "E": m.YoungsModulus.Source, "Poisson": m.Poisson.Source,
			"strength": m.Strength.Source, "magnet": m.Magnet.Source, "colour": m.Colour.Source}
		if m.Tensile.Value > 0 {
			sources["tensile strength"] = m.Tensile.Source
		}
		if m.Fatigue.Value > 0 {
			sources["fatigue"] = m.Fatigue.Source
		}
		for what, source := range sources {
			if source == "" {
				t.Errorf("%s: no source for %s", m.Name, what)
			}
		}
		if m.Strength.Value <= 0 || m.Strength.Name == "" || m.YoungsModulus.Value <= 0 || m.Poisson.Value <= 0 {
			t.Errorf("%s: a value is missing: %+v", m.Name, m)
		}
		if !m.PricePlaceholder || m.PricePerKg <= 0 {
			t.Errorf("%s: the price is not marked as a placeholder", m.Name)
		}
		if spread := (m.Density.High - m.Density.Low) / m.Density.Nominal; spread < 0.003 || spread > 0.25 && m.Kind != materials.Wood || spread > 0.3 {
			t.Errorf("%s: density %v spreads over %.1f %%", m.Name, m.Density, 100*spread)
		}
		if m.Tensile.Value > 0 && (m.Tensile.Value < m.Strength.Value || m.Fatigue.Value >= m.Tensile.Value) {
			t.Errorf("%s: strength %g, tensile %g, fatigue %g MPa", m.Name, m.Strength.Value, m.Tensile.Value, m.Fatigue.Value)
		}
	}
}

func TestNoNameMeansTwoMaterials(t *testing.T) {
	plain := func(s string) string {
		return strings.NewReplacer(" ", "", "-", "", "/", "").Replace(strings.ToLower(s))
	}
	table := materials.Default()
	seen := map[string]string{}
	add := func(name, of string) {
		if other, twice := seen[plain(name)]; twice && other != of {
			t.Errorf("%q means %s and %s", name, other, of)
		}
		seen[plain(name)] = of
	}
	for _, m := range table.All() {
		add(m.Name, m.Name)
		for _, a := range m.Aliases {
			add(a, m.Name)
		}
	}
	for _, f := range table.Families() {
		add(f.Name, "family "+f.Name)
		for _, a := range f.Aliases {
			add(a, "family "+f.Name)
		}
	}
}

func TestAFamilyNameSpansTheFamilyAndSaysSo(t *testing.T) {
	m := find(t, "aluminium")
	if m.Generic != "aluminium" || len(m.Warnings()) != 1 {
		t.Errorf("generic %q, warnings %q", m.Generic, m.Warnings())
	}
	for _, other := range materials.Default().OfFamily("aluminium") {
		if other.Density.Low < m.Density.Low || other.Density.High > m.Density.High {
			t.Errorf("%s %v lies outside %v", other.Name, other.Density, m.Density)
		}
	}
	if exact := find(t, "6061-T6"); exact.Generic != "" || len(exact.Warnings()) != 0 {
		t.Errorf("6061-T6: generic %q, warnings %q", exact.Generic, exact.Warnings())
	}
}

func TestRepresentativesStandForTheFamiliesOfAKind(t *testing.T) {
	table := materials.Default()
	families := map[string]bool{}
	for _, m := range table.Representatives(materials.Metal) {
		families[m.Family] = true
	}
	likely := []string{"structural steel", "stainless steel", "aluminium", "brass", "zinc", "titanium", "magnesium"}
	for _, want := range likely {
		if !families[want] {
			t.Errorf("no representative of %s", want)
		}
	}
	if len(families) != len(likely) {
		t.Errorf("families %v, want those that a small machine's part is likely of", families)
	}
	plastics := map[string]bool{}
	for _, m := range table.Representatives(materials.Plastic) {
		plastics[m.Name] = true
	}
	for _, want := range []string{"POM", "PA6", "PC", "ABS", "PMMA", "PLA", "PETG"} {
		if !plastics[want] {
			t.Errorf("%s is not among the common plastics", want)
		}
	}
}

func TestAFillScalesWhatAPrintWeighsAndCarries(t *testing.T) {
	solid, sparse := find(t, "PLA"), find(t, "pla@40%")
	for what, ratio := range map[string]float64{
		"density": sparse.Density.Nominal / solid.Density.Nominal, "low density": sparse.Density.Low / solid.Density.Low,
		"E": sparse.YoungsModulus.Value / solid.YoungsModulus.Value, "strength": sparse.Strength.Value / solid.Strength.Value,
	} {
		if math.Abs(ratio-0.4) > 1e-12 {
			t.Errorf("%s scales by %g", what, ratio)
		}
	}
	if len(solid.Warnings()) != 1 || len(sparse.Warnings()) != 1 {
		t.Errorf("warnings %q and %q", solid.Warnings(), sparse.Warnings())
	}
	for _, bad := range []string{"PLA@0", "PLA@120%", "PLA@-5", "PLA@", "PLA@half", "6061-T6@50%", "PLA@nan"} {
		if _, err := materials.Default().Find(bad); err == nil {
			t.Errorf("%s was accepted", bad)
		}
	}
}

func TestAnUnknownNameIsAnsweredWithTheNearest(t *testing.T) {
	for typed, want := range map[string]string{
		"7076": "7075-T6", "S335": "S355", "aluminuim": "aluminium", "6061-T4": "6061-T6", "stanless": "stainless steel",
		"PEEKK": "PEEK", "CuZn39": "CuZn39Pb3", "plexi acrylic": "PMMA",
	} {
		_, err := materials.Default().Find(typed)
		if err == nil || !strings.Contains(err.Error(), want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, want %s among the nearest", typed, err, want)
		}
	}
}

func TestOwnTablesAreLaidOverTheBuiltInOne(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	own, err := materials.UserFile()
	if err != nil {
		t.Skip("no configuration folder on this system")
	}
	if _, err := materials.Open(); err != nil {
		t.Fatalf("without an own table: %v", err)
	}
	write(t, own, `
[[material]]
name = "6061-T6"
family = "aluminium"
density_kg_m3 = { nominal = 2710 }
`)
	extra := filepath.Join(t.TempDir(), "shop.toml")
	write(t, extra, `
[[family]]
name = "lead"
kind = "metal"
representative = "Pb99.9"

[[material]]
name = "Pb99.9"
aliases = ["soft lead"]
family = "lead"
density_kg_m3 = { low = 11300, nominal = 11340, high = 11350, source = "from memory" }
price_per_kg = { value = 3.5 }
`)
	table, err := materials.Open(extra)
	if err != nil {
		t.Fatal(err)
	}
	m, err := table.Find("6061-T6")
	if err != nil || m.Density != materials.Exactly(2710) || m.Table != own {
		t.Errorf("own row: %+v, %v", m, err)
	}
	if m, err = table.Find("LEAD"); err != nil || m.Name != "Pb99.9" || m.PricePlaceholder || m.PricePerKg != 3.5 {
		t.Errorf("own family: %+v, %v", m, err)
	}
	if m := find(t, "6061-T6"); m.Density.Nominal != 2700 {
		t.Error("an own table changed the built-in one")
	}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestAMistakeInATableIsNamedWithItsLineAndColumn(t *testing.T) {
	const head = "[[material]]\nname = \"x\"\nfamily = \"plastic\"\n"
	for text, want := range map[string]string{
		"x =": "line 1,", "[[material]\n": "line 1, column 11",
		"[[material]]\ncolur = 1\n":                         "line 2, column 1: unknown key \"material.colur\"",
		"[[material]]\nname = 1\n":                          "line 2, column 8: material.name: expected text in quotes",
		head + "density_kg_m3 = 1400\n":                     "line 4,",
		head + "density_kg_m3 = { nominal = 1, lower = 2 }": "line 4, column 32",
		"[[material]]\nfamily = \"plastic\"\n":              "line 1, column 3: a material without a name",
		"[[material]]\nname = \"x\"\nfamily = \"cheese\"\n": "line 3, column 1: material \"x\": unknown family \"cheese\"",
		head: "line 1, column 3: material \"x\": density_kg_m3 needs",
		head + "density_kg_m3 = { low = 3, nominal = 2, high = 1 }":                                    "line 4, column 1: material \"x\": density",
		head + "density_kg_m3 = { nominal = nan }":                                                     "line 4, column 1:",
		head + "[material.density_kg_m3]\nnominal = -4\n":                                              "line 4, column 11:",
		head + "density_kg_m3 = { nominal = 1400 }\npoisson = { value = 0.6 }":                         "line 5, column 1:",
		head + "density_kg_m3 = { nominal = 1400 }\nfatigue_mpa = { value = 20 }":                      "line 5, column 1:",
		head + "density_kg_m3 = { nominal = 1400 }\ncolour = { groups = [\"mauve\"] }":                 "line 5, column 1:",
		head + "density_kg_m3 = { nominal = 1400 }\nprice_per_kg = { value = -1 }":                     "line 5, column 1:",
		head + "density_kg_m3 = { nominal = 1400 }\nfill = 0.5":                                        "line 5, column 1:",
		"[[family]]\nname = \"f\"\nkind = \"gas\"\n":                                                   "line 3, column 1:",
		"[[family]]\nname = \"f\"\nkind = \"metal\"\nrepresentative = \"none\"\n":                      "line 4, column 1:",
		"[[family]]\nname = \"f\"\nkind = \"metal\"\nrepresentative = \"S235\"\ncommon = [\"none\"]\n": "line 5, column 1:",
	} {
		path := filepath.Join(t.TempDir(), "own.toml")
		write(t, path, text)
		table := materials.Default()
		err := table.AddFile(path)
		if err == nil || !strings.Contains(err.Error(), path+": "+want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: got %v, want %s", text, err, want)
		}
		if len(table.All()) != len(materials.Default().All()) {
			t.Errorf("%q changed the table", text)
		}
	}
	for _, path := range []string{filepath.Join(t.TempDir(), "missing.toml"), t.TempDir()} {
		if err := materials.Default().AddFile(path); err == nil {
			t.Errorf("%s was read", path)
		}
	}
}

func TestEveryNameFindsItsOwnRow(t *testing.T) {
	table := materials.Default()
	all := table.All()
	property.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(all).Draw(t, "material")
		name := rapid.SampledFrom(append([]string{m.Name}, m.Aliases...)).Draw(t, "name")
		change := rapid.SampledFrom([]func(string) string{strings.ToUpper, strings.ToLower,
			func(s string) string { return "  " + s + " " },
			func(s string) string { return strings.ReplaceAll(s, "-", " ") }}).Draw(t, "change")
		got, err := table.Find(change(name))
		if err != nil || got.Name != m.Name {
			t.Fatalf("%q: found %q, %v; want %q", change(name), got.Name, err, m.Name)
		}
	})
}

func FuzzAddFile(f *testing.F) {
	f.Add([]byte("[[material]]\nname = \"x\"\nfamily = \"plastic\"\ndensity_kg_m3 = { nominal = 1400 }\n"))
	f.Add([]byte("[[material]]\nname = \"x\"\nfamily = \"gas\"\n"))
	f.Add([]byte("[[family]]\nname = \"f\"\nkind = \"metal\"\n"))
	f.Add([]byte("[[material]]\n[material.density_kg_m3]\nnominal=nan"))
	path := filepath.Join(f.TempDir(), "own.toml")
	f.Fuzz(func(t *testing.T, text []byte) {
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Skip()
		}
		table := materials.Default()
		if table.AddFile(path) != nil {
			return
		}
		for _, m := range table.All() {
			if !(m.Density.Low > 0 && m.Density.Low <= m.Density.High) {
				t.Errorf("%q: density %v", m.Name, m.Density)
			}
		}
	})
}

func FuzzFind(f *testing.F) {
	for _, s := range []string{"6061-T6", "PLA@40%", "@", "en", "stainless", "\x00", "é"} {
		f.Add(s)
	}
	table := materials.Default()
	f.Fuzz(func(t *testing.T, name string) {
		if m, err := table.Find(name); err == nil && !(m.Density.Low > 0) {
			t.Errorf("%q: density %v", name, m.Density)
		}
	})
}

func ExampleTable_Find() {
	table := materials.Default()
	m, err := table.Find("EN AW-6082")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, %s: %v kg/m3, E %g MPa (%s)\n", m.Name, m.Family, m.Density, m.YoungsModulus.Value, m.YoungsModulus.Source)
	// Output: 6082-T6, aluminium: 2690 .. 2700 .. 2715 kg/m3, E 70000 MPa (EN 1999-1-1, 3.2.5; low: MIL-HDBK-5J, 9.9 Msi for 6061; 1 % more to either side from memory)
}

func fileHas(t *testing.T, path, text string) bool {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Contains(string(data), text)
}
