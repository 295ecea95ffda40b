package note

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/repair"
	"swapworth/note/render"
)

func cuboid(from, to float64) *mesh.Mesh {
	return mesh.Cuboid(r3.Vec{X: from, Y: from, Z: from}, r3.Vec{X: to, Y: to, Z: to})
}

// readBack writes a mesh and loads it as a person's file.
func readBack(t *testing.T, m *mesh.Mesh, opt mesh.Options) *mesh.Loaded {
	t.Helper()
	var file bytes.Buffer
	if err := mesh.Write(&file, m); err != nil {
		t.Fatal(err)
	}
	l, err := mesh.LoadFrom(&file, "part with a rather long name that goes on and on.stl", opt)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestTheMeshReportSaysWhatStandsAgainstAMesh(t *testing.T) {
	open := cuboid(0, 1234.5)
	open.Faces = open.Faces[1:]
	beside := mesh.Cuboid(r3.Vec{X: 10, Y: 10}, r3.Vec{X: 20, Y: 20, Z: 10})
	for _, c := range []struct {
		name string
		m    *mesh.Mesh
		opt  mesh.Options
		want []string
	}{
		{"sound", cuboid(0, 10), mesh.Options{}, []string{"closed: it bounds a solid", "1000"}},
		{"open", open, mesh.Options{}, []string{"not closed", "--repair", "Gaps"}},
		{"mended", open, mesh.Options{Repair: repair.Faults{}}, []string{"closed: it bounds a solid", "Repairs"}},
		{"overlapping", mesh.Merge(cuboid(0, 10), cuboid(5.5, 17)), mesh.Options{}, []string{"pass through each other", "shared space counted once"}},
		{"united", mesh.Merge(cuboid(0, 10), cuboid(5.5, 17)), mesh.Options{Repair: repair.Faults{}}, []string{"closed: it bounds a solid", "united 2 shells"}},
		{"touching", mesh.Merge(cuboid(0, 10), beside), mesh.Options{}, []string{"touch along edges"}},
	} {
		report := NewMeshReport(readBack(t, c.m, c.opt))
		var b bytes.Buffer
		if err := render.Render(&b, render.Terminal, false, report, report.Document()); err != nil {
			t.Fatal(err)
		}
		text := strings.Join(strings.Fields(b.String()), " ")
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is not in\n%s", c.name, want, b.String())
			}
		}
		for line := range strings.Lines(b.String()) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > 80 {
				t.Errorf("%s: a line of %d columns: %s", c.name, n, line)
			}
		}
	}
}

func TestEveryKeyOfTheMeshReportIsThereAndNoListIsNull(t *testing.T) {
	text, err := json.Marshal(NewMeshReport(readBack(t, cuboid(0, 10), mesh.Options{})))
	if err != nil {
		t.Fatal(err)
	}
	var keys map[string]any
	if err := json.Unmarshal(text, &keys); err != nil {
		t.Fatal(err)
	}
	for _, list := range []string{"gaps", "faults", "shells", "intersections", "overlaps", "repairs", "warnings"} {
		if _, ok := keys[list].([]any); !ok {
			t.Errorf("%s is %v, want a list", list, keys[list])
		}
	}
	for key, want := range map[string]any{
		"triangles": 12.0, "closed": true, "balanced": true, "turned": false, "volume_mm3": 1000.0, "open_edges": 0.0,
		"shell_count": 1.0, "format": "binary STL", "unit": "mm", "union": nil,
	} {
		if got, ok := keys[key]; !ok || got != want {
			t.Errorf("%s is %v, want %v", key, got, want)
		}
	}
}
