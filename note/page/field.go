package page

import (
	"slices"
	"strings"

	"swapworth/note/render"
	"swapworth/swap"
)

// field is one input of the form. Its name is that of the flag it stands for.
type field struct {
	Name, Label, Hint string
	Choices           []choice // a list to choose from; none for free text
	Suggest           bool     // suggest the names of materials
	Many              bool     // several words, each a flag of its own
}

type choice struct{ Value, Text string }

// group is a titled run of fields; File is the name of the mesh it begins with.
type group struct {
	Title, File, FileLabel string
	Fields                 []field
	Folded                 bool // shown when asked for
	Vary                   bool // flags of `vary` alone
}

var axes = []choice{{"", "not said"}, {"x", "x"}, {"y", "y"}, {"z", "z"}}

var fileUnits = []choice{{"", "as both files"}, {"mm", "mm"}, {"cm", "cm"}, {"m", "m"}, {"in", "in"}}

var yesNo = []choice{{"", "not said"}, {"yes", "yes"}, {"no", "no"}}

// groups is the whole form, in the order a person meets it.
var groups = []group{
	{Title: "Stock part", File: "old", FileLabel: "STL file of the stock part: drop it here, or choose it", Fields: []field{
		{Name: "old-material", Label: "Material, as far as you know", Hint: "trade designation, such as S235", Suggest: true},
		{Name: "old-weight", Label: "Weight of one piece", Hint: "hardware removed, such as 64.8g"},
		{Name: "old-magnet", Label: "Does a magnet hold?", Choices: yesNo},
		{Name: "old-colour", Label: "Colour where it is scratched", Choices: []choice{
			{"", "not said"}, {"grey", "grey"}, {"yellow", "yellow"}, {"red", "red"},
			{"black", "black"}, {"white", "white"}, {"clear", "clear"}, {"brown", "brown"}, {"green", "green"},
		}},
	}},
	{Title: "Redesign", File: "new", FileLabel: "STL file of the redesign: drop it here, or choose it", Fields: []field{
		{Name: "new-material", Label: "Material", Hint: "trade designation, such as 6061-T6", Suggest: true},
		{Name: "new-weight", Label: "Weight of one piece, if it is made", Hint: "such as 41.5g"},
	}},
	{Title: "Machine and load", Fields: []field{
		{Name: "moving-mass", Label: "Mass of everything that moves", Hint: "stock parts included, such as 1.2kg"},
		{Name: "drive-limited", Label: "What limits the drive", Choices: []choice{{"", "not said"}, {"force", "its force"}, {"speed", "speed and acceleration set in its controller"}}},
		{Name: "count", Label: "How many such parts move", Hint: "1 if left empty"},
		{Name: "load", Label: "Load", Hint: "such as 20N"},
		{Name: "load-along", Label: "Load acts along", Choices: axes},
		{Name: "span", Label: "Part reaches along", Choices: axes},
		{Name: "support", Label: "How the part is held", Choices: []choice{
			{"", "not said"}, {"cantilever", "clamped at one end"}, {"simply-supported", "resting on both ends"},
			{"fixed-fixed", "clamped at both ends"}, {"propped", "clamped at one end, resting on the other"},
		}},
	}},
	{Title: "Where it is bolted and loaded", Folded: true, Fields: []field{
		{Name: "fix", Label: "Places that are held", Hint: "in place of the ends, such as hole:1 hole:2", Many: true},
		{Name: "load-at", Label: "Places that are loaded", Hint: "such as hole:5, bore:3 or face:10,20,6", Many: true},
		{Name: "new-fix", Label: "Held on the redesign, if elsewhere", Hint: "the matching places if left empty", Many: true},
		{Name: "new-load-at", Label: "Loaded on the redesign, if elsewhere", Hint: "the matching places if left empty", Many: true},
		{Name: "force", Label: "Force as a vector", Hint: "in place of the load, such as 10,0,-5 N"},
		{Name: "moment", Label: "Moment", Hint: "such as 0,0,2 N m"},
		{Name: "pressure", Label: "Pressure on the loaded places", Hint: "such as 0.2MPa"},
		{Name: "acceleration", Label: "Acceleration of the part itself", Hint: "such as 20,0,0 m/s2"},
		{Name: "bolt", Label: "Bolt in the held holes", Hint: "such as M5"},
	}},
	{Title: "Making it", Folded: true, Fields: []field{
		{Name: "hourly-value", Label: "What an hour of yours is worth", Hint: "in your currency, such as 25"},
		{Name: "quoted-price", Label: "Price of all parts from a supplier", Hint: "such as 80"},
		{Name: "old-price", Label: "Price of one stock part as a spare", Hint: "such as 45"},
		{Name: "currency", Label: "What your prices are called", Hint: "such as EUR"},
		{Name: "attempts", Label: "Attempts for each good part", Hint: "1 if left empty"},
		{Name: "stock-price", Label: "Price of the stock a kg", Hint: "the material table's if left empty"},
		{Name: "not-faced", Label: "A side that keeps the thickness of its stock", Hint: "such as +z=8mm"},
	}},
	{Title: "What you ask for", Folded: true, Fields: append([]field{
		{Name: "goal", Label: "What the swap is for", Choices: []choice{
			{"", "less mass"}, {"stiffer", "more stiffness; mass may grow"}, {"cheaper", "less money than stock parts cost"},
		}},
	}, demandFields()...)},
	{Title: "Other thicknesses and materials", Folded: true, Vary: true, Fields: []field{
		{Name: "try-thickness", Label: "Thicknesses to try", Hint: "such as 4mm,5mm; seven around the drawn one if left empty"},
		{Name: "try-material", Label: "Materials to try", Hint: "such as 7075-T6,POM; the redesign's if left empty"},
		{Name: "thickness-axis", Label: "Direction of the thickness", Choices: axes},
	}},
	{Title: "More", Folded: true, Fields: []field{
		{Name: "unit", Label: "Unit of both files", Choices: []choice{{"", "mm"}, {"cm", "cm"}, {"m", "m"}, {"in", "in"}}},
		{Name: "units", Label: "Answer in", Choices: []choice{{"", "mm, g, N, MPa, unless your machine file says otherwise"}, {"metric", "mm, g, N, MPa"}, {"imperial", "inches, ounces and pounds, lbf, ksi"}}},
		{Name: "old-unit", Label: "Unit of the stock part's file", Choices: fileUnits},
		{Name: "new-unit", Label: "Unit of the redesign's file", Choices: fileUnits},
		{Name: "scale-resolution", Label: "Smallest step of the scale", Hint: "the last digit typed if left empty"},
		{Name: "pivot", Label: "A point on the pivot of a swinging arm", Hint: "x,y,z in mm, such as 0,0,0"},
		{Name: "pivot-axis", Label: "Direction of the pivot", Choices: axes},
		{Name: "moving-inertia", Label: "Moment of inertia of everything that swings", Hint: "such as 1200 kg mm2"},
		{Name: "drive-inertia", Label: "Moment of inertia of what the motor turns", Hint: "such as 68 g cm2"},
		{Name: "travel-per-turn", Label: "Travel of the axis for one turn of the motor", Hint: "such as 8mm"},
		{Name: "attached-mass", Label: "Mass that sits where the load acts", Hint: "such as 200g"},
		{Name: "check", Label: "How stiffness is found", Choices: []choice{
			{"", "in three dimensions, as fine as the answer needs"}, {"solid", "in three dimensions, full budget (seconds)"}, {"beam", "beam theory, for parts that are beams"},
		}},
		{Name: "min-gain", Label: "Least gain of acceleration", Hint: "1% if left empty"},
		{Name: "min-saving", Label: "Least saving of mass", Hint: "10% if left empty"},
		{Name: "min-stiffness-ratio", Label: "Least stiffness new/old", Hint: "0.9 if left empty"},
		{Name: "min-safety-factor", Label: "Least safety factor to yield", Hint: "2 if left empty"},
		{Name: "same-lot", Label: "Both parts from one delivery", Choices: []choice{{"", "no, or not known"}, {"true", "yes"}}},
		{Name: "confidence", Label: "How sure all criteria together must be", Hint: "90% if left empty"},
		{Name: "same-frame", Label: "Both files share a frame", Choices: []choice{{"", "find out from holes and shape"}, {"true", "yes: leave the parts as they lie"}}},
		{Name: "repair", Label: "Close small gaps in the meshes", Choices: []choice{{"", "no"}, {"true", "yes, and say what was added"}}},
	}},
}

