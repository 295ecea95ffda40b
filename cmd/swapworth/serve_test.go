package main

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"swapworth/note/page"
)

func TestEveryFieldOfThePageIsAFlagOfCompare(t *testing.T) {
	var c caseFlags
	cmd := &cobra.Command{}
	c.register(cmd)
	for _, name := range page.Fields() {
		if cmd.Flags().Lookup(name) == nil {
			t.Errorf("compare has no flag --%s", name)
		}
	}
}

// A field that named a file would let the page read any file of the machine.
func TestNoFieldOfThePageNamesAFile(t *testing.T) {
	var c caseFlags
	cmd := &cobra.Command{}
	c.register(cmd)
	for _, name := range page.Fields() {
		if f := cmd.Flags().Lookup(name); f != nil && strings.Contains(strings.ToLower(f.Value.Type()+f.Usage), "file") {
			t.Errorf("--%s takes a file: %s", name, f.Usage)
		}
	}
}

func TestThePageAsksWhatTheCommandLineAsks(t *testing.T) {
	reference := filepath.Join("..", "..", "testdata", "reference", "slab.stl")
	question, err := asker(nil)(reference, reference, []string{"--load=20N", "--count=3", "--old-weight=27.0g"})
	if err != nil {
		t.Fatal(err)
	}
	if question.Loading.Force != 20 || question.Count != 3 || question.Old.Weight.Resolution != 0.1 {
		t.Errorf("got %+v", question)
	}
	_, err = asker(nil)(reference, reference, []string{"--load=20mm"})
	if err == nil || !strings.Contains(err.Error(), "--load") || !strings.Contains(err.Error(), "20mm") {
		t.Errorf("the error should name flag and value: %v", err)
	}
}
