package note

import (
	"fmt"
	"strconv"
	"strings"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/note/render"
	"swapworth/quantity"
)

// MassDocument lays the mass properties of a part out for reading.
func MassDocument(r mass.Weighed) render.Document {
	doc := render.Document{Title: "Mass of " + r.File, Lead: massLead(r)}
	doc.Blocks = append(doc.Blocks, massTable(r))
	if r.Inertia != nil {
		doc.Blocks = append(doc.Blocks, inertiaTable(r.Report))
	}
	if lines := massSpread(r); len(lines) > 0 {
		doc.Blocks = append(doc.Blocks, render.Lines{Title: "How sure", Lines: lines})
	}
	return doc
}

func massLead(r mass.Weighed) []render.Line {
	var lead []render.Line
	if r.Contradiction != nil {
		lead = append(lead, render.Line{Text: "The part is " + *r.Contradiction + ".", Tone: render.Bad})
	}
	switch {
	case r.Weighed != nil:
		lead = append(lead, render.Line{Text: fmt.Sprintf("Weighed: %s g.", interval(*r.Mass, 4))})
	case r.Mass != nil:
		lead = append(lead, render.Line{Text: fmt.Sprintf("In %s the part weighs %s g.", *r.Material, interval(*r.Mass, 4))})
	default:
		lead = append(lead, render.Line{Text: "No material given: add --material NAME for the mass, or --weight to" +
			" learn the density."})
	}
	return append(lead, warningLines(r.Warnings)...)
}

func massTable(r mass.Weighed) render.Table {
	t := render.Table{Header: []string{"measure", "value"}, Rows: [][]string{
		{"size, mm", vector(r.Size, " x ")},
		{"volume of the mesh, mm3", quantity.Number(r.Volume, 7)},
		{"surface, mm2", quantity.Number(r.Area, 6)},
		{"centroid, mm", vector(r.Centroid, ", ")},
	}}
	if spread := centroidSpread(r.CentroidRange); spread != "" {
		t.Rows = append(t.Rows, []string{"centroid left open by, mm", spread})
	}
	if r.Material != nil {
		t.Rows = append(t.Rows, []string{"material", *r.Material})
	}
	if r.Density != nil {
		what := "density, kg/m3"
		if r.Weighed != nil {
			what = "density by weight, kg/m3"
		}
		t.Rows = append(t.Rows, []string{what, interval(*r.Density, 4)}, []string{"mass, g", interval(*r.Mass, 4)})
	}
	t.Rows = append(t.Rows,
		[]string{"left out by flat faces on rounds, % of volume", signed(r.FacetingPercent, 2)},
		[]string{"triangles in the file", fmt.Sprint(r.Triangles)},
		[]string{"shells", fmt.Sprint(r.Shells)})
	return t
}

func inertiaTable(r mass.Report) render.Table {
	t := render.Table{
		Title: "Inertia about the centroid", Unit: "g mm2",
		Header: []string{"", "x", "y", "z"},
	}
	largest := r.Principal[2]
	for i, axis := range []string{"x", "y", "z"} {
		row := []string{axis}
		for _, v := range r.Inertia[i] {
			row = append(row, tensorEntry(v, largest))
		}
		t.Rows = append(t.Rows, row)
	}
	row := []string{"principal"}
	for _, v := range r.Principal {
		row = append(row, quantity.Number(v, 5))
	}
	t.Rows = append(t.Rows, row)
	least, most := []string{"at least"}, []string{"at most"}
	for _, v := range r.PrincipalRange {
		least, most = append(least, quantity.Number(v.Low, 5)), append(most, quantity.Number(v.High, 5))
	}
	t.Rows = append(t.Rows, least, most)
	return t
}

// centroidSpread writes the widths of the ranges of a centroid; empty where all
// would be written as 0.
func centroidSpread(r [3]materials.Range) string {
	var widths []string
	open := false
	for _, v := range r {
		text := strconv.FormatFloat(v.High-v.Low, 'f', 3, 64)
		open = open || text != "0.000"
		widths = append(widths, text)
	}
	if !open {
		return ""
	}
	return strings.Join(widths, ", ")
}

// tensorEntry writes what is only rounding as zero.
func tensorEntry(v, largest float64) string {
	if v < 1e-6*largest && v > -1e-6*largest {
		return "0"
	}
	return quantity.Number(v, 5)
}

// massSpread says what the interval of the mass comes from.
func massSpread(r mass.Weighed) []render.Line {
	if r.Mass == nil {
		return nil
	}
	half := func(v materials.Range) float64 { return 50 * (v.High - v.Low) / v.Nominal }
	density, volume := half(*r.Density), half(r.VolumeRange)
	switch r.Dominant {
	case "scale":
		return []render.Line{{Text: fmt.Sprintf("The mass is as sure as the scale; volume and scale together leave the"+
			" density open by %s %%.", plusMinus(density))}}
	case "faceting":
		return []render.Line{{Text: fmt.Sprintf("The flat faces on rounds spread the volume by %s %%, more than the density"+
			" does (%s %%): export a finer mesh.", plusMinus(volume), plusMinus(density)), Tone: render.Caution}}
	case "repair":
		return []render.Line{{Text: fmt.Sprintf("The repair spreads the volume by %s %%, more than the density does (%s %%).",
			plusMinus(volume), plusMinus(density)), Tone: render.Caution}}
	}
	return []render.Line{{Text: fmt.Sprintf("The density of the material spreads the mass by %s %%; the flat faces on rounds"+
		" spread the volume by %s %%.", plusMinus(density), plusMinus(volume))}}
}

func plusMinus(v float64) string { return "+-" + quantity.Number(v, 2) }
