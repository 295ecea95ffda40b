package grid

import "slices"

// Anchored returns the cells without those of bodies of which no cell is held: crumbs
// that the grid cuts off, and loose shells of the mesh. Bodies are cells that share
// faces; a shared edge alone would be a hinge.
func (c *Cells) Anchored(isHeld func(i, j, k, cell int) bool) *Cells {
	body, count := c.bodies()
	if count <= 1 {
		return c
	}
	anchored := make([]bool, count)
	c.EachActive(func(i, j, k, cell int) {
		if b := body[cell]; !anchored[b] {
			anchored[b] = isHeld(i, j, k, cell)
		}
	})
	if !slices.Contains(anchored, false) {
		return c
	}
	kept := *c
	kept.Of = slices.Clone(c.Of)
	c.EachActive(func(i, j, k, cell int) {
		if anchored[body[cell]] {
			return
		}
		kept.Lost += c.Kinds[c.Of[cell]].Volume()
		kept.Of[cell] = Void
		kept.Active--
	})
	kept.Volume -= kept.Lost
	return &kept
}

// EachActive visits the cells that hold material.
func (c *Cells) EachActive(visit func(i, j, k, cell int)) {
	for i := range c.Count(0) {
		for j := range c.Count(1) {
			for k := range c.Count(2) {
				if cell := c.CellIndex(i, j, k); c.Of[cell] != Void {
					visit(i, j, k, cell)
				}
			}
		}
	}
}

// bodies numbers the sets of cells that hang together over faces.
func (c *Cells) bodies() (of []int32, count int) {
	parent := make([]int32, len(c.Of))
	for i := range parent {
		parent[i] = int32(i)
	}
	find := func(i int32) int32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	step := [3]int{c.Count(1) * c.Count(2), c.Count(2), 1}
	c.EachActive(func(i, j, k, cell int) {
		for a, n := range [3]int{i, j, k} {
			if n+1 == c.Count(a) || c.Of[cell+step[a]] == Void {
				continue
			}
			p, q := find(int32(cell)), find(int32(cell+step[a]))
			parent[max(p, q)] = min(p, q)
		}
	})
	number := map[int32]int32{}
	of = make([]int32, len(c.Of))
	c.EachActive(func(_, _, _, cell int) {
		root := find(int32(cell))
		n, ok := number[root]
		if !ok {
			n = int32(len(number))
			number[root] = n
		}
		of[cell] = n
	})
	return of, len(number)
}
