package note

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"swapworth/mesh"
	"swapworth/note/render"
	"swapworth/swap/fit"
)

func TestFitFillsNoMoreThan80Columns(t *testing.T) {
	load := func(name string) *mesh.Mesh {
		l, err := mesh.Load("../testdata/"+name, mesh.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return l.Mesh
	}
	for _, pair := range [][2]string{
		{"reference/carriage_old.stl", "reference/carriage_new.stl"},
		{"reference/carriage_old.stl", "reference/slab.stl"},
		{"arm_old.stl", "arm_new.stl"}, {"plate_old.stl", "arm_new.stl"},
	} {
		r := FitReport{OldFile: pair[0], NewFile: pair[1], Result: fit.Compare(load(pair[0]), load(pair[1]), fit.Options{})}
		var b bytes.Buffer
		if err := render.Render(&b, render.Terminal, false, r, r.Document()); err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(b.String(), "\n") {
			if utf8.RuneCountInString(line) > 80 {
				t.Errorf("%v: %d columns: %s", pair, utf8.RuneCountInString(line), line)
			}
		}
		lead := "bolts on where the old one did"
		if !r.OK {
			lead = "does not bolt on"
		}
		if first, _, _ := strings.Cut(b.String(), "\n"); !strings.Contains(first, lead) {
			t.Errorf("%v: starts with %q", pair, first)
		}
	}
}
