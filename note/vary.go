package note

import (
	"fmt"
	"path/filepath"
	"slices"

	"swapworth/internal/textwrap"
	"swapworth/note/figure"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// Vary lays a variation out: what is lightest of what is enough, then every thickness
// and material, and the thinnest of each material.
func Vary(v swap.Variants, c swap.Case) render.Document {
	d := render.Document{
		Title:  fmt.Sprintf("Thickness and material of %s", filepath.Base(v.New.File)),
		Lead:   varyLead(v),
		Blocks: []render.Block{varyTable(v, c)},
		Units:  c.Units, Names: namesOf(v.Old.File, v.New.File),
	}
	d.Blocks = append(d.Blocks, thinnestTable(v))
	if v.Lightest != nil && len(v.None) > 0 {
		d.Blocks = append(d.Blocks, noneList(v))
	}
	d.Blocks = append(d.Blocks, render.Later(func(u quantity.System) []render.Block {
		if f, ok := figure.Variants(u, v); ok {
			return []render.Block{render.Picture{Figure: f}}
		}
		return nil
	}))
	d.Blocks = append(d.Blocks, RememberedBlocks(c.Remembered)...)
	if len(v.Lasting) > 0 {
		d.Blocks = append(d.Blocks, lastingTable(v.Lasting))
	}
	d.Blocks = append(d.Blocks,
		render.List{Title: "Assumed", Items: v.Assumed},
		render.Lines{Title: "Warnings", Lines: lines(render.Caution, v.Warnings...)},
		render.Detail{Block: inputTable(c, partOf{"stock part", c.Old, v.Old}, partOf{"redesign", c.New, v.New})},
		render.List{Title: "Cautions", Items: v.Cautions})
	return d
}

// varyLead is what is lightest of what a comparison calls a swap, or why there is none.
func varyLead(v swap.Variants) []render.Line {
	var out []render.Line
	asked := quantity.Short(100*v.Limits.Confidence, 3) + textwrap.Tie + "%"
	if l := v.Lightest; l != nil {
		out = append(out, render.Line{Tone: render.Good, Text: fmt.Sprintf(
			"Lightest that is enough: %s mm of %s, %s g, which meets everything with %s; %s is asked (drawn: %s mm).",
			hundredths(l.Thickness), l.Material, quantity.Number(l.Mass, 3), chance(l.Probability), asked, quantity.Short(v.Drawn, 4))})
		if l.Thickness-l.Nominal > 0.005 {
			out = append(out, render.Line{Text: fmt.Sprintf("With nominal values alone %s mm would do.", hundredths(l.Nominal))})
		}
	}
	for _, s := range v.Unsettled {
		out = append(out, render.Line{Tone: render.Caution, Text: fmt.Sprintf("%s mm of %s, %s g, meets every criterion and is still %s: %s",
			hundredths(s.Thickness), s.Material, quantity.Number(s.Mass, 3), s.Verdict, fullStop(s.Why))})
	}
	if v.Lightest == nil {
		for _, n := range v.None {
			out = append(out, render.Line{Tone: render.Bad, Text: fmt.Sprintf("No thickness of %s up to %s mm is enough: %s",
				n.Material, quantity.Short(v.Searched, 4), fullStop(n.Why))})
		}
	}
	return out
}

// hundredths writes a length in mm as a caliper reads it.
func hundredths(mm float64) string { return quantity.Fixed(mm, 2) }

// column is one column of a table of variants, left out where it is empty.
type column struct {
	name string
	cell func(swap.Variant) string
}

func varyTable(v swap.Variants, c swap.Case) render.Table {
	t := render.Table{Title: fmt.Sprintf("Thickness along %s against mass and stiffness; * marks what nothing else beats", v.Axis)}
	for _, col := range []column{
		{"thickness, mm", func(one swap.Variant) string { return quantity.Short(one.Thickness, 4) }},
		{"material", func(one swap.Variant) string {
			if one.Unbeaten {
				return one.Material + textwrap.Tie + "*"
			}
			return one.Material
		}},
		{"verdict", func(one swap.Variant) string {
			if one.Refused != "" {
				return "not judged"
			}
			return string(one.Verdict)
		}},
		{"mass, g", func(one swap.Variant) string { return quantity.Number(one.Mass, 3) }},
		{"saving, %", func(one swap.Variant) string { return quantity.Number(one.Saving, 3) }},
		{"stiffness ratio", func(one swap.Variant) string { return optional(one.Ratio, 3) }},
		{"safety factor", func(one swap.Variant) string { return optional(one.SafetyFactor, 3) }},
		{"moves, mm", func(one swap.Variant) string { return optional(one.Deflection, 3) }},
		{"rings, Hz", func(one swap.Variant) string { return optional(one.Frequency, 3) }},
		{"gain, %", func(one swap.Variant) string { return optional(one.Gain, 3) }},
		{priced(c).In("cost"), func(one swap.Variant) string { return optional(one.Cost, 3) }},
	} {
		addColumn(&t, v.Variants, col)
	}
	return t
}

// addColumn adds a column that some variant fills.
func addColumn(t *render.Table, all []swap.Variant, col column) {
	var cells []string
	filled := false
	for _, one := range all {
		cell := col.cell(one)
		cells, filled = append(cells, cell), filled || cell != "" && cell != missing
	}
	if !filled {
		return
	}
	t.Header = append(t.Header, col.name)
	align := "r"
	if col.name == "material" || col.name == "verdict" {
		align = "l"
	}
	t.Align += align
	if t.Rows == nil {
		t.Rows = make([][]string, len(all))
	}
	for i, cell := range cells {
		t.Rows[i] = append(t.Rows[i], cell)
	}
}

// priced is a cost that only names the currency.
func priced(c swap.Case) *swap.Cost { return &swap.Cost{Currency: c.Making.Pricing.Currency} }

func thinnestTable(v swap.Variants) render.Table {
	t := render.Table{
		Title:  fmt.Sprintf("Thinnest that meets every criterion with %s"+textwrap.Tie+"%%", quantity.Short(100*v.Limits.Confidence, 3)),
		Header: []string{"material", "thickness, mm", "nominal, mm", "mass, g", "stiffness ratio", "chance", "verdict"}, Align: "lrrrrrl",
	}
	for _, s := range slices.Concat(v.Thinnest, v.Unsettled) {
		t.Rows = append(t.Rows, []string{s.Material, hundredths(s.Thickness), hundredths(s.Nominal), quantity.Number(s.Mass, 3),
			optional(s.Ratio, 3), chance(s.Probability), string(s.Verdict)})
	}
	for _, n := range v.None {
		t.Rows = append(t.Rows, []string{n.Material, "none up to" + textwrap.Tie + quantity.Short(v.Searched, 4), missing, missing, missing, missing, ""})
	}
	return t
}

// noneList says of every material in which nothing is enough why.
func noneList(v swap.Variants) render.List {
	l := render.List{Title: "Why none is enough"}
	for _, n := range v.None {
		l.Items = append(l.Items, n.Material+": "+n.Why)
	}
	return l
}
