package multigrid

import "swapworth/solid/internal/brick"

// Grid says what the equations need to know of a grid of bricks. Brick (i, j, k) of
// n0 x n1 x n2 has the number (i n1 + j) n2 + k and lies between planes i and i+1 of axis
// 0, j and j+1 of axis 1, k and k+1 of axis 2; node (i, j, k) is where planes i, j, k
// meet.
type Grid struct {
	Lines [3][]float64 // where the planes across each axis stand, mm, rising
	Edges [3][]float64 // how far they are apart, mm: one fewer

	Kind     []int32         // of each brick, below zero where there is none
	Elements []brick.Element // stiffness of each kind, N/mm

	Springs map[int]*brick.Element // what springs add to the stiffness of a brick, by its number, N/mm
	Held    map[[3]int][3]bool     // displacements that are nothing, by node and axis
}

// cells returns the number of bricks along an axis.
func (g *Grid) cells(a int) int { return len(g.Lines[a]) - 1 }

// nodes returns the number of nodes along an axis.
func (g *Grid) nodes(a int) int { return len(g.Lines[a]) }

// cellIndex numbers brick (i, j, k), axis 2 fastest.
func (g *Grid) cellIndex(i, j, k int) int {
	return (i*g.cells(1)+j)*g.cells(2) + k
}

// nodeIndex numbers node (i, j, k), axis 2 fastest.
func (g *Grid) nodeIndex(i, j, k int) int {
	return (i*g.nodes(1)+j)*g.nodes(2) + k
}

// eachActive visits the bricks that are there.
func (g *Grid) eachActive(visit func(i, j, k int)) {
	for i := range g.cells(0) {
		for j := range g.cells(1) {
			for k := range g.cells(2) {
				if g.Kind[g.cellIndex(i, j, k)] >= 0 {
					visit(i, j, k)
				}
			}
		}
	}
}
