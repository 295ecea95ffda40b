package note

import (
	"fmt"
	"path/filepath"

	"swapworth/internal/textwrap"
	"swapworth/note/figure"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// Vary lays a variation out: what is lightest and still stiff enough, then every
// thickness and material.
func Vary(v swap.Variants, c swap.Case) render.Document {
	d := render.Document{
		Title:  fmt.Sprintf("Thickness and material of %s", filepath.Base(v.New.File)),
		Lead:   varyLead(v),
		Blocks: []render.Block{varyTable(v)},
		Units:  c.Units, Names: namesOf(v.Old.File, v.New.File),
	}
	if len(v.Thinnest) > 0 {
		d.Blocks = append(d.Blocks, thinnestTable(v))
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

func varyLead(v swap.Variants) []render.Line {
	if v.Lightest == nil {
		return []render.Line{{Text: fmt.Sprintf("No thickness up to %s mm is stiff and strong enough: %s of the stock part's stiffness is asked for.",
			quantity.Short(v.Searched, 4), quantity.Short(v.Limits.MinStiffnessRatio, 3)), Tone: render.Bad}}
	}
	l := v.Lightest
	return []render.Line{{
		Text: fmt.Sprintf("Lightest that is stiff enough: %s mm of %s, %s g (drawn: %s mm).",
			quantity.Number(l.Thickness, 3), l.Material, quantity.Number(l.Mass, 3), quantity.Short(v.Drawn, 4)),
		Tone: render.Good,
	}}
}

func varyTable(v swap.Variants) render.Table {
	t := render.Table{
		Title:  fmt.Sprintf("Thickness along %s against mass and stiffness; * marks what nothing else beats", v.Axis),
		Header: []string{"thickness, mm", "material", "mass, g", "saving, %", "stiffness ratio", "safety factor", "gain, %", "stiff enough", ""},
		Align:  "rlrrrrrll",
	}
	for _, one := range v.Variants {
		enough, mark := "no", ""
		if one.Meets {
			enough = "yes"
		}
		if one.Refused != "" {
			enough = "not judged"
		}
		if one.Unbeaten {
			mark = "*"
		}
		t.Rows = append(t.Rows, []string{
			quantity.Short(one.Thickness, 4), one.Material, quantity.Number(one.Mass, 3), quantity.Number(one.Saving, 3),
			Optional(one.Ratio, 3), Optional(one.SafetyFactor, 3), Optional(one.Gain, 3), enough, mark,
		})
	}
	return t
}

func thinnestTable(v swap.Variants) render.Table {
	t := render.Table{Title: "Thinnest that is stiff enough", Header: []string{"material", "thickness, mm", "mass, g", "stiffness ratio"}}
	found := map[string]bool{}
	for _, s := range v.Thinnest {
		found[s.Material] = true
		t.Rows = append(t.Rows, []string{s.Material, quantity.Number(s.Thickness, 3), quantity.Number(s.Mass, 3), quantity.Number(s.Ratio, 3)})
	}
	for _, one := range v.Variants {
		if !found[one.Material] {
			found[one.Material] = true
			t.Rows = append(t.Rows, []string{one.Material, "none up to" + textwrap.Tie + quantity.Short(v.Searched, 4), Missing, Missing})
		}
	}
	return t
}
