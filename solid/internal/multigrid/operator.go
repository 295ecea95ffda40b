package multigrid

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
	g       *Grid
	stored  int        // stored nodes, ghosts included; the first three are ghosts
	pos     []int32    // stored index of each active node
	at      [][3]int32 // grid indices of each active node
	runs    [][9]int32 // for each active node, where the run of each column starts
	sid     []int32    // stencil of each active node
	shared  int        // stencils before this one may be shared; those at springs come after
	stencil []float64  // stencils of StencilLength numbers
	index   []int32    // stored index of a node of the box, 0 where none
}

// StencilLength is how many numbers a stencil has: 9 runs x 9 numbers x 3 rows.
const StencilLength = 9 * 9 * 3

// newOperator assembles the stiffness.
func newOperator(g *Grid) *operator {
	op := &operator{g: g}
	op.number()
	op.link()
	op.fillStencils()
	return op
}

// number finds the active nodes and gives stored places to them and to the
// ghosts.
func (op *operator) number() {
	g := op.g
	n0, n1, n2 := g.nodes(0), g.nodes(1), g.nodes(2)
	on := make([]bool, n0*n1*n2)
	g.eachActive(func(i, j, k int) {
		for v := range brick.Corners {
			on[g.nodeIndex(i+v>>2, j+v>>1&1, k+v&1)] = true
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
					for k, a := range on[g.nodeIndex(p, q, 0):g.nodeIndex(p, q, n2)] {
						near[k] = near[k] || a
					}
				}
			}
			col := on[g.nodeIndex(i, j, 0):g.nodeIndex(i, j, n2)]
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
	g := op.g
	if i < 0 || j < 0 || i >= g.nodes(0) || j >= g.nodes(1) {
		return 0
	}
	return op.index[(i*g.nodes(1)+j)*(g.nodes(2)+2)+k+1]
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
	g := op.g
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
			key[v] = -1
			if cell >= 0 {
				key[v] = g.Kind[cell]
				own = own || g.Springs[cell] != nil
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
	op.stencil = make([]float64, (len(keys)+len(special))*StencilLength+1) // rowsFMA reads one more
	parallel.Blocks(len(keys), 256, func(lo, hi int) {
		for n := lo; n < hi; n++ {
			st := op.stencil[n*StencilLength : (n+1)*StencilLength]
			for v, kind := range keys[n] {
				if kind >= 0 {
					addCorner(st, v, &g.Elements[kind])
				}
			}
		}
	})
	for s, t := range special {
		n := len(keys) + s
		op.sid[t] = int32(n)
		st := op.stencil[n*StencilLength : (n+1)*StencilLength]
		for v := range 8 {
			cell := op.cellAround(int(t), v)
			if cell < 0 || g.Kind[cell] < 0 {
				continue
			}
			addCorner(st, v, &g.Elements[g.Kind[cell]])
			if x := g.Springs[cell]; x != nil {
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
	g := op.g
	if i < 0 || j < 0 || k < 0 || i >= g.cells(0) || j >= g.cells(1) || k >= g.cells(2) {
		return -1
	}
	return g.cellIndex(i, j, k)
}

// length returns the length of a vector.
func (op *operator) length() int { return 3 * (op.stored + 2) }

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

// apply sets y = A x, with the rows of held displacements too.
func (op *operator) apply(x, y []float64) {
	parallel.Blocks(len(op.pos), 2048, func(lo, hi int) {
		op.rows(x, y, lo, hi)
	})
}

// strain sets y = A x as apply does, but from the differences of x to each
// node's own value: the rows of a stiffness add up to nothing, and a rigid
// motion, however large, then costs no digits. Nodes at springs, whose rows do
// add up to something, hardly move.
func (op *operator) strain(x, y []float64) {
	parallel.Blocks(len(op.pos), 2048, func(lo, hi int) {
		var near [81]float64
		for t := lo; t < hi; t++ {
			st := op.stencil[int(op.sid[t])*StencilLength:][:StencilLength:StencilLength]
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
