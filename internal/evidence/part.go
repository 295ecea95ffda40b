// Package evidence holds the solid room against finite elements of another
// program. The parts and their truth lie in testdata/verify; docs/evidence.md is
// what comes out.
//
// Lengths are mm, forces N, stresses MPa, frequencies Hz.
package evidence

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Half says what a part may be used for.
type Half string

// Rules are chosen on the open half; the other was set apart by name before any
// part was solved, and is only ever looked at as a whole.
const (
	Open  Half = "open"
	Apart Half = "apart"
	// Unseen is what -blind makes.
	Unseen Half = "unseen"
)

// Part is a part with its truth.
type Part struct {
	Name    string  `json:"name"`
	Family  string  `json:"family"`
	Half    Half    `json:"-"`
	Young   float64 `json:"youngs_modulus_mpa"`
	Poisson float64 `json:"poisson"`
	Density float64 `json:"density_kg_m3"`
	Span    string  `json:"span"`
	Volume  float64 `json:"volume_mm3"` // of the exact shape

	Cases   []Case   `json:"cases"`
	Ringing *Ringing `json:"frequencies"`
	Peaks   []Peak   `json:"stress"`

	STL string `json:"-"` // path of the mesh
}

// Hold is how a case or a frequency holds and loads the part. Loaded places
// share the force.
type Hold struct {
	Fix    []Place `json:"fix"`
	LoadAt []Place `json:"load_at"`
	Along  string  `json:"along"`
}

// Place is a place as the truth names it; exactly one of the first four is set.
type Place struct {
	End    string    `json:"end"`  // low or high end of the span
	Hole   []float64 `json:"hole"` // under a bolt, by the middle of its axis
	Bore   []float64 `json:"bore"` // its wall
	Face   []float64 `json:"face"` // the flat face at a point
	Normal []float64 `json:"normal"`
}

// Case is a stiffness.
type Case struct {
	Hold
	Meshes    []float64 `json:"meshes_n_per_mm"` // coarsest first
	Stiffness float64   `json:"stiffness_n_per_mm"`
	Error     float64   `json:"error_percent"` // of the truth
}

// Ringing is the first natural frequencies of a part that nothing loads.
type Ringing struct {
	Fix   []Place   `json:"fix"`
	Hertz []float64 `json:"hz"`
	Error float64   `json:"error_percent"`
}

// Peak is the largest von Mises stress within a radius of a point.
type Peak struct {
	Hold
	Force  float64    `json:"force_n"`
	Where  string     `json:"where"`
	Near   [3]float64 `json:"near_mm"`
	Radius float64    `json:"radius_mm"`
	Stress float64    `json:"von_mises_mpa"`
	At     [3]float64 `json:"at_mm"`
	Error  float64    `json:"error_percent"`
}

// truthLimit is the error of the truth in percent beyond which it tells nothing of an
// answer that is meant to be within a few percent.
const truthLimit = 2

// peakLimit is the same of a stress peak: what a submodel must change by no more than
// to count as settled. An inner edge, however slight its turn, has a peak that grows
// with every mesh (Williams, 1952) and so no truth.
const peakLimit = 5

// Read reads the index and the parts in a folder. It leaves out cases whose truth is
// open by more than truthLimit, and peaks whose truth is open by more than peakLimit.
func Read(dir string) ([]Part, error) {
	var index []struct {
		Name string `json:"name"`
		Half Half   `json:"half"`
	}
	if err := readJSON(filepath.Join(dir, "index.json"), &index); err != nil {
		return nil, err
	}
	var parts []Part
	for _, entry := range index {
		p := Part{STL: filepath.Join(dir, entry.Name+".stl"), Half: entry.Half}
		err := readJSON(filepath.Join(dir, entry.Name+".json"), &p)
		if errors.Is(err, fs.ErrNotExist) { // named, but its truth is still to be found
			continue
		}
		if err != nil {
			return nil, err
		}
		if entry.Half != Open && entry.Half != Apart {
			return nil, fmt.Errorf("evidence: %s: half %q: expected %s or %s", entry.Name, entry.Half, Open, Apart)
		}
		if p.Name != entry.Name || len(p.Cases) == 0 {
			return nil, fmt.Errorf("evidence: %s.json names %q with %d cases", entry.Name, p.Name, len(p.Cases))
		}
		p.Cases = slices.DeleteFunc(p.Cases, func(c Case) bool { return c.Error > truthLimit })
		p.Peaks = slices.DeleteFunc(p.Peaks, func(k Peak) bool { return k.Error > peakLimit })
		if len(p.Cases) > 0 {
			parts = append(parts, p)
		}
	}
	return parts, nil
}

func readJSON(path string, into any) error {
	text, err := os.ReadFile(path)
	if err != nil {
		return fmt.Errorf("evidence: %w", err)
	}
	if err := json.Unmarshal(text, into); err != nil {
		return fmt.Errorf("evidence: %s: %w", path, err)
	}
	return nil
}
