package solid

import (
	"slices"

	"swapworth/solid/internal/brick"
)

// keepHeld returns the cells without those of bodies that nothing holds: crumbs
// that the grid cuts off, and loose shells of the mesh. Bodies are cells that
// share faces; a shared edge alone would be a hinge.
func (c *cells) keepHeld(h *holding) *cells {
	body, count := c.bodies()
	if count <= 1 {
		return c
	}
	anchored := make([]bool, count)
	c.eachActive(func(i, j, k, cell int) {
		b := body[cell]
		if anchored[b] {
			return
		}
		if h.extra[cell] != nil {
			anchored[b] = true
			return
		}
		for v := range brick.Corners {
			if _, ok := h.nodes[[3]int{i + v>>2, j + v>>1&1, k + v&1}]; ok {
				anchored[b] = true
				return
			}
		}
	})
	if !slices.Contains(anchored, false) {
		return c
	}
	kept := *c
	kept.of = slices.Clone(c.of)
	c.eachActive(func(i, j, k, cell int) {
		if anchored[body[cell]] {
			return
		}
		kept.lost += c.kinds[c.of[cell]].volume()
		kept.of[cell] = void
		kept.active--
	})
	kept.volume -= kept.lost
	return &kept
}

// eachActive visits the cells that hold material.
func (c *cells) eachActive(visit func(i, j, k, cell int)) {
	for i := range c.cells(0) {
		for j := range c.cells(1) {
			for k := range c.cells(2) {
				if cell := c.cellIndex(i, j, k); c.of[cell] != void {
					visit(i, j, k, cell)
				}
			}
		}
	}
}

// bodies numbers the sets of cells that hang together over faces.
func (c *cells) bodies() (of []int32, count int) {
	parent := make([]int32, len(c.of))
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
	step := [3]int{c.cells(1) * c.cells(2), c.cells(2), 1}
	c.eachActive(func(i, j, k, cell int) {
		for a, n := range [3]int{i, j, k} {
			if n+1 == c.cells(a) || c.of[cell+step[a]] == void {
				continue
			}
			p, q := find(int32(cell)), find(int32(cell+step[a]))
			parent[max(p, q)] = min(p, q)
		}
	})
	number := map[int32]int32{}
	of = make([]int32, len(c.of))
	c.eachActive(func(_, _, _, cell int) {
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
