package mass

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/textwrap"
	"swapworth/materials"
	"swapworth/mesh"
)

// gramsPerKgM3MM3 turns density in kg/m3 times volume in mm3 into g.
const gramsPerKgM3MM3 = 1e-6

// Report is what `mass` prints of one part, with its stable JSON keys. Values
// that need a material are nil without one.
type Report struct {
	File            string                 `json:"file"`
	Triangles       int                    `json:"triangles"`
	Closed          bool                   `json:"closed"`
	Shells          int                    `json:"shells"`
	Volume          float64                `json:"volume_mm3"`
	VolumeRange     materials.Range        `json:"volume_range_mm3"` // with faceting and repairs
	Area            float64                `json:"area_mm2"`
	Size            [3]float64             `json:"size_mm"`
	Centroid        [3]float64             `json:"centroid_mm"`
	CentroidRange   [3]materials.Range     `json:"centroid_range_mm"` // with faceting and repairs
	Material        *string                `json:"material"`
	Density         *materials.Range       `json:"density_kg_m3"`
	Mass            *materials.Range       `json:"mass_g"`
	Inertia         *[3][3]float64         `json:"inertia_g_mm2"`       // about the centroid, off-diagonals -integral of xy dm
	InertiaRange    *[3][3]materials.Range `json:"inertia_range_g_mm2"` // with faceting, repairs and density
	Principal       *[3]float64            `json:"principal_g_mm2"`
	PrincipalRange  *[3]materials.Range    `json:"principal_range_g_mm2"`
	FacetingPercent float64                `json:"faceting_volume_percent"` // estimated (exact - mesh)/mesh
	Warnings        []string               `json:"warnings"`
}

// openError says why a mesh has no mass: it bounds no solid.
type openError struct {
	File   string
	Report mesh.Report
	Tried  bool // whether a repair was tried
}

// Error counts what is wrong and names the first places, in mm.
func (e openError) Error() string {
	r := e.Report
	var faults []string
	for _, f := range []struct {
		n           int
		noun, which string
	}{
		{r.OpenEdges, "open edge", ""},
		{r.FlippedEdges, "edge", " between faces that look opposite ways"},
		{r.OverusedEdges, "edge", " of more than two faces"},
	} {
		if f.n > 0 {
			faults = append(faults, textwrap.Counted(f.n, f.noun)+f.which)
		}
	}
	if len(faults) == 0 {
		faults = []string{"no faces that enclose anything"}
	}
	next := "--repair may close it"
	if e.Tried {
		next = "--repair closes planar and small gaps only"
	}
	return fmt.Sprintf("%s is not closed, so it has no volume: %s%s; %s, `swapworth mesh` says more",
		e.File, strings.Join(faults, ", "), places(r), next)
}

// places names the largest gaps, or without gaps the first fault.
func places(r mesh.Report) string {
	const most = 3
	point := func(p r3.Vec) string { return fmt.Sprintf("(%.4g, %.4g, %.4g)", p.X, p.Y, p.Z) }
	if len(r.Gaps) == 0 && len(r.Faults) > 0 {
		return " near " + point(r.Faults[0].At) + " mm"
	}
	var at []string
	for _, g := range r.Gaps[:min(most, len(r.Gaps))] {
		at = append(at, point(g.At))
	}
	switch {
	case len(at) == 0:
		return ""
	case r.GapTotal > most:
		return fmt.Sprintf(" in %s, the largest near %s mm", textwrap.Counted(r.GapTotal, "gap"), strings.Join(at, " "))
	}
	return fmt.Sprintf(" in %s near %s mm", textwrap.Counted(r.GapTotal, "gap"), strings.Join(at, " "))
}

// CheckClosed returns an openError when the mesh does not enclose a definite
// volume. Bodies that touch along an edge do.
func CheckClosed(l *mesh.Loaded) error {
	if l.Report.Closed || l.Report.Balanced {
		return nil
	}
	return openError{l.Path, l.Report, l.RepairTried}
}

// Measure is Of for a loaded part, with what its shells share counted once and
// with an error that says why where the mesh does not enclose a volume.
func Measure(l *mesh.Loaded) (Properties, error) {
	if err := CheckClosed(l); err != nil {
		return Properties{}, err
	}
	p := Of(l.Mesh).Union(l.Report)
	if !(p.Volume > 0) {
		return Properties{}, fmt.Errorf("%s encloses no volume: its faces lie on each other or look inwards;"+
			" `swapworth mesh` says more", l.Path)
	}
	return p, nil
}

