package casefile

import (
	"math"
	"strings"
	"testing"

	"swapworth/mass"
)

func TestASimpleSectionStandsForAMissingMesh(t *testing.T) {
	f, err := Parse([]byte("[old]\nsection = \"rect 40x4mm\"\nlength = \"200 mm\"\n[new]\nmesh = \"../../testdata/reference/slab.stl\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	c, err := f.Case(false)
	if err != nil {
		t.Fatal(err)
	}
	m := c.Old.Loaded.Mesh
	if v := mass.Of(m).Volume; math.Abs(v-40*4*200) > 1e-6 || !c.Old.Loaded.Report.Closed {
		t.Errorf("volume %g, closed %v, want 32000 mm3 and a closed bar", v, c.Old.Loaded.Report.Closed)
	}
	if s := m.Bounds().Size(); s.X != 200 || s.Y != 40 || s.Z != 4 {
		t.Errorf("size %v, want 200 along x, 40 along y, 4 along z", s)
	}
}

func TestASectionNeedsALengthAndNoMesh(t *testing.T) {
	for text, want := range map[string]string{
		"[old]\nsection = \"rect 40x4mm\"\n":                                     "needs the length",
		"[old]\nmesh = \"a.stl\"\nsection = \"rect 4x4mm\"\nlength = \"9 mm\"\n": "both a mesh and a section",
	} {
		f, err := Parse([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Case(false); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want %q", err, want)
		}
	}
}
