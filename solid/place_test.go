package solid

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"swapworth/mesh"
)

func TestPlacesAreReadAsTheyAreWritten(t *testing.T) {
	for _, text := range []string{
		"end:low", "end:high", "hole:3", "washer:2:12mm", "bore:1", "face:1,2.5,-3",
		"face:1,2,3:0,0,1", "box:0,0,0:1,2,3", "section:60",
	} {
		p, err := ParsePlace(text, mesh.Y)
		if err != nil {
			t.Errorf("%s: %v", text, err)
		} else if p.String() != text {
			t.Errorf("%s came back as %s", text, p)
		}
	}
	for _, text := range []string{
		"", "end", "end:left", "hole", "hole:0", "hole:x", "bore:1:2", "washer:1:-2", "washer:1:2:3",
		"face:1,2", "face:1,2,x", "face:1,2,3:0,0,0", "box:1,2,3", "section:", "section:NaN", "top",
	} {
		if _, err := ParsePlace(text, mesh.X); err == nil || !strings.Contains(err.Error(), "expected") {
			t.Errorf("%q: got %v, want an error that says what is expected", text, err)
		}
	}
}

func TestAWasherCoversARingAroundEachMouth(t *testing.T) {
	m, _ := loadReference(t, "carriage_old")
	p := &part{m: m, box: m.Bounds(), tol: tolerance(m.Bounds())}
	for n := 1; n <= 6; n++ {
		d := p.holes()[n-1].Diameter
		s, err := p.locate(Bolted(n, 0))
		if err != nil {
			t.Fatal(err)
		}
		area := 0.0
		for _, f := range s.faces {
			area += r3.Norm(r3.Cross(r3.Sub(f[1], f[0]), r3.Sub(f[2], f[0]))) / 2
		}
		want := 2 * math.Pi / 4 * d * d * (washerRatio*washerRatio - 1)
		near(t, Bolted(n, 0).String(), area, want, 0.5)
		s, err = p.locate(Bore(n))
		if err != nil {
			t.Fatal(err)
		}
		wall := 0.0
		for _, f := range s.faces {
			wall += r3.Norm(r3.Cross(r3.Sub(f[1], f[0]), r3.Sub(f[2], f[0]))) / 2
		}
		near(t, Bore(n).String(), wall, math.Pi*d*5, 0.5)
	}
}

func FuzzPlace(f *testing.F) {
	for _, seed := range []string{"end:low", "hole:3", "washer:2:12mm", "face:1,2,3:0,0,1", "box:0,0,0:1,2,3", "section:6"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ParsePlace(text, mesh.X)
		if err != nil {
			return
		}
		if _, err := ParsePlace(p.String(), mesh.X); err != nil {
			t.Errorf("%q reads, but its own text %q does not: %v", text, p, err)
		}
	})
}