// NewReport states the properties of a loaded part, and what follows from the
// material unless that is nil.
func NewReport(l *mesh.Loaded, p Properties, m *materials.Material) Report {
	size := l.Mesh.Bounds().Size()
	r := Report{
		File: l.Path, Triangles: l.Triangles, Closed: l.Report.Closed, Shells: len(l.Report.Shells),
		Volume: p.Volume, VolumeRange: VolumeRange(p, l.Repairs), Area: p.Area,
		Size: xyz(size), Centroid: xyz(p.Centroid),
		FacetingPercent: 100 * p.Faceting,
		Warnings:        append([]string{}, l.Warnings...),
	}
	spread := spreadOf(p, l.Mesh, l.Repairs)
	r.CentroidRange = spread.Centroid
	for _, fix := range l.Repairs {
		less, more := fix.Doubt()
		if fix.Earlier {
			r.Warnings = append(r.Warnings, fmt.Sprintf("%s; the volume may be %.4g mm3 less or %.4g mm3 more", fix.What, less, more))
			continue
		}
		r.Warnings = append(r.Warnings, fmt.Sprintf(
			"repaired: %s near (%.4g, %.4g, %.4g) mm; the volume may be %.4g mm3 less or %.4g mm3 more",
			fix.What, fix.At.X, fix.At.Y, fix.At.Z, less, more))
	}
	if p.Shared != 0 && l.Report.Through == nil {
		r.Warnings = append(r.Warnings, "what the shells share is counted once in volume, mass, centroid and"+
			" inertia, as well as that estimate goes; the surface is that of all shells")
	}
	if !l.Report.Closed && l.Report.Balanced {
		r.Warnings = append(r.Warnings, "bodies of the part touch along an edge: its volume holds, its strength there does not")
	}
	if m == nil {
		return r
	}
	r.Warnings = append(r.Warnings, m.Warnings()...)
	r.weigh(p, spread, m.Name, m.Density)
	return r
}

// weigh fills in what follows from a density in kg/m3.
func (r *Report) weigh(p Properties, s spread, material string, density materials.Range) {
	mass := product(r.VolumeRange, density).Scale(gramsPerKgM3MM3)
	inertia := p.Inertia
	for i := range inertia {
		for j := range inertia[i] {
			inertia[i][j] *= density.Nominal * gramsPerKgM3MM3
		}
	}
	principal := principal(inertia)
	r.Material, r.Density, r.Mass = &material, &density, &mass
	r.Inertia, r.Principal = &inertia, &principal
	perMM5 := density.Scale(gramsPerKgM3MM3)
	for i := range s.Inertia {
		for j := range s.Inertia[i] {
			s.Inertia[i][j] = times(s.Inertia[i][j], perMM5)
		}
		s.Principal[i] = times(s.Principal[i], perMM5)
	}
	r.InertiaRange, r.PrincipalRange = &s.Inertia, &s.Principal
}

// leastVolume is the share of a volume that no repair puts in doubt: a mesh
// repaired by more than that is not one to weigh by.
const leastVolume = 0.01

// VolumeRange returns the volume of the mesh, in mm3, widened by what the flat
// faces may hide, by the error of what shells share, and by what repairs added or
// took away. The estimate of the
// faceting counts as sure to within a third of the segments it is made of.
func VolumeRange(p Properties, repairs []mesh.Repair) materials.Range {
	bias, doubt := p.Faceting*p.Volume, p.Segments/3
	r := materials.Range{
		Low:     p.Volume + min(0, bias-doubt),
		Nominal: p.Volume,
		High:    p.Volume + max(0, bias+doubt),
	}
	either := p.SharedError + p.Rounding
	r.Low, r.High = r.Low-either-p.Less, r.High+either
	for _, fix := range repairs {
		less, more := fix.Doubt()
		r.Low, r.High = r.Low-less, r.High+more
	}
	r.Low = max(leastVolume*p.Volume, r.Low)
	return r
}

// product multiplies two ranges of positive quantities.
func product(a, b materials.Range) materials.Range {
	return materials.Range{Low: a.Low * b.Low, Nominal: a.Nominal * b.Nominal, High: a.High * b.High}
}

func xyz(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
