package asmade_test

import (
	"compress/gzip"
	"encoding/json"
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

const family = "../../testdata/asmade"

func rows(t *testing.T) []made {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(family, "truth.json"))
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
	f, err := os.Open(filepath.Join(family, name+".stl.gz"))
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

func (m made) departure(p asmade.Part) (asmade.Variant, error) {
	_, high := p.Mesh.Bounds().Min.Z, p.Mesh.Bounds().Max.Z
	switch m.Departure {
	case "not-faced":
		return asmade.Unfaced(p, r3.Vec{Z: 1}, high+m.Extra)
	case "stock":
		return asmade.StockLeft(p, r3.Vec{Z: 1}, m.Wall, m.Floor, 13)
	}
	return asmade.WithoutChamfers(p)
}

// Truth lies inside what every variant states: its own error, and what flat faces
// hide on rounds.
func TestTruthLiesInsideTheStatedErrorOfEveryVariant(t *testing.T) {
	for _, row := range rows(t) {
		m := drawn(t, row.Name)
		v, err := row.departure(asmade.Read(m))
		if err != nil {
			t.Errorf("%s: %v", row.Name, err)
			continue
		}
		if r := mesh.Check(v.Mesh); !r.Closed {
			t.Errorf("%s: not closed", row.Name)
		}
		volume := mass.VolumeRange(mass.Of(v.Mesh), nil)
		off := v.Added/(row.Made-row.Drawn) - 1
		t.Logf("%-36s added %9.2f of %9.2f (%+.2f %%), error %7.3f, range %+.2f %+.2f about truth %s", row.Name, v.Added, row.Made-row.Drawn, 100*off, v.Error,
			volume.Low-v.Error-row.Made, volume.High+v.Error-row.Made, strings.Join(v.Notes, "; "))
		if volume.Low-v.Error > row.Made*(1+1e-6) || volume.High+v.Error < row.Made*(1-1e-6) {
			t.Errorf("%s: %.3f to %.3f mm3, in truth %.3f", row.Name, volume.Low-v.Error, volume.High+v.Error, row.Made)
		}
		if math.Abs(off) > 0.02 {
			t.Errorf("%s: %.3f mm3 added, in truth %.3f", row.Name, v.Added, row.Made-row.Drawn)
		}
	}
}
