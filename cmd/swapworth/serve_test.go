package main

import (
	"path/filepath"
	"strings"
	"testing"

	"swapworth/note/page"
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
	question, err := asker(nil)(t.Context(), reference, reference, []string{"--load=20N", "--count=3", "--old-weight=27.0g", "--try-thickness=4mm,0.25in", "--try-material=POM"})
	if err != nil {
		t.Fatal(err)
	}
	if c := question.Case; c.Loading.Force != 20 || c.Count != 3 || c.Old.Weight.Resolution != 0.1 {
		t.Errorf("got %+v", c)
	}
	if v := question.Variation; len(v.Thickness) != 2 || v.Thickness[1] != 6.35 || v.Materials[0].Name != "POM" {
		t.Errorf("got %+v", v)
	}
	_, err = asker(nil)(t.Context(), reference, reference, []string{"--load=20mm"})
	if err == nil || !strings.Contains(err.Error(), "--load") || !strings.Contains(err.Error(), "20mm") {
		t.Errorf("the error should name flag and value: %v", err)
	}
}
