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

// withoutExample names the pages that no command answers: a list of words, tables that
// their own commands write, and pages whose example is still to come.
var withoutExample = map[string]string{
	"docs/glossary.md": "a list of words",
	"docs/evidence.md": "its own command writes it",
	"docs/speed.md":    "times differ from machine to machine",
}

// workedExample is a command after "    $ swapworth ", set in by four spaces or more, with
// the lines below that it prints.
var workedExample = regexp.MustCompile(`(?m)^ {4,}\$ swapworth (.*)\n((?: {4,}.*\n)*)`)

// Every page of docs/ has a worked example, and every example prints the lines that stand
// below it.
func TestTheDocsShowWhatTheirExamplesPrint(t *testing.T) {
	t.Chdir("../..")
	pages, err := filepath.Glob("docs/*.md")
	if err != nil || len(pages) < 10 {
		t.Fatal(pages, err)
	}
	for _, page := range pages {
		page = filepath.ToSlash(page)
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		examples := workedExample.FindAllStringSubmatch(string(text), -1)
		if _, excused := withoutExample[page]; len(examples) == 0 && !excused {
			t.Errorf("%s has no example", page)
		}
		for _, example := range examples {
			t.Run(filepath.Base(page), func(t *testing.T) { printsWhatItShows(t, example[1], example[2]) })
		}
	}
	for page, why := range withoutExample {
		if _, err := os.Stat(page); err != nil {
			t.Errorf("%s (%s): %v", page, why, err)
		}
	}
}

// printsWhatItShows runs a command as typed and asks for every line shown, whatever the
// spaces between its words.
func printsWhatItShows(t *testing.T, command, shown string) {
	t.Helper()
	var args []string
	for _, m := range regexp.MustCompile(`"([^"]*)"|(\S+)`).FindAllStringSubmatch(command, -1) {
		args = append(args, m[1]+m[2])
	}
	var stdout, stderr bytes.Buffer
	if code := run(context.Background(), args, &stdout, &stderr); code != 0 {
		t.Fatalf("%s: exit %d: %s", command, code, stderr.String())
	}
	if strings.TrimSpace(shown) == "" {
		t.Errorf("%s shows no output", command)
	}
	for _, l := range strings.Split(strings.TrimSpace(shown), "\n") {
		if l = strings.Join(strings.Fields(l), " "); !strings.Contains(squeezed(stdout.String()), l) {
			t.Errorf("%s does not print %q but\n%s", command, l, stdout.String())
		}
	}
}

// squeezed has one space for many.
func squeezed(text string) string {
	return regexp.MustCompile(` +`).ReplaceAllString(text, " ")
}

// Every file that the docs or DEVELOPERS.md name is there, every register that they name
// stands in its file, and every figure is shown.
func TestTheDocsNameWhatIsThere(t *testing.T) {
	t.Chdir("../..")
	pages, err := filepath.Glob("docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	linked := regexp.MustCompile(`\]\(([^)#:]+)\)`)
	named := regexp.MustCompile("`([a-z]+/[a-zA-Z0-9_/]+\\.(?:go|toml|py|mjs|md))`")
	held := regexp.MustCompile("`(\\w+)`\\s+in\\s+`([a-z]+/[a-zA-Z0-9_/]+\\.go)`")
	figures, err := filepath.Glob("docs/figures/*")
	if err != nil || len(figures) == 0 {
		t.Fatal(figures, err)
	}
	shown := ""
	for _, page := range append(pages, "DEVELOPERS.md") {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		shown += string(text)
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
			declared := `(?m)^(?:func (?:\([^)]*\) )?|type |var |const |\t)` + m[1] + `\b(?:[ (,]|$)`
			if err != nil || !regexp.MustCompile(declared).Match(code) {
				t.Errorf("%s names %s in %s, which is not declared there", page, m[1], m[2])
			}
		}
	}
	for _, f := range figures { // .ci/run asks that the program still draws them so
		if !strings.Contains(shown, "](figures/"+filepath.Base(f)+")") {
			t.Errorf("no page shows %s", f)
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

// mostWords bounds what a person who reads all of docs/ has to read, in words between
// spaces as wc counts them, bars of tables and formulas included. Two things are no prose
// and left out: tables that a command writes, and worked examples with the output that
// TestTheDocsShowWhatTheirExamplesPrint holds.
const mostWords = 12_000

func TestTheDocsStayShort(t *testing.T) {
	t.Chdir("../..")
	pages, err := filepath.Glob("docs/*.md")
	if err != nil || len(pages) < 10 {
		t.Fatal(pages, err)
	}
	written := regexp.MustCompile(`(?s)<!-- (\w+) -->.*?<!-- end of \w+ -->`)
	total := 0
	for _, page := range pages {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		prose := workedExample.ReplaceAll(written.ReplaceAll(text, nil), nil)
		words := len(bytes.Fields(prose))
		t.Logf("%6d %s", words, page)
		total += words
	}
	t.Logf("%6d in all", total)
	if total > mostWords {
		t.Errorf("docs/ has %d words: a page says what holds, how, from where and where it ends", total)
	}
}

// Every test that the docs point to runs, and the walk through the code names its functions
// with their files, which TestTheDocsNameWhatIsThere looks up.
func TestTheDocsPointToTestsAndFunctions(t *testing.T) {
	t.Chdir("../..")
	walk, err := os.ReadFile("docs/start.md")
	if err != nil {
		t.Fatal(err)
	}
	if n := len(regexp.MustCompile("`\\w+` in `[a-z/]+\\.go`").FindAll(walk, -1)); n < 12 {
		t.Errorf("docs/start.md names %d functions in their files", n)
	}
	pages, err := filepath.Glob("docs/*.md")
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]string{} // test by page
	for _, page := range append(pages, "DEVELOPERS.md", "README.md") {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile("`(Test\\w+)`").FindAllSubmatch(text, -1) {
			named[string(m[1])] = page
		}
	}
	if len(named) == 0 {
		t.Fatal("the docs name no test")
	}
	declared := regexp.MustCompile(`(?m)^func (Test\w+)\(`)
	err = filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		code, err := os.ReadFile(path)
		for _, m := range declared.FindAllSubmatch(code, -1) {
			delete(named, string(m[1]))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for test, page := range named {
		t.Errorf("%s names %s, which is not there", page, test)
	}
}
