package solid

import (
	"swapworth/internal/parallel"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/multigrid"
)

// system is the discrete problem on one grid: its equations with what they mean. Any
// number of load cases share it.
type system struct {
	*multigrid.System
	c        *cells
	holds    []*holding             // by support
	springs  map[int]*brick.Element // of all of them, by cell
	elements []brick.Element        // by kind of cell
	scale    brick.Lame
}

// newSystem assembles the equations of the cells and builds their hierarchy.
func newSystem(c *cells, e brick.Lame, h *holding) (*system, error) {
	s := &system{c: c, scale: e, holds: h.each, springs: h.extra, elements: c.stiffness(e)}
	var err error
	s.System, err = multigrid.New(&multigrid.Grid{
		Lines: c.lines, Edges: c.edges(), Kind: c.of, Elements: s.elements, Springs: h.extra, Held: h.nodes,
	})
	return s, err
}

// stiffness returns the stiffness of each kind of cell.
func (c *cells) stiffness(e brick.Lame) []brick.Element {
	out := make([]brick.Element, len(c.kinds))
	parallel.Blocks(len(c.kinds), 64, func(lo, hi int) {
		b := new(brick.Brick)
		for i := lo; i < hi; i++ {
			b.Assemble(c.kinds[i].edge, &c.kinds[i].m, e)
			b.Stiffness(&out[i])
		}
	})
	return out
}