// demandFields has a field for every limit that may be set on the redesign.
func demandFields() []field {
	var out []field
	for _, d := range swap.AllDemands() {
		out = append(out, field{Name: d.Name, Label: d.Label, Hint: d.Hint})
	}
	return out
}

// Fields returns the names of all fields of the form: flags of `compare` and
// `vary`.
func Fields() []string {
	var out []string
	for _, g := range groups {
		for _, f := range g.Fields {
			out = append(out, f.Name)
		}
	}
	return out
}

// known reports whether the form has a field of that name.
func known(name string) bool {
	return slices.Contains(Fields(), name)
}

// labelOf names a field as the form does, with its group where that tells it from
// another; it is empty for what the form does not have.
func labelOf(name string) string {
	for _, g := range groups {
		for _, f := range g.Fields {
			if f.Name == name && g.File != "" {
				return g.Title + ": " + f.Label
			}
			if f.Name == name {
				return f.Label
			}
		}
	}
	return ""
}

// flags returns the filled fields as flags of `compare`, or of `vary`. Name and
// value are one word, so that a value can never be read as another flag.
func flags(values map[string]string, varied bool) []string {
	var out []string
	for _, g := range groups {
		if g.Vary && !varied {
			continue
		}
		for _, f := range g.Fields {
			v := strings.TrimSpace(values[f.Name])
			words := []string{v}
			if f.Many {
				words = strings.Fields(v)
			}
			for _, w := range words {
				if w != "" {
					out = append(out, "--"+f.Name+"="+w)
				}
			}
		}
	}
	return out
}

// formats are what the note can be saved as.
var formats = []struct {
	Format render.Format
	Text   string
}{
	{render.HTML, "HTML page"}, {render.PDF, "PDF"}, {render.Markdown, "Markdown"},
	{render.CSV, "CSV"}, {render.JSON, "JSON"}, {render.Terminal, "plain text"},
}
