package swap

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/solid"
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

// drawnHoles are the part's holes where it is drawn, numbered as its own file has
// them and places such as hole:3 name them.
func (p part) drawnHoles() (holes []feature.Hole) {
	for _, h := range p.made.Features.Holes {
		h.Centre, h.Axis = p.motion.Apply(h.Centre), p.motion.Turn(h.Axis)
		holes = append(holes, h)
	}
	return holes
}

func (s *situation) drawing(directions []direction) *Drawing {
	d := &Drawing{Span: s.span, Old: Drawn{Mesh: s.old.mesh, Holes: s.old.drawnHoles()}, New: Drawn{Mesh: s.new.mesh, Holes: s.new.drawnHoles()}}
	d.HardPlaces = s.millingMarks()
	for _, one := range directions {
		d.Old.Bent = append(d.Old.Bent, one.old.bent)
		d.New.Bent = append(d.New.Bent, one.new.bent)
	}
	return d
}
