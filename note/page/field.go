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
	Apart             string   // what parts them; blanks if empty
	Lines             bool     // load cases in the words of a case file: no flag
}

// fileField takes a file that a flag names; the page keeps it for one answer.
type fileField struct {
	Name, Label, Hint, Accept string
}

type choice struct{ Value, Text string }

// group is a titled run of fields; File is the name of the mesh it begins with.
type group struct {
	Title, File, FileLabel string
	Fields                 []field
	Files                  []fileField
	Folded                 bool // shown when asked for
	Vary                   bool // flags of `vary` alone
}

var axes = []choice{{"", "not said"}, {"x", "x"}, {"y", "y"}, {"z", "z"}}

var fileUnits = []choice{{"", "as both files"}, {"mm", "mm"}, {"cm", "cm"}, {"m", "m"}, {"in", "in"}}

var yesNo = []choice{{"", "not said"}, {"yes", "yes"}, {"no", "no"}}

var noYes = []choice{{"", "no, or not known"}, {"true", "yes"}}

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
	{Title: "Redesign", File: "new", FileLabel: "STL file of the redesign, or of several: drop them here, or choose them", Fields: []field{
		{Name: "new-material", Label: "Material", Hint: "trade designation, such as 6061-T6", Suggest: true},
		{Name: "new-weight", Label: "Weight of one piece, if it is made", Hint: "such as 41.5g"},
	}},
	{Title: "Machine and load", Fields: []field{
		{Name: "moving-mass", Label: "Mass of everything that moves", Hint: "stock parts included, such as 1.2kg"},
		{Name: "drive-limited", Label: "What limits the drive", Choices: []choice{{"", "not said"}, {"force", "its force"}, {"speed", "speed and acceleration set in its controller"}}},
		{Name: "count", Label: "How many such parts move", Hint: "1 if left empty"},
		{Name: "load", Label: "Load", Hint: "such as 20N or 15..25N"},
		{Name: "load-along", Label: "Load acts along", Many: true, Choices: append(slices.Clone(axes),
			choice{"x y", "x, and then y"}, choice{"x z", "x, and then z"}, choice{"y z", "y, and then z"}, choice{"x y z", "each of the three"})},
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
		{Name: "load-case", Label: "Further load cases, as in a case file", Hint: "begin each with [[load-case]]", Lines: true},
	}},
	{Title: "The bolt", Folded: true, Fields: []field{
		{Name: "bolt-class", Label: "Strength class", Hint: "8.8 if left empty"},
		{Name: "bolt-hole", Label: "Hole of the redesign that it goes through", Hint: "the one with least material around it if left empty"},
		{Name: "tapped-in", Label: "What its thread is cut into", Hint: "a nut if left empty", Suggest: true},
		{Name: "engagement", Label: "Length of full thread", Hint: "such as 8mm"},
		{Name: "bolt-tension", Label: "Tension of one bolt", Hint: "from the solution if places are held"},
		{Name: "bolt-shear", Label: "Shear of one bolt", Hint: "from the solution if places are held"},
		{Name: "load-repeats", Label: "The load comes again and again", Choices: noYes},
		{Name: "load-ratio", Label: "Smallest over largest load of a cycle", Hint: "-1 to 1; 0 if left empty"},
	}},
	{Title: "Making it", Folded: true, Fields: []field{
		{Name: "hourly-value", Label: "What an hour of yours is worth", Hint: "in your currency, such as 25 or 20..30"},
		{Name: "hours", Label: "Hours that all the work takes", Hint: "estimated if left empty; such as 2.5h or 2..4h"},
		{Name: "quoted-price", Label: "Price of all parts from a supplier", Hint: "such as 80 or 70..90"},
		{Name: "old-price", Label: "Price of one stock part as a spare", Hint: "such as 45"},
		{Name: "currency", Label: "What your prices are called", Hint: "such as EUR"},
		{Name: "attempts", Label: "Attempts for each good part", Hint: "1 if left empty"},
		{Name: "stock-price", Label: "Price of the stock a kg", Hint: "the material table's if left empty"},
		{Name: "not-faced", Label: "Sides that keep the thickness of their stock", Hint: "such as +z=8mm", Many: true},
		{Name: "wall-stock", Label: "Stock left on the walls of pockets", Hint: "such as 0.2mm"},
		{Name: "floor-stock", Label: "Stock left on the floors of pockets", Hint: "such as 0.2mm"},
		{Name: "no-chamfers", Label: "Chamfers are skipped", Choices: noYes},
		{Name: "tolerance", Label: "Class of ISO 2768-1 that both parts keep", Choices: []choice{{"", "m, medium, if not said"}, {"f", "f, fine"}, {"m", "m, medium"}, {"c", "c, coarse"}, {"v", "v, very coarse"}}},
		{Name: "origin-error", Label: "Error of the origin across the flip", Hint: "such as 0.05mm"},
		{Name: "plate-thickness", Label: "Thickness of the stock at hand", Hint: "the thinnest plate that covers the part if left empty"},
		{Name: "set-ups", Label: "Number of set-ups", Hint: "counted from the part if left empty"},
		{Name: "success-chance", Label: "Chance that one attempt gives a good part", Hint: "in place of attempts, such as 80%"},
		{Name: "cam-time", Label: "Time for tool paths", Hint: "once for all parts, such as 45min"},
		{Name: "saw-time", Label: "Time to saw one blank", Hint: "such as 10min"},
		{Name: "measure-time", Label: "Time to measure one part", Hint: "such as 3min"},
	}, Files: []fileField{
		{"mill-profile", "Profile of your mill", "TOML, as swapworth init --mill writes it; a bench-top mill if left empty", ".toml"},
	}},
	{Title: "What would do less", Folded: true, Fields: []field{
		{Name: "trim", Label: "Strips to cut off the stock part", Hint: "such as +x=5mm", Many: true},
		{Name: "drill", Label: "Holes to drill into the stock part", Hint: "such as 6x8mm", Many: true},
		{Name: "buy", Label: "Bought parts: name, mass, price", Hint: "such as thin plate, 48g, 12.50; a semicolon between two", Many: true, Apart: ";"},
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
		{Name: "scale-error", Label: "How far the scale itself may be off", Hint: "nothing if left empty; such as 0.5%"},
		{Name: "pivot", Label: "A point on the pivot of a swinging arm", Hint: "x,y,z in mm, such as 0,0,0"},
		{Name: "pivot-axis", Label: "Direction of the pivot", Choices: axes},
		{Name: "moving-inertia", Label: "Moment of inertia of everything that swings", Hint: "such as 1200 kg mm2"},
		{Name: "drive-inertia", Label: "Moment of inertia of what the motor turns", Hint: "such as 68 g cm2"},
		{Name: "travel-per-turn", Label: "Travel of the axis for one turn of the motor", Hint: "such as 8mm"},
		{Name: "pulley", Label: "The same by pulley and belt", Hint: "teeth x pitch, such as 20x2mm"},
		{Name: "attached-mass", Label: "Mass that sits where the load acts", Hint: "such as 200g"},
		{Name: "check", Label: "How stiffness is found", Choices: []choice{
			{"", "in three dimensions, as fine as the answer needs"}, {"solid", "in three dimensions, full budget (seconds)"}, {"beam", "beam theory, for parts that are beams"},
		}},
		{Name: "min-gain", Label: "Least gain of acceleration", Hint: "1% if left empty"},
		{Name: "min-saving", Label: "Least saving of mass", Hint: "10% if left empty"},
		{Name: "min-stiffness-ratio", Label: "Least stiffness new/old", Hint: "0.9 if left empty"},
		{Name: "min-safety-factor", Label: "Least safety factor to yield", Hint: "2 if left empty"},
		{Name: "same-lot", Label: "Both parts from one delivery", Choices: noYes},
		{Name: "bolted-to", Label: "What the part is bolted to", Hint: "steel if left empty; such as 6082-T6", Suggest: true},
		{Name: "confidence", Label: "How sure all criteria together must be", Hint: "90% if left empty"},
		{Name: "same-frame", Label: "Both files share a frame", Choices: []choice{{"", "find out from holes and shape"}, {"true", "yes: leave the parts as they lie"}}},
		{Name: "repair", Label: "Close small gaps in the meshes", Choices: []choice{{"", "no"}, {"true", "yes, and say what was added"}}},
		{Name: "old-section", Label: "A bar in place of the stock part's file", Hint: "along x, such as rect 40x4mm"},
		{Name: "old-length", Label: "Length of that bar", Hint: "such as 120mm"},
	}, Files: []fileField{
		{"accept", "Findings of fit that are meant to be so", "the JSON of an earlier fit or comparison", ".json"},
		{"materials", "Table of your own materials", "TOML, as the materials page describes it", ".toml"},
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

// Fields returns the names of all fields of the form that are typed or chosen: flags
// of `compare` and `vary`.
func Fields() (names []string) {
	for f := range eachField {
		if !f.Lines {
			names = append(names, f.Name)
		}
	}
	return names
}

// Files returns the flags whose file the form takes.
func Files() (names []string) {
	for _, g := range groups {
		for _, f := range g.Files {
			names = append(names, f.Name)
		}
	}
	return names
}

// eachField visits the fields in the order of the form.
func eachField(yield func(field) bool) {
	for _, g := range groups {
		for _, f := range g.Fields {
			if !yield(f) {
				return
			}
		}
	}
}

// fieldOf returns the field of that name.
func fieldOf(name string) (found field, ok bool) {
	for f := range eachField {
		if f.Name == name {
			return f, true
		}
	}
	return field{}, false
}

func isFileField(name string) bool { return slices.Contains(Files(), name) }

// labelOf names a field as the form does, with its group where that tells it from
// another; it is empty for what the form does not have.
func labelOf(name string) string {
	if name == "full" {
		return everything
	}
	for _, g := range groups {
		if g.File == name {
			return g.Title
		}
		for _, f := range g.Files {
			if f.Name == name {
				return f.Label
			}
		}
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

// everything is what opens the whole note below the short answer; `--full` in a
// terminal.
const everything = "Show everything"

// flags returns the filled fields as flags of `compare`, or of `vary`. Name and
// value are one word, so that a value can never be read as another flag.
func flags(values map[string]string, varied bool) []string {
	var out []string
	for _, g := range groups {
		if g.Vary && !varied {
			continue
		}
		for _, f := range g.Fields {
			if f.Lines {
				continue
			}
			for _, w := range f.words(values[f.Name]) {
				out = append(out, "--"+f.Name+"="+w)
			}
		}
	}
	return out
}

// words parts what was typed.
func (f field) words(typed string) (out []string) {
	all := []string{typed}
	switch {
	case f.Many && f.Apart != "":
		all = strings.Split(typed, f.Apart)
	case f.Many:
		all = strings.Fields(typed)
	}
	for _, w := range all {
		if w = strings.TrimSpace(w); w != "" {
			out = append(out, w)
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

// most is how many bytes may be typed into a field.
func (f field) most() int {
	switch {
	case f.Lines:
		return maxText
	case f.Many:
		return maxWords
	}
	return maxWord
}
