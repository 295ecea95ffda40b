package solid

import (
	"swapworth/internal/parallel"
	"swapworth/solid/internal/brick"
)

// operator is the stiffness matrix of the grid's active nodes, kept as one
// stencil of 27 blocks 3 x 3 a node. Nodes whose eight cells are alike share a
// stencil, so that memory traffic is that of the surface, not of the volume.
//
// Vectors hold three numbers for each stored node. A stored node is active or
// a ghost that is always zero; ghosts make the three nodes k-1, k, k+1 of every
// neighbouring column lie side by side, so that a stencil reads nine runs of
// nine numbers.
type operator struct {
	c        *cells
	stored   int             // stored nodes, ghosts included; the first three are ghosts
	pos      []int32         // stored index of each active node
	at       [][3]int32      // grid indices of each active node
	runs     [][9]int32      // for each active node, where the run of each column starts
	sid      []int32         // stencil of each active node
	shared   int             // stencils before this one may be shared; those at springs come after
	stencil  []float64       // stencils of stencilLen numbers
	index    []int32         // stored index of a node of the box, 0 where none
	fixed    []int32         // fixed entries of a vector, rising
	elements []brick.Element // by kind
	extra    map[int]*brick.Element
}

// stencilLen is 9 runs x 9 numbers x 3 rows.
const stencilLen = 9 * 9 * 3

// nodes returns the number of nodes of the box along an axis.
func (g *grid) nodes(a int) int { return len(g.lines[a]) }

// nodeIndex numbers node (i, j, k), axis 2 fastest.
func (g *grid) nodeIndex(i, j, k int) int {
	return (i*g.nodes(1)+j)*g.nodes(2) + k
}

// newOperator assembles the stiffness. extra holds what springs add to the
// stiffness of single cells, by cell number.
func newOperator(c *cells, e brick.Lame, extra map[int]*brick.Element) *operator {
	op := &operator{c: c, extra: extra}
	op.elements = make([]brick.Element, len(c.kinds))
	parallel.Blocks(len(c.kinds), 64, func(lo, hi int) {
		b := new(brick.Brick)
		for i := lo; i < hi; i++ {
			b.Assemble(c.kinds[i].edge, &c.kinds[i].m, e)
			b.Stiffness(&op.elements[i])
		}
	})
	op.number()
	op.link()
	op.fillStencils()
	return op
}

// number finds the active nodes and gives stored places to them and to the
// ghosts.
func (op *operator) number() {
	c := op.c
	n0, n1, n2 := c.nodes(0), c.nodes(1), c.nodes(2)
	on := make([]bool, n0*n1*n2)
	c.eachActive(func(i, j, k, _ int) {
		for v := range brick.Corners {
			on[c.nodeIndex(i+v>>2, j+v>>1&1, k+v&1)] = true
		}
	})
	// heights of a column: k runs from -1 to n2, kept at k+1
	op.index = make([]int32, n0*n1*(n2+2))
	op.stored = 3
	need := make([]bool, n2+2)
	near := make([]bool, n2)
	for i := range n0 {
		for j := range n1 {
			clear(need)
			clear(near)
			for p := max(i-1, 0); p <= min(i+1, n0-1); p++ {
				for q := max(j-1, 0); q <= min(j+1, n1-1); q++ {
					for k, a := range on[c.nodeIndex(p, q, 0):c.nodeIndex(p, q, n2)] {
						near[k] = near[k] || a
					}
				}
			}
			col := on[c.nodeIndex(i, j, 0):c.nodeIndex(i, j, n2)]
			for k := range n2 {
				touches := col[k] || (k > 0 && col[k-1]) || (k+1 < n2 && col[k+1])
				if near[k] && touches {
					need[k], need[k+1], need[k+2] = true, true, true
				}
			}
			for k, yes := range need {
				if !yes {
					continue
				}
				op.index[(i*n1+j)*(n2+2)+k] = int32(op.stored)
				if k > 0 && k <= n2 && col[k-1] {
					op.pos = append(op.pos, int32(op.stored))
					op.at = append(op.at, [3]int32{int32(i), int32(j), int32(k - 1)})
				}
				op.stored++
			}
		}
	}
}

// storedAt returns the stored index of node (i, j, k), 0 where none.
func (op *operator) storedAt(i, j, k int) int32 {
	c := op.c
	if i < 0 || j < 0 || i >= c.nodes(0) || j >= c.nodes(1) {
		return 0
	}
	return op.index[(i*c.nodes(1)+j)*(c.nodes(2)+2)+k+1]
}

// link finds where the nine runs of each active node start.
func (op *operator) link() {
	op.runs = make([][9]int32, len(op.pos))
	parallel.Blocks(len(op.pos), 4096, func(lo, hi int) {
		for t := lo; t < hi; t++ {
			i, j, k := int(op.at[t][0]), int(op.at[t][1]), int(op.at[t][2])
			for p := range 3 {
				for q := range 3 {
					// a column without the node k has no active node in the run
					if op.storedAt(i+p-1, j+q-1, k) != 0 {
						op.runs[t][3*p+q] = op.storedAt(i+p-1, j+q-1, k-1)
					}
				}
			}
		}
	})
}

