package note

import (
	"fmt"
	"strings"

	"swapworth/mesh"
	"swapworth/note/figure"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/solid"
)

// spareBlocks say where a part's next gram is: how much of it carries little, and
// what could be pocketed at which loss of stiffness. mesh and shape, for the picture,
// may be nil.
func spareBlocks(title string, s *solid.Spare, m *mesh.Mesh, d *solid.Deflected) []render.Block {
	if s == nil {
		return nil
	}
	t := render.Table{Title: title, Align: "llrrr",
		Header: []string{"milled out at, mm", "size, mm", "from", "saves", "costs stiffness, %"}}
	for _, r := range s.Regions {
		saved := quantity.Number(r.Volume, 3) + " mm3"
		if r.Mass != nil {
			saved = quantity.Number(*r.Mass, 3) + " g"
		}
		t.Rows = append(t.Rows, []string{joined(r.Centre, ", "), joined(r.Size, " x "), r.From, saved, quantity.Number(r.Loss, 2)})
	}
	said := fmt.Sprintf("%s %% of the volume carries under a tenth of the mean strain energy in every load case.", quantity.Number(s.SharePercent, 3))
	if len(t.Rows) == 0 {
		said += " No box of it is open to a side, wide enough for a cutter and far enough from holds, loads and walls to be pocketed."
	} else {
		said += fmt.Sprintf(" Each loss is the worst load case's, solved without that region alone on a grid of %d unknowns; of several the losses add up to more.", s.Unknowns)
	}
	blocks := []render.Block{t, render.List{Items: []string{said}}}
	if len(t.Rows) == 0 {
		blocks = []render.Block{render.List{Title: title, Items: []string{said}}}
	}
	if m != nil && d != nil && len(d.Energy) > 0 {
		blocks = append(blocks, render.Later(func(quantity.System) []render.Block {
			return []render.Block{render.Picture{Figure: figure.EnergyViews("What carries: strain energy of the first load case", figure.LoadedPart{Mesh: m, Shape: d})}}
		}))
	}
	return blocks
}

func joined(v [3]float64, between string) string {
	var parts []string
	for _, x := range v {
		parts = append(parts, quantity.Short(x, 3))
	}
	return strings.Join(parts, between)
}
