package solid

import (
	"swapworth/internal/parallel"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/multigrid"
	"swapworth/solid/internal/region"
)

// system is the discrete problem on one grid: its equations with what they mean. Any
// number of load cases share it.
type system struct {
	*multigrid.System
	c        *grid.Cells
	holds    []*region.Holding      // by support
	springs  map[int]*brick.Element // of all of them, by cell
	elements []brick.Element        // by kind of cell
	scale    brick.Lame
}

// newSystem assembles the equations of the cells and builds their hierarchy.
func newSystem(c *grid.Cells, e brick.Lame, h *region.Holding) (*system, error) {
	s := &system{c: c, scale: e, holds: h.Each, springs: h.Extra, elements: elementsOf(c, e)}
	var err error
	s.System, err = multigrid.New(&multigrid.Grid{
		Lines: c.Lines, Edges: c.Edges(), Kind: c.Of, Elements: s.elements, Springs: h.Extra, Held: h.Nodes,
	})
	return s, err
}

// elementsOf returns the stiffness of each kind of cell.
func elementsOf(c *grid.Cells, e brick.Lame) []brick.Element {
	out := make([]brick.Element, len(c.Kinds))
	parallel.Blocks(len(c.Kinds), 64, func(lo, hi int) {
		b := new(brick.Brick)
		for i := lo; i < hi; i++ {
			b.Assemble(c.Kinds[i].Edge, &c.Kinds[i].Moments, e)
			b.Stiffness(&out[i])
		}
	})
	return out
}
