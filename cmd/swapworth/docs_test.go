package main

import (
	"bytes"
	"context"
	"os"
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
		"docs/mass.md", "docs/materials.md", "docs/mesh.md", "docs/note.md", "docs/section.md", "docs/solid.md"} {
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
