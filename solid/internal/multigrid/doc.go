// Package multigrid solves the equations of a grid of elastic bricks,
//
//	K u = f,
//
// for displacements u (mm) under forces f (N), and finds its lowest natural
// frequencies. What it needs to know of the grid it is given as values: where the
// planes of the grid stand, which bricks are there, how stiff each kind of brick is,
// what springs add and what is held (Grid).
//
// The equations are solved by conjugate gradients. The preconditioner is smoothed
// aggregation (Vaněk, Mandel and Brezina, Algebraic multigrid by smoothed aggregation,
// Computing 56, 1996): nodes are gathered into small blocks that move as rigid bodies,
// which is the part of a displacement that costs no energy, and one Jacobi step smooths
// these motions. Rotations on the coarse grids let thin plates bend there, where coarse
// bricks would lock. The coarse matrices are Galerkin products.
//
// A result is the same to the last digit on any number of cores.
//
// # Reading order
//
//	question    system.go frequency.go
//	coarsening  coarsen.go galerkin.go prolong.go
//	cycle       level.go patch.go band.go
//	matrix      finest.go nodes.go operator.go stencil_amd64.go stencil_other.go rows.go
//	numbers     grid.go block.go vectors.go
package multigrid
