package asmade_test

import (
	"compress/gzip"
	"encoding/json"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"swapworth/mass"
	"swapworth/mesh"
	"swapworth/mesh/asmade"

	"gonum.org/v1/gonum/spatial/r3"
)

// made is a row of testdata/asmade/truth.json: a part drawn and made in the
// kernel (gmsh 4.8 with OpenCASCADE; make.py there), volumes exact.
type made struct {
	Name        string
	Departure   string
	Triangles   int
	Drawn       float64 `json:"drawn_mm3"`
	Made        float64 `json:"made_mm3"`
	Extra       float64
	Wall, Floor float64
}

var family = flag.String("family", "../../testdata/asmade", "the directory whose truth.json and meshes are tried; make.py there makes others")

func rows(t *testing.T) []made {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(*family, "truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	var out []made
	if err := json.Unmarshal(data, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

func drawn(t *testing.T, name string) *mesh.Mesh {
	t.Helper()
	f, err := os.Open(filepath.Join(*family, name+".stl.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), name+".stl")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	l, err := mesh.Load(path, mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l.Mesh
}

// departure makes a part that lies in its file as move has put it.
func (m made) departure(p asmade.Part, move mesh.Transform) (asmade.Variant, error) {
	up := move.Turn(r3.Vec{Z: 1})
	switch m.Departure {
	case "not-faced":
		low, high := math.Inf(1), math.Inf(-1)
		for _, v := range p.Mesh.Vertices {
			h := r3.Dot(v, up)
			low, high = min(low, h), max(high, h)
		}
		return asmade.Unfaced(p, up, high-low+m.Extra)
	case "stock":
		return asmade.StockLeft(p, asmade.MillAxis(p), m.Wall, m.Floor, 13)
	}
	return asmade.WithoutChamfers(p)
}

// Truth lies inside what every variant states: its own error, and what flat faces
// hide on rounds. What is added is right to 2 % of it, or to what flat faces leave
// of it.
func TestTruthLiesInsideTheStatedErrorOfEveryVariant(t *testing.T) {
	inside, all := map[bool]int{}, map[bool]int{}
	for _, row := range rows(t) {
		apart := strings.HasPrefix(row.Name, "apart")
		all[apart]++
		if row.holds(t, drawn(t, row.Name), mesh.Identity()) {
			inside[apart]++
		}
	}
	t.Logf("inside: %d of %d, of those kept apart %d of %d", inside[false], all[false], inside[true], all[true])
}

func (m made) holds(t *testing.T, part *mesh.Mesh, move mesh.Transform) bool {
	p := asmade.Read(part)
	v, err := m.departure(p, move)
	if err != nil {
		t.Errorf("%s: %v", m.Name, err)
		return false
	}
	if r := mesh.Check(v.Mesh); !r.Closed {
		t.Errorf("%s: not closed", m.Name)
	}
	before, after := mass.VolumeRange(mass.Of(p.Mesh), nil), mass.VolumeRange(mass.Of(v.Mesh), nil)
	low, high := after.Low-v.Error, after.High+v.Error
	want := m.Made - m.Drawn
	t.Logf("%-34s %9.3f mm3 added, %+6.2f %%, stated %.3f, truth in %.2f to %+.2f; %s", m.Name, want, 100*(v.Added/want-1), v.Error,
		low-m.Made, high-m.Made, strings.Join(v.Notes, "; "))
	const rounding = 1e-6 // of the file's coordinates
	if low > m.Made*(1+rounding) || high < m.Made*(1-rounding) {
		t.Errorf("%s: %.3f to %.3f mm3, in truth %.3f", m.Name, low, high, m.Made)
		return false
	}
	if off := math.Abs(v.Added - want); off > 0.02*want && off > (before.High-before.Low)/4 {
		t.Errorf("%s: %.3f mm3 added, in truth %.3f", m.Name, v.Added, want)
	}
	return true
}

// How a part lies in its file changes nothing, and a file rounds its coordinates.
func TestTruthLiesInsideHoweverThePartLies(t *testing.T) {
	for i, row := range rows(t) {
		if i%4 != 1 {
			continue
		}
		move := mesh.RotationAbout(r3.Vec{X: 1, Y: float64(i%7) - 3, Z: 2}, 0.3*float64(i))
		move.Shift = r3.Vec{X: 50, Y: -20, Z: 7}
		m := drawn(t, row.Name).Transformed(move)
		for k, v := range m.Vertices {
			m.Vertices[k] = r3.Vec{X: float64(float32(v.X)), Y: float64(float32(v.Y)), Z: float64(float32(v.Z))}
		}
		row.holds(t, m, move)
	}
}
