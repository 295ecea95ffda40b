package main

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"swapworth/mesh"
	"swapworth/note/page"
	"swapworth/swap"
	"swapworth/swap/casefile"
)

func TestEveryFieldOfThePageIsAFlagOfCompareOrVary(t *testing.T) {
	compare, vary := newCompare(), newVary()
	for _, name := range page.Fields() {
		if compare.Flags().Lookup(name) == nil && vary.Flags().Lookup(name) == nil {
			t.Errorf("neither compare nor vary has a flag --%s", name)
		}
	}
}

// A field that named a file would let the page read any file of the machine.
func TestNoFieldOfThePageNamesAFile(t *testing.T) {
	cmd := newVary() // it has the flags of compare too
	for _, name := range page.Fields() {
		if f := cmd.Flags().Lookup(name); f != nil && strings.Contains(strings.ToLower(f.Value.Type()+f.Usage), "file") {
			t.Errorf("--%s takes a file: %s", name, f.Usage)
		}
	}
}

func TestThePageAsksWhatTheCommandLineAsks(t *testing.T) {
	reference := filepath.Join("..", "..", "testdata", "reference", "slab.stl")
	question, err := asker(nil, false)(t.Context(), reference, reference, []string{"--load=20N", "--count=3", "--old-weight=27.0g", "--try-thickness=4mm,0.25in", "--try-material=POM"})
	if err != nil {
		t.Fatal(err)
	}
	if c := question.Case; c.Loading.Force != 20 || c.Count != 3 || c.Old.Weight.Resolution != 0.1 {
		t.Errorf("got %+v", c)
	}
	if v := question.Variation; len(v.Thickness) != 2 || v.Thickness[1] != 6.35 || v.Materials[0].Name != "POM" {
		t.Errorf("got %+v", v)
	}
	_, err = asker(nil, false)(t.Context(), reference, reference, []string{"--load=20mm"})
	if err == nil || !strings.Contains(err.Error(), "--load") || !strings.Contains(err.Error(), "20mm") {
		t.Errorf("the error should name flag and value: %v", err)
	}
}

// A bolted question is the same one whether it comes from flags, from a case file or
// from the page, so that all three give the same numbers.
func TestABoltedCaseIsTheSameFromFlagsCaseFileAndPage(t *testing.T) {
	old, new := filepath.Join("..", "..", "testdata", "plate_old.stl"), filepath.Join("..", "..", "testdata", "plate_new.stl")
	flags := []string{
		"--old-material=S235", "--new-material=6061-T6", "--fix=hole:1", "--fix=hole:2", "--load-at=hole:3",
		"--moment=0,0,2 N m", "--force=0,0,-20 N", "--bolt=M6",
	}
	fromPage, err := asker(nil, false)(t.Context(), old, new, flags)
	if err != nil {
		t.Fatal(err)
	}
	toml := filepath.Join(t.TempDir(), "case.toml")
	text := "[old]\nmesh = '" + absolute(t, old) + "'\nmaterial = \"S235\"\n[new]\nmesh = '" + absolute(t, new) + "'\nmaterial = \"6061-T6\"\n" +
		"[load]\nfix = [\"hole:1\", \"hole:2\"]\nload-at = [\"hole:3\"]\nforce-vector = \"0,0,-20 N\"\nmoment = \"0,0,2 N m\"\n[joint]\nbolt = \"M6\"\n"
	if err := os.WriteFile(toml, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := casefile.Read(toml)
	if err != nil {
		t.Fatal(err)
	}
	fromFile, err := f.CaseWith(mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(fromPage.Case.Loading, fromFile.Loading) || !reflect.DeepEqual(fromPage.Case.Making, fromFile.Making) {
		t.Errorf("loaded by the page %+v, by the file %+v", fromPage.Case.Loading, fromFile.Loading)
	}
	var a, b [][]float64
	for _, c := range []struct {
		of  swap.Case
		out *[][]float64
	}{{fromPage.Case, &a}, {fromFile, &b}} {

		r, err := swap.Decide(t.Context(), c.of)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range r.Stiffness {
			*c.out = append(*c.out, []float64{*s.Old, *s.New, s.Ratio.Nominal, *s.NewSafetyFactor})
		}
		for _, one := range r.Bolts {
			*c.out = append(*c.out, []float64{one.Tension, one.Shear, one.Factor})
		}
	}
	if !reflect.DeepEqual(a, b) || len(a) < 5 {
		t.Errorf("the page gives %v, the case file %v", a, b)
	}
}

func absolute(t *testing.T, path string) string {
	t.Helper()
	full, err := filepath.Abs(path)
	if err != nil {
		t.Fatal(err)
	}
	return full
}
