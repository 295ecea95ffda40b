package swap

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam"
	"swapworth/mesh"
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
	Shape *solid.Deflected // under the first load case; nil where it was not asked for
}

// Bent is a part as a beam loaded along one axis: its sections along the span,
// and the place on the span, in mm, where the stress is largest. Points is empty
// and WeakestAt nil where beam theory refused the part or was not used.
type Bent struct {
	Along     mesh.Axis
	Points    []beam.Point
	WeakestAt *float64
}

func (s *situation) drawing(directions []direction) *Drawing {
	d := &Drawing{Span: s.span, Old: Drawn{Mesh: s.old.mesh}, New: Drawn{Mesh: s.new.mesh}}
	d.HardPlaces = s.millingMarks()
	for _, one := range directions {
		d.Old.Bent = append(d.Old.Bent, one.old.bent)
		d.New.Bent = append(d.New.Bent, one.new.bent)
	}
	return d
}
