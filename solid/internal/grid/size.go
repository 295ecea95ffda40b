package grid

import "swapworth/solid/internal/brick"

// RefinedUnknowns returns three times the nodes that the material of a grid has
// once each of its cells is cut into finer x finer x finer: those inside cells,
// and those on the faces, edges and corners that cells share.
func (c *Cells) RefinedUnknowns(finer int) float64 {
	n0, n1, n2 := c.nodes(0), c.nodes(1), c.nodes(2)
	// bit 0: corner; bits 1-3: edges along each axis; bits 4-6: faces across
	seen := make([]uint8, n0*n1*n2)
	c.EachActive(func(i, j, k, _ int) {
		for v := range brick.Corners {
			d := [3]int{v >> 2, v >> 1 & 1, v & 1}
			mark := uint8(1)
			for a := range 3 {
				b, e := (a+1)%3, (a+2)%3
				if d[a] == 0 {
					mark |= 2 << a
				}
				if d[b] == 0 && d[e] == 0 {
					mark |= 16 << a
				}
			}
			seen[c.nodeIndex(i+d[0], j+d[1], k+d[2])] |= mark
		}
	})
	inner := float64(finer - 1)
	nodes := float64(c.Active) * inner * inner * inner
	for _, s := range seen {
		nodes += float64(s & 1)
		for a := range 3 {
			nodes += float64(s>>(1+a)&1)*inner + float64(s>>(4+a)&1)*inner*inner
		}
	}
	return 3 * nodes
}
