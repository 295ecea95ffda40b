package note

import (
	"fmt"
	"strings"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// partOf is one part as it was asked about and as it came out.
type partOf struct {
	name string
	side swap.Side
	part swap.Part
}

// inputTable lists what the answer was computed from, and where each number
// comes from.
func inputTable(c swap.Case, parts ...partOf) render.Table {
	t := render.Table{Title: "Inputs", Header: []string{"", "value", "source"}, Align: "lll"}
	row := func(what, value, source string) {
		if value != "" {
			t.Rows = append(t.Rows, []string{what, value, source})
		}
	}
	for _, p := range parts {
		row(p.name+", file", p.part.File, fileSource(p.side.Loaded))
		if w := p.side.Weight; w != nil {
			row(p.name+", weight", quantity.Short(w.Grams, 6)+" g", "weighed; scale step "+quantity.Short(w.Resolution, 3)+" g"+scaleError(*w))
		}
		t.Rows = append(t.Rows, materialInputs(p.name, p.part, c.Table)...)
	}
	if c.Machine.MovingMass > 0 {
		row("moving mass", quantity.Short(c.Machine.MovingMass, 6)+" g", "stated")
	}
	if c.Machine.MovingInertia > 0 {
		row("moving inertia", quantity.Short(c.Machine.MovingInertia, 6)+" kg mm2", "stated")
	}
	if p := c.Machine.Pivot; p != nil {
		row("pivot", fmt.Sprintf("%s, %s, %s mm along %v", quantity.Short(p.X, 6), quantity.Short(p.Y, 6), quantity.Short(p.Z, 6), c.Machine.PivotAxis), "stated")
	}
	if c.Loading.Force > 0 {
		row("load", typed(c.Loading.Size(), "N"), "stated")
	}
	row("sizes of both parts", "within class "+string(c.Making.Class())+" of ISO 2768-1", map[bool]string{true: "assumed", false: "stated"}[c.Making.Tolerance == ""])
	for _, one := range []struct {
		what, unit string
		value      *swap.Range
	}{
		{"value of an hour", c.Making.Pricing.Currency, c.Making.Pricing.HourlyValue}, {"hours of the work", "h", c.Making.Pricing.Hours},
		{"quoted price", c.Making.Pricing.Currency, c.Making.Pricing.Quoted}, {"price of the stock a kg", c.Making.Pricing.Currency, c.Making.Pricing.PricePerKg},
		{"price of a stock part", c.Making.Pricing.Currency, c.Making.Pricing.StockPart},
	} {
		if one.value != nil {
			row(one.what, typed(*one.value, one.unit), "stated")
		}
	}
	if c.Loading.AttachedMass > 0 {
		row("attached mass", quantity.Short(c.Loading.AttachedMass, 6)+" g", "stated")
	}
	if c.Loading.Support != nil {
		row("support", c.Loading.Support.String(), "stated")
	}
	return t
}

// typed writes a value as a person typed it: one number, or its bounds.
func typed(r swap.Range, unit string) string {
	text := quantity.Short(r.Low, 6)
	if r.High != r.Low {
		text += " to " + quantity.Short(r.High, 6)
	}
	return strings.TrimSpace(text + " " + unit)
}

func scaleError(w mass.Weighing) string {
	if w.Error == 0 {
		return ""
	}
	return ", its own error up to " + quantity.Short(100*w.Error, 3) + " %"
}

func fileSource(l *mesh.Loaded) string {
	if l == nil {
		return ""
	}
	text := fmt.Sprintf("%s in %v, %d triangles", l.Format, l.Unit, l.Triangles)
	if l.SHA256 == "" { // made from a section, not read
		return text
	}
	return text + ", SHA-256 " + l.SHA256
}

// materialInputs lists the values taken from the material table.
func materialInputs(name string, p swap.Part, table *materials.Table) [][]string {
	if p.Material == nil || table == nil {
		return nil
	}
	m, err := table.Find(*p.Material)
	if err != nil {
		return nil // it came from somewhere else than the table, and is named in the main table
	}
	var rows [][]string
	add := func(what, value, source string) {
		rows = append(rows, []string{name + ", " + what, value, source})
	}
	if p.Weighed == nil {
		add("density of "+m.Name, interval(m.Density, 4)+" kg/m3", m.DensitySource)
	}
	if m.YoungsModulus.Value > 0 {
		add("Young's modulus of "+m.Name, quantity.Short(m.YoungsModulus.Value, 6)+" MPa", m.YoungsModulus.Source)
	}
	// A weight tells no alloy, so a part identified by it has no known strength.
	if m.Strength.Value > 0 && p.Basis != swap.Identified {
		add(strings.TrimSpace(m.Strength.Name)+" of "+m.Name, quantity.Short(m.Strength.Value, 4)+" MPa", m.Strength.Source)
	}
	return rows
}
