package mass_test

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/repair"
	"swapworth/testdata/broken"
)

// outcome is what a reader makes of a broken file.
type outcome int

const (
	right   outcome = iota // the volume of the part that was meant, and a range that holds it
	refused                // one line, no number
	warned                 // another volume, with a warning and a range that holds the true one, or no trust in it
	silent                 // another volume, and nothing said, or a range that leaves out the true one
)

func (o outcome) String() string { return [...]string{"right", "refused", "warned", "SILENT"}[o] }

// nearly is how far a volume may be off and still be right, as a share.
const nearly = 1e-3

// judge reads a file and holds what is said of it to the truth.
func judge(l *mesh.Loaded, err error, truth float64) (outcome, string) {
	if err != nil {
		return refused, err.Error()
	}
	p, err := mass.Measure(l)
	if err != nil {
		return refused, err.Error()
	}
	r := mass.NewReport(l, p, nil)
	said := fmt.Sprintf("%.6g in %.6g to %.6g, want %.6g: %s", r.Volume, r.VolumeRange.Low, r.VolumeRange.High, truth,
		strings.Join(r.Warnings, "; "))
	holds := holdsNearly(r.VolumeRange, truth)
	switch {
	case math.Abs(r.Volume-truth) <= nearly*truth && holds:
		return right, said
	case len(r.Warnings) > 0 && (holds || strings.Contains(said, "not to be trusted")):
		return warned, said
	}
	return silent, said
}

func holdsNearly(r materials.Range, truth float64) bool {
	const rounding = 1e-6
	return r.Low <= truth*(1+rounding) && r.High >= truth*(1-rounding)
}

// TestABrokenMeshIsNeverMeasuredWronglyWithoutAWord reads every broken file as it
// is, mended, and mended, written and read again.
func TestABrokenMeshIsNeverMeasuredWronglyWithoutAWord(t *testing.T) {
	folder := t.TempDir()
	ways := []string{"as it is", "mended", "mended and read again"}
	var counts [3][4]int
	files := broken.All()
	for i, b := range files {
		options := mesh.Options{}
		tell := func(way int, l *mesh.Loaded, err error) {
			o, said := judge(l, err, b.True)
			counts[way][o]++
			switch {
			case o == silent:
				t.Errorf("%s, %s: %s", b.Name, ways[way], said)
			case testing.Verbose():
				t.Logf("%s, %s: %s: %s", b.Name, ways[way], o, said)
			}
		}
		l, err := mesh.LoadFrom(bytes.NewReader(b.File), b.Name, options)
		tell(0, l, err)
		options.Repair = repair.Faults{Join: b.Join}
		l, err = mesh.LoadFrom(bytes.NewReader(b.File), b.Name, options)
		tell(1, l, err)
		if err != nil || mass.CheckClosed(l) != nil {
			counts[2][refused]++
			continue
		}
		path := filepath.Join(folder, fmt.Sprint(i, ".stl"))
		if err := l.WriteFile(path, false); err != nil {
			t.Fatal(err)
		}
		l, err = mesh.Load(path, mesh.Options{})
		tell(2, l, err)
	}
	for way, c := range counts {
		t.Logf("%d files %s: %d right, %d refused, %d warned, %d silent", len(files), ways[way], c[right], c[refused], c[warned], c[silent])
	}
}

// What one pass takes, loading takes, and what one refuses, the other refuses in the
// same words; where one pass gives a volume, it is that of the mesh.
func TestOnePassAcceptsWhatLoadingAccepts(t *testing.T) {
	for _, b := range broken.All() {
		l, errLoad := mesh.LoadFrom(bytes.NewReader(b.File), b.Name, mesh.Options{})
		s, errStream := mesh.StreamFrom(t.Context(), bytes.NewReader(b.File), b.Name, mesh.Options{})
		if fmt.Sprint(errLoad) != fmt.Sprint(errStream) {
			t.Errorf("%s: loading says %v, one pass %v", b.Name, errLoad, errStream)
		}
		if errLoad != nil || errStream != nil {
			continue
		}
		if int64(l.Triangles) != s.Triangles {
			t.Errorf("%s: %d triangles when loaded, %d in one pass", b.Name, l.Triangles, s.Triangles)
		}
		if v := l.Mesh.SignedVolume(); s.Balanced && l.Report.Closed && math.Abs(v-s.VolumeMM3) > 1e-6*v && l.Report.OverlapTotal == 0 && !l.Turned {
			t.Errorf("%s: %g mm3 when loaded, %g in one pass", b.Name, v, s.VolumeMM3)
		}
	}
}
