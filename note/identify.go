package note

import (
	"fmt"
	"strings"

	"swapworth/mass"
	"swapworth/note/render"
	"swapworth/quantity"
)

// IdentifyDocument lays out which materials a weighed part may be made of.
func IdentifyDocument(r mass.Identification) render.Document {
	doc := render.Document{Title: "Material of " + r.File, Lead: identifyLead(r)}
	doc.Blocks = append(doc.Blocks, measuredTable(r), candidateTable(r))
	if len(r.Prints) > 0 {
		doc.Blocks = append(doc.Blocks, printTable(r))
	}
	if len(r.Advice) > 0 {
		items := make([]string, len(r.Advice))
		for i, a := range r.Advice {
			items[i] = sentence(a)
		}
		doc.Blocks = append(doc.Blocks, render.List{Title: "What would tell more", Items: items})
	}
	return doc
}

func identifyLead(r mass.Identification) []render.Line {
	var lead []render.Line
	if r.Contradiction != nil {
		lead = append(lead, render.Line{Text: "The part is " + *r.Contradiction + ".", Tone: render.Bad})
	}
	density := interval(r.Density, 4)
	switch families := r.Families(); len(families) {
	case 0:
		lead = append(lead, render.Line{Text: fmt.Sprintf("No material of the table has a density of %s kg/m3: check the unit of"+
			" the mesh, the weight, and whether hardware was on the scale.", density), Tone: render.Caution})
	case 1:
		lead = append(lead, render.Line{Text: fmt.Sprintf("At %s kg/m3 only %s fits.", density, families[0]), Tone: render.Good})
	default:
		lead = append(lead, render.Line{Text: fmt.Sprintf("At %s kg/m3 the part may be %s.", density, either(families)), Tone: render.Plain})
	}
	if r.Stated != nil && r.Contradiction == nil {
		lead = append(lead, render.Line{Text: fmt.Sprintf("The weight agrees with %s.", *r.Stated), Tone: render.Good})
	}
	return append(lead, warningLines(r.Warnings)...)
}

// either writes "a, b or c", and of a long list the beginning.
func either(words []string) string {
	const most = 5
	if len(words) > most {
		return strings.Join(words[:most], ", ") + fmt.Sprintf(" or one of %d more families", len(words)-most)
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

func measuredTable(r mass.Identification) render.Table {
	return render.Table{Header: []string{"measure", "value"}, Rows: [][]string{
		{"weighed, g", interval(r.Weighed, 4)},
		{"volume, mm3", interval(r.VolumeRange, 6)},
		{"density, kg/m3", interval(r.Density, 4)},
	}}
}

// fewestRows is how many candidates are shown even when none of them fits.
const fewestRows = 5

func candidateTable(r mass.Identification) render.Table {
	t := render.Table{
		Title:  "Materials that fit, best first",
		Header: []string{"material", "family", "density, kg/m3", "match"},
		Align:  "llrr",
	}
	if len(r.Families()) == 0 {
		t.Title = "Nearest materials; none fits"
	}
	for i, c := range r.Candidates {
		if c.Match <= 0 && (i >= fewestRows || len(r.Families()) > 0) {
			break
		}
		t.Rows = append(t.Rows, []string{c.Material, c.Family, interval(c.Density, 4), quantity.Fixed(c.Match, 2)})
	}
	return t
}

func printTable(r mass.Identification) render.Table {
	t := render.Table{Title: "Or a print that is not solid", Header: []string{"printed plastic", "filled to, %"}}
	for _, p := range r.Prints {
		t.Rows = append(t.Rows, []string{p.Material, interval(p.Fill.Scale(100), 2)})
	}
	return t
}