// fillStencils adds the elements around each node, once for each distinct
// surrounding.
func (op *operator) fillStencils() {
	c := op.c
	type around [8]int32
	ids := map[around]int32{}
	var keys []around
	var special []int32 // nodes at a cell with springs, with their own stencil
	op.sid = make([]int32, len(op.pos))
	for t := range op.pos {
		var key around
		own := false
		for v := range 8 {
			cell := op.cellAround(t, v)
			key[v] = void
			if cell >= 0 {
				key[v] = c.of[cell]
				own = own || op.extra[cell] != nil
			}
		}
		if own {
			op.sid[t] = -1 - int32(len(special))
			special = append(special, int32(t))
			continue
		}
		id, ok := ids[key]
		if !ok {
			id = int32(len(keys))
			ids[key] = id
			keys = append(keys, key)
		}
		op.sid[t] = id
	}
	op.shared = len(keys)
	op.stencil = make([]float64, (len(keys)+len(special))*stencilLen+1) // rowsFMA reads one more
	parallel.Blocks(len(keys), 256, func(lo, hi int) {
		for n := lo; n < hi; n++ {
			st := op.stencil[n*stencilLen : (n+1)*stencilLen]
			for v, kind := range keys[n] {
				if kind != void {
					addCorner(st, v, &op.elements[kind])
				}
			}
		}
	})
	for s, t := range special {
		n := len(keys) + s
		op.sid[t] = int32(n)
		st := op.stencil[n*stencilLen : (n+1)*stencilLen]
		for v := range 8 {
			cell := op.cellAround(int(t), v)
			if cell < 0 || c.of[cell] == void {
				continue
			}
			addCorner(st, v, &op.elements[c.of[cell]])
			if x := op.extra[cell]; x != nil {
				addCorner(st, v, x)
			}
		}
	}
}

// cellAround returns the cell of which active node t is corner 7-v, that is the
// cell on side v of the node, or -1 outside the box.
func (op *operator) cellAround(t, v int) int {
	i := int(op.at[t][0]) - 1 + v>>2
	j := int(op.at[t][1]) - 1 + v>>1&1
	k := int(op.at[t][2]) - 1 + v&1
	c := op.c
	if i < 0 || j < 0 || k < 0 || i >= c.cells(0) || j >= c.cells(1) || k >= c.cells(2) {
		return -1
	}
	return c.cellIndex(i, j, k)
}

// addCorner adds to a node's stencil the rows of element e for the corner at
// which the node sits when the cell lies on side v of it.
func addCorner(st []float64, v int, e *brick.Element) {
	corner := 7 - v
	for d := range brick.Corners {
		// offset of corner d from the node, -1, 0 or 1 an axis
		p := v>>2 + d>>2
		q := v>>1&1 + d>>1&1
		r := v&1 + d&1
		at := ((3*p+q)*9 + 3*r) * 3
		for col := range 3 {
			for row := range 3 {
				st[at+3*col+row] += e[(3*corner+row)*brick.DOF+3*d+col]
			}
		}
	}
}

// apply sets y = A x for the free entries; fixed entries of x must be zero and
// those of y become zero.
func (op *operator) apply(x, y []float64) {
	op.applyAll(x, y)
	for _, f := range op.fixed {
		y[f] = 0
	}
}

// applyAll sets y = A x with the rows of fixed entries too: there y is the
// reaction.
func (op *operator) applyAll(x, y []float64) {
	parallel.Blocks(len(op.pos), 2048, func(lo, hi int) {
		op.rows(x, y, lo, hi)
	})
}

// plainRows is rows for processors that work on one number at a time.
func (op *operator) plainRows(x, y []float64, lo, hi int) {
	for t := lo; t < hi; t++ {
		st := op.stencil[int(op.sid[t])*stencilLen:]
		stencilRow(st[:stencilLen:stencilLen], x, &op.runs[t], y[3*op.pos[t]:3*op.pos[t]+3])
	}
}

// strain sets y = A x as applyAll does, but from the differences of x to each
// node's own value: the rows of a stiffness add up to nothing, and a rigid
// motion, however large, then costs no digits. Nodes at springs, whose rows do
// add up to something, hardly move.
func (op *operator) strain(x, y []float64) {
	parallel.Blocks(len(op.pos), 2048, func(lo, hi int) {
		var near [81]float64
		for t := lo; t < hi; t++ {
			st := op.stencil[int(op.sid[t])*stencilLen:][:stencilLen:stencilLen]
			p := 3 * op.pos[t]
			if int(op.sid[t]) >= op.shared {
				stencilRow(st, x, &op.runs[t], y[p:p+3])
				continue
			}
			for r, start := range op.runs[t] {
				for c := range 9 {
					near[9*r+c] = 0
					if start != 0 {
						near[9*r+c] = x[3*int(start)+c] - x[int(p)+c%3]
					}
				}
			}
			aroundRow(st, &near, y[p:p+3])
		}
	})
}

// aroundRow computes three rows of the product from the 81 numbers around a node.
func aroundRow(st []float64, near *[81]float64, y []float64) {
	var s0, s1, s2 float64
	for c, w := range near {
		m := (*[3]float64)(st[3*c:])
		s0 += m[0] * w
		s1 += m[1] * w
		s2 += m[2] * w
	}
	y[0], y[1], y[2] = s0, s1, s2
}

// stencilRow computes three rows of the product. Two sums a row keep the
// processor from waiting for its own additions.
func stencilRow(st []float64, x []float64, runs *[9]int32, y []float64) {
	var s0, s1, s2, t0, t1, t2 float64
	for r, start := range runs {
		if start == 0 {
			continue
		}
		v := (*[9]float64)(x[3*start:])
		m := (*[27]float64)(st[27*r:])
		for c := 0; c < 8; c += 2 {
			w, z := v[c], v[c+1]
			s0 += m[3*c] * w
			s1 += m[3*c+1] * w
			s2 += m[3*c+2] * w
			t0 += m[3*c+3] * z
			t1 += m[3*c+4] * z
			t2 += m[3*c+5] * z
		}
		s0 += m[24] * v[8]
		s1 += m[25] * v[8]
		s2 += m[26] * v[8]
	}
	y[0], y[1], y[2] = s0+t0, s1+t1, s2+t2
}
