package solid

import (
	"fmt"
	"slices"

	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// layout is a family of grids, the coarsest first, each with the material in its
// cells.
type layout struct {
	key   string
	grids []*grid.Grid
	cells []*grid.Cells
	gaps  []float64 // the narrowest gap that cells were emptied for, mm, by grid; 0 for none
}

// keptSystem is a system that a later check may use again.
type keptSystem struct {
	key string
	*system
	lost      float64 // of bodies that nothing holds, mm3
	bytes     int
	solutions []*solution
	rings     []*ringing
}

// keptBytes is what all kept systems of a body may take.
const keptBytes = 600e6

// system returns the system on grid n, 0 for the coarsest.
func (c *check) system(n int) (*keptSystem, error) {
	key := fmt.Sprintf("%s %d %g %#v", c.lay.key, n, c.e.Poisson, c.p.Supports)
	k := c.body.find(key)
	if k == nil {
		cs := c.lay.at(n, c.pose)
		h, err := c.holdingOn(cs)
		if err != nil {
			return nil, err
		}
		cs = h.Anchor(cs)
		s, err := newSystem(cs, brick.LameOf(1, c.e.Poisson), h)
		if err != nil {
			return nil, err
		}
		k = &keptSystem{key: key, system: s, lost: cs.Lost}
		c.body.keep(k)
	}
	if k.lost > 1e-3*c.body.volume {
		c.warn(fmt.Sprintf("%.2g %% of the material is a separate body that nothing holds; it is left out", 100*k.lost/c.body.volume))
	}
	return k, nil
}

// holdingOn returns what holds the part on a grid, for a modulus of 1 MPa.
func (c *check) holdingOn(cs *grid.Cells) (*region.Holding, error) {
	h := region.NewHolding()
	for i, r := range c.hold {
		one := region.NewHolding()
		if p := c.points[i]; p != nil {
			one.HoldNode(cs.NearestNode(*p), c.dirs[i])
		} else if err := r.Hold(one, cs, c.s, c.dirs[i], 1); err != nil {
			return nil, err
		}
		h.Add(one)
	}
	return h, nil
}

// layout returns the grids for a check.
func (b *Body) layout(c *check) *layout {
	lines := c.wantedLines()
	key := fmt.Sprint(c.pose.number, c.opt.Unknowns, c.opt.Grids, lines)
	l := b.layouts[key]
	if l == nil {
		l = &layout{key: key, grids: []*grid.Grid{c.base(lines)}}
		b.layouts[key] = l
	}
	return l
}

// at returns the material in the cells of grid n, 0 for the coarsest.
func (l *layout) at(n int, p *pose) *grid.Cells {
	for len(l.grids) <= n {
		l.grids = append(l.grids, l.grids[len(l.grids)-1].Halved())
	}
	for len(l.cells) <= n {
		g := l.grids[len(l.cells)]
		c, gap := grid.Fill(p.s, g, raysPerCell(g)).Opened(p.s, p.gaps.Loose)
		l.cells = append(l.cells, c)
		l.gaps = append(l.gaps, gap)
	}
	return l.cells[n]
}

// find returns the kept system with a key, or nil.
func (b *Body) find(key string) *keptSystem {
	for i, s := range b.systems {
		if s.key == key {
			b.systems = append(slices.Delete(b.systems, i, i+1), s)
			return s
		}
	}
	return nil
}

// keep holds on to a system as long as there is room, and lets go of those that
// were used longest ago.
func (b *Body) keep(s *keptSystem) {
	s.bytes = s.system.bytes()
	b.systems = append(b.systems, s)
	total := 0
	for i := len(b.systems) - 1; i >= 0; i-- {
		total += b.systems[i].bytes
		if total > keptBytes {
			b.systems = slices.Clone(b.systems[i+1:])
			return
		}
	}
}
