// Package grid lays the surface of a part into a grid of bricks and measures the
// material in each.
//
// A Grid has the planes that bound its bricks along each axis; Fit lets them follow the
// flat faces of a surface, the edges of places and the walls of slots (FindGaps). Fill
// casts rays along axis 2 and measures what of each brick lies inside the surface; cells
// with the same edges and the same moments share a Kind. Where a gap is narrower than
// the cells and no plane follows it, Opened empties cells, so that it is not bridged.
//
// Axis 0 runs along the longest side of the part's box and axis 2 along the shortest.
// Cell (i, j, k) is [Lines[0][i], Lines[0][i+1]] x ...; node (i, j, k) is where planes
// i, j, k meet. Lengths are mm, areas mm2, volumes mm3.
//
// # Reading order
//
//	grid      fit.go stretch.go
//	cells     cells.go open.go integrate.go near.go size.go bodies.go kind.go
//	rays      gap.go rays.go
//	lines     knife.go grid.go
//	surface   edges.go surface.go triangle.go
package grid
