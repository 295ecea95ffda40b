package note

import (
	"fmt"
	"strings"

	"swapworth/internal/textwrap"
	"swapworth/materials"
	"swapworth/note/render"
	"swapworth/quantity"
)

// MaterialList is what `materials` prints, with its stable JSON keys.
type MaterialList struct {
	Materials []materials.Material `json:"materials"`
}

// Document lays the list out for reading.
func (l MaterialList) Document() render.Document {
	t := render.Table{
		Header: []string{"material", "family", "density, kg/m3", "E, GPa", "strength, MPa", "magnet"},
		Align:  "llrrrl",
	}
	for _, m := range l.Materials {
		t.Rows = append(t.Rows, []string{m.Name, m.Family, span(m.Density),
			quantity.Short(m.YoungsModulus.Value/1000, 4), quantity.Short(m.Strength.Value, 4), yesNo(m.Magnet.Holds)})
	}
	return render.Document{
		Title: "Materials",
		Lead: []render.Line{{Text: fmt.Sprintf("%d materials. `swapworth materials NAME` shows one with its sources.",
			len(l.Materials))}},
		Blocks: []render.Block{t},
	}
}

// span writes the bounds alone.
func span(r materials.Range) string {
	return quantity.Short(r.Low, 4) + " to " + quantity.Short(r.High, 4)
}

func yesNo(v bool) string {
	if v {
		return "yes"
	}
	return "no"
}

// MaterialDocument lays one material out with the source of every value.
func MaterialDocument(m materials.Material) render.Document {
	doc := render.Document{Title: m.Name, Lead: warningLines(m.Warnings())}
	if grain := m.GrainWarning(); grain != "" {
		doc.Lead = append(doc.Lead, warningLines([]string{grain})...)
	}
	if m.Note != "" {
		doc.Lead = append(doc.Lead, render.Line{Text: sentence(strings.TrimSuffix(m.Note, "."))})
	}
	t := render.Table{
		Header: []string{"property", "value", "source"},
		Align:  "lll",
		Rows: [][]string{
			{"density, kg/m3", interval(m.Density, 4), known(m.DensitySource)},
			{"Young's modulus, MPa", bounded(m.Modulus()), known(m.YoungsModulus.Source)},
			{"Poisson's ratio", value(m.Poisson.Value), known(m.Poisson.Source)},
			{strengthName(m) + ", MPa", bounded(m.Strength.Bounds()), thicknessLimits(m.Strength) + known(m.Strength.Source)},
		},
	}
	if m.Tensile.Value > 0 {
		t.Rows = append(t.Rows, []string{"tensile strength, MPa", value(m.Tensile.Value), known(m.Tensile.Source)})
	}
	t.Rows = append(t.Rows, lastingRows(m)...)
	t.Rows = append(t.Rows,
		[]string{fatigueName(m), value(m.Fatigue.Value), source(m.Fatigue.Value, m.Fatigue.Source)},
		[]string{"a magnet holds", yesNo(m.Magnet.Holds), known(m.Magnet.Source)},
		[]string{"colour where cut", strings.Join(m.Colour.Groups, ", "), known(m.Colour.Source)},
		[]string{"price per kg", value(m.PricePerKg), priceSource(m)},
		[]string{"E over density, MPa m3/kg", value(m.SpecificStiffness()), "computed"})
	doc.Blocks = append(doc.Blocks, t)
	lines := []render.Line{{Text: "Family: " + m.Family + "."}}
	for _, trait := range m.Traits {
		lines = append(lines, render.Line{Text: sentence(string(trait))})
	}
	if len(m.Aliases) > 0 {
		lines = append(lines, render.Line{Text: "Also known as " + strings.Join(m.Aliases, ", ") + "."})
	}
	lines = append(lines, render.Line{Text: "Row from: " + m.Table + "."})
	doc.Blocks = append(doc.Blocks, render.Lines{Title: "About", Lines: lines})
	return doc
}

// bounded is a value that may be unknown, with its bounds.
func bounded(r materials.Range) string {
	if r.Nominal == 0 {
		return value(0)
	}
	return interval(r, 4)
}

// thicknessLimits says for which stock a strength holds, ahead of its source.
func thicknessLimits(s materials.Strength) string {
	switch {
	case s.To == 0:
		return ""
	case s.From == 0:
		return "up to " + quantity.Short(s.To, 3) + textwrap.Tie + "mm thick; "
	}
	return quantity.Short(s.From, 3) + " to " + quantity.Short(s.To, 3) + textwrap.Tie + "mm thick; "
}

// lastingRows are the values that decide whether a part lasts, those that are known.
func lastingRows(m materials.Material) [][]string {
	var rows [][]string
	for _, v := range []struct {
		name string
		of   materials.Value
	}{
		{"expansion, um/m K", m.Expansion}, {"softens at, degrees C", m.Softens},
		{"growth when humid, %", m.Moisture}, {"anodic index, V", m.AnodicIndex},
	} {
		if v.of.Source != "" {
			rows = append(rows, []string{v.name, quantity.Short(v.of.Value, 3), v.of.Source})
		}
	}
	if d := m.Directional; d != nil {
		rows = append(rows,
			[]string{"shear modulus in the plane, MPa", span(d.Shear), d.Source},
			[]string{"E across plies or grain, MPa", span(d.Through), d.Source},
			[]string{"strength across, MPa", span(d.ThroughStrength), d.Source})
	}
	return rows
}

func value(v float64) string {
	if v == 0 {
		return "not known"
	}
	return quantity.Short(v, 4)
}

func known(source string) string {
	if source == "" {
		return "not stated"
	}
	return source
}

// source leaves the column empty where there is no value to have one.
func source(v float64, source string) string {
	if v == 0 {
		return missing
	}
	return known(source)
}

func strengthName(m materials.Material) string {
	if m.Strength.Name == "" {
		return "strength"
	}
	return m.Strength.Name
}

func fatigueName(m materials.Material) string {
	if m.Fatigue.Value == 0 {
		return "fatigue strength, MPa"
	}
	return fmt.Sprintf("fatigue strength at %s cycles, MPa", cycles(m.Fatigue.Cycles))
}

// cycles writes 5e+08 as 5e8.
func cycles(v float64) string {
	return strings.NewReplacer("e+0", "e", "e+", "e").Replace(fmt.Sprintf("%.3g", v))
}

func priceSource(m materials.Material) string {
	switch {
	case m.PricePerKg == 0:
		return missing
	case m.PricePlaceholder:
		return "placeholder: put in your supplier's price"
	}
	return "own table"
}
