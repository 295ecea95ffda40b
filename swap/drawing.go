package swap

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/solid"
	"swapworth/swap/mill"
)

// Drawing is what figures of a comparison show beside its numbers.
type Drawing struct {
	Span     mesh.Axis
	Old, New Drawn

	// HardPlaces are those of the findings on milling, in their order.
	HardPlaces []r3.Vec
}

// Drawn is one part, in the stock part's frame, and how it bends in every load
// direction.
type Drawn struct {
	Mesh  *mesh.Mesh
	Bent  []Bent
	Holes []feature.Hole    // with the numbers of the part's own file
	Shape *solid.Deflected  // under the first load case; nil where it was not asked for
	Held  *solid.CaseResult // what holds and loads it then; nil where Shape is
}

// drawingOf is what figures show of both parts.
func drawingOf(p placed, m *mill.Millable, directions []direction, shown pictures) *Drawing {
	drawn := func(side int) Drawn {
		d := Drawn{Mesh: p.part(side).mesh, Holes: p.part(side).holes(), Shape: shown.shapes[side], Held: shown.held[side]}
		for _, one := range directions {
			d.Bent = append(d.Bent, one.of(side).bent)
		}
		return d
	}
	return &Drawing{Span: p.span, Old: drawn(onStock), New: drawn(onRedesign), HardPlaces: hardPlaces(m, p.new.motion)}
}

// hardPlaces are the places of the findings on milling, where the redesign is drawn.
func hardPlaces(m *mill.Millable, motion mesh.Transform) []r3.Vec {
	if m == nil {
		return nil
	}
	var out []r3.Vec
	for _, f := range m.Findings {
		out = append(out, motion.Apply(r3.Vec{X: f.Where[0], Y: f.Where[1], Z: f.Where[2]}))
	}
	return out
}

// holes are the part's holes in its place, numbered as its own file has
// them and places such as hole:3 name them.
func (p placedPart) holes() (holes []feature.Hole) {
	for _, h := range p.made.Features.Holes {
		h.Centre, h.Axis = p.motion.Apply(h.Centre), p.motion.Turn(h.Axis)
		holes = append(holes, h)
	}
	return holes
}
