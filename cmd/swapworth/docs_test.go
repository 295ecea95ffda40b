package main

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Worked examples in the docs: a command after "    $ swapworth ", then lines
// that it prints.
func TestTheDocsShowWhatTheirExamplesPrint(t *testing.T) {
	word := regexp.MustCompile(`"([^"]*)"|(\S+)`)
	t.Chdir("../..")
	for _, page := range []string{"docs/asmade.md", "docs/beam.md", "docs/decision.md", "docs/fit.md", "docs/geometry.md",
		"docs/mass.md", "docs/materials.md", "docs/mesh.md", "docs/note.md", "docs/section.md", "docs/solid.md", "docs/start.md"} {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		examples := strings.Split(string(text), "    $ swapworth ")[1:]
		if len(examples) == 0 {
			t.Errorf("%s has no example", page)
		}
		for _, example := range examples {
			lines := strings.Split(example, "\n")
			var args []string
			for _, m := range word.FindAllStringSubmatch(lines[0], -1) {
				args = append(args, m[1]+m[2])
			}
			var stdout, stderr bytes.Buffer
			if code := run(context.Background(), args, &stdout, &stderr); code != 0 {
				t.Fatalf("%s: %s: exit %d: %s", page, lines[0], code, stderr.String())
			}
			shown := 0
			for _, l := range lines[1:] {
				if !strings.HasPrefix(l, "    ") {
					break
				}
				shown++
				if l = strings.Join(strings.Fields(l), " "); !strings.Contains(squeezed(stdout.String()), l) {
					t.Errorf("%s: %s does not print %q but\n%s", page, lines[0], l, stdout.String())
				}
			}
			if shown == 0 {
				t.Errorf("%s: %s shows no output", page, lines[0])
			}
		}
	}
}

// squeezed has one space for many.
func squeezed(text string) string {
	return regexp.MustCompile(` +`).ReplaceAllString(text, " ")
}

// Every file that the docs or DEVELOPERS.md name is there, and every register that they
// name stands in its file.
func TestTheDocsNameWhatIsThere(t *testing.T) {
	t.Chdir("../..")
	pages, err := filepath.Glob("docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	linked := regexp.MustCompile(`\]\(([^)#:]+)\)`)
	named := regexp.MustCompile("`([a-z]+/[a-zA-Z0-9_/]+\\.(?:go|toml|py|mjs|md))`")
	held := regexp.MustCompile("`(\\w+)`\\s+in\\s+`([a-z]+/[a-zA-Z0-9_/]+\\.go)`")
	for _, page := range append(pages, "DEVELOPERS.md") {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range linked.FindAllStringSubmatch(string(text), -1) {
			if _, err := os.Stat(filepath.Join(filepath.Dir(page), m[1])); err != nil {
				t.Errorf("%s links to %s: %v", page, m[1], err)
			}
		}
		for _, m := range named.FindAllStringSubmatch(string(text), -1) {
			if _, err := os.Stat(m[1]); err != nil {
				t.Errorf("%s names %s: %v", page, m[1], err)
			}
		}
		for _, m := range held.FindAllStringSubmatch(string(text), -1) {
			code, err := os.ReadFile(m[2])
			if err != nil || !regexp.MustCompile(`\b`+m[1]+`\b`).Match(code) {
				t.Errorf("%s names %s in %s, which is not there", page, m[1], m[2])
			}
		}
	}
	text, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	if n := len(held.FindAllString(string(text), -1)); n < 8 {
		t.Errorf("DEVELOPERS.md names %d registers in their files", n)
	}
	for _, kind := range []string{"A material", "A simple section", "A limit on the redesign", "An output format", "A load", "A place"} {
		if !strings.Contains(string(text), "- **"+kind+"**") {
			t.Errorf("DEVELOPERS.md does not say how to add: %s", kind)
		}
	}
}

// Every room is in the table of DEVELOPERS.md.
func TestDevelopersListEveryRoom(t *testing.T) {
	t.Chdir("../..")
	text, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	err = filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !d.IsDir() {
			return err
		}
		if name := d.Name(); path != "." && (strings.HasPrefix(name, ".") || name == "testdata" || strings.Contains(path, "/internal")) {
			return filepath.SkipDir
		}
		if found, _ := filepath.Glob(filepath.Join(path, "*.go")); len(found) > 0 && !strings.Contains(string(text), "`"+filepath.ToSlash(path)+"/`") {
			t.Errorf("DEVELOPERS.md has no line for %s/", path)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// mostWords bounds what a person who reads all of docs/ has to read: words with two
// letters and more, without the tables that a command writes.
const mostWords = 18000

func TestTheDocsStayShort(t *testing.T) {
	t.Chdir("../..")
	pages, err := filepath.Glob("docs/*.md")
	if err != nil || len(pages) < 10 {
		t.Fatal(pages, err)
	}
	written := regexp.MustCompile(`(?s)<!-- (\w+) -->.*?<!-- end of \w+ -->`)
	word := regexp.MustCompile(`\S*[A-Za-z]{2}\S*`)
	total := 0
	for _, page := range pages {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		total += len(word.FindAll(written.ReplaceAll(text, nil), -1))
	}
	t.Logf("%d words", total)
	if total > mostWords {
		t.Errorf("docs/ has %d words: a page says what holds, how, from where and where it ends", total)
	}
}
