package main

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
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
	file := regexp.MustCompile(`(?i)\bfile\b`)
	cmd := newVary() // it has the flags of compare too
	for _, name := range page.Fields() {
		if f := cmd.Flags().Lookup(name); f != nil && file.MatchString(f.Value.Type()+" "+f.Usage) {
			t.Errorf("--%s takes a file: %s", name, f.Usage)
		}
	}
}

func TestThePageAsksWhatTheCommandLineAsks(t *testing.T) {
	reference := filepath.Join("..", "..", "testdata", "reference", "slab.stl")
	question, err := asker(nil, false)(t.Context(), page.Asked{Old: reference, New: []string{reference}, Flags: []string{"--load=20N", "--count=3", "--old-weight=27.0g", "--try-thickness=4mm,0.25in", "--try-material=POM"}})
	if err != nil {
		t.Fatal(err)
	}
	if c := question.Cases[0]; c.Loading.Force != 20 || c.Count != 3 || c.Old.Weight.Resolution != 0.1 {
		t.Errorf("got %+v", c)
	}
	if v := question.Variation; len(v.Thickness) != 2 || v.Thickness[1] != 6.35 || v.Materials[0].Name != "POM" {
		t.Errorf("got %+v", v)
	}
	_, err = asker(nil, false)(t.Context(), page.Asked{Old: reference, New: []string{reference}, Flags: []string{"--load=20mm"}})
	if err == nil || !strings.Contains(err.Error(), "--load") || !strings.Contains(err.Error(), "20mm") {
		t.Errorf("the error should name flag and value: %v", err)
	}
}

// A bolted question is the same one, meshes and all, whether it comes from flags, from
// a case file or from the page: one question has one answer.
func TestABoltedCaseIsTheSameFromFlagsCaseFileAndPage(t *testing.T) {
	old := absolute(t, filepath.Join("..", "..", "testdata", "plate_old.stl"))
	new := absolute(t, filepath.Join("..", "..", "testdata", "plate_new.stl"))
	flags := []string{
		"--old-material=S235", "--new-material=6061-T6", "--fix=hole:1", "--fix=hole:2", "--load-at=hole:3",
		"--moment=0,0,2 N m", "--force=0,0,-20 N", "--bolt=M6",
	}
	fromPage, err := asker(nil, false)(t.Context(), page.Asked{Old: old, New: []string{new}, Flags: flags})
	if err != nil {
		t.Fatal(err)
	}
	toml := filepath.Join(t.TempDir(), "case.toml")
	text := "[old]\nmesh = '" + old + "'\nmaterial = \"S235\"\n[new]\nmesh = '" + new + "'\nmaterial = \"6061-T6\"\n" +
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
	same(t, "the case file", fromPage.Cases[0], fromFile)

	// The form's own fields, filled as a person fills them or clicks in the view.
	form := map[string]string{
		"old-material": "S235", "new-material": "6061-T6", "fix": "hole:1 hole:2", "load-at": " hole:3 ",
		"moment": "0,0,2 N m", "force": "0,0,-20 N", "bolt": "M6",
	}
	saved := filepath.Join(t.TempDir(), "saved.toml")
	text = sent(t, local(t)+"/case", [][2]string{{"old", old}, {"new", new}}, form)
	if err := os.WriteFile(saved, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if f, err = casefile.Read(saved); err != nil {
		t.Fatal(err)
	}
	f.Old.Mesh, f.New.Mesh = &old, &new // which the person keeps beside it
	fromForm, err := f.CaseWith(mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	same(t, "the form", fromPage.Cases[0], fromForm)
}

// same holds two questions against each other, field by field.
func same(t *testing.T, name string, want, got swap.Case) {
	t.Helper()
	asked, read := reflect.ValueOf(want), reflect.ValueOf(got)
	for i := range asked.NumField() {
		if a, b := asked.Field(i).Interface(), read.Field(i).Interface(); !reflect.DeepEqual(a, b) {
			t.Errorf("%s: the flags ask %+v, %s %+v", asked.Type().Field(i).Name, a, name, b)
		}
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
