package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The glossary explains words that a person meets: in another page, in a help text, in
// what is written of an answer, on the local page.
func TestTheGlossaryExplainsWordsThatAreUsed(t *testing.T) {
	t.Chdir("../..")
	paths := []string{"README.md"}
	for _, pattern := range []string{"docs/*.md", "note/*.go", "note/figure/*.go", "note/page/*.html", "note/page/field.go"} {
		found, err := filepath.Glob(pattern)
		if err != nil || len(found) == 0 {
			t.Fatal(pattern, err)
		}
		paths = append(paths, found...)
	}
	var met bytes.Buffer
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") || filepath.Base(path) == "glossary.md" {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		met.Write(text)
	}
	for _, c := range newRoot().Commands() {
		all := []string{c.Name(), "--help"}
		if c.Flags().Lookup(helpAllFlag) != nil {
			all[1] = "--" + helpAllFlag
		}
		if code := run(context.Background(), all, &met, &met); code != 0 {
			t.Fatal(all, code)
		}
	}
	used := strings.Join(strings.Fields(strings.ToLower(met.String())), " ")
	text, err := os.ReadFile("docs/glossary.md")
	if err != nil {
		t.Fatal(err)
	}
	entries := regexp.MustCompile(`\*\*([^*]+)\*\*`).FindAllStringSubmatch(string(text), -1)
	if len(entries) < 20 {
		t.Fatalf("docs/glossary.md explains %d words", len(entries))
	}
	for _, e := range entries {
		for _, word := range strings.Split(e[1], ", ") {
			if !regexp.MustCompile(`\b` + regexp.QuoteMeta(strings.ToLower(word))).MatchString(used) {
				t.Errorf("docs/glossary.md explains %q, which is said nowhere", word)
			}
		}
	}
}
