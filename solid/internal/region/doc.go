// Package region lays the places of a part into a grid of bricks: what is held there as
// nodes and springs, what loads them as nodal forces.
//
// A Region is a piece of the part's surface or all material in a box, in the axes of the
// grid. Where a method takes cells and a surface, the cells are those of a grid over that
// surface. Lengths are mm, forces N, moments N mm, pressures MPa.
//
// # Reading order
//
//	held    holding.go
//	loaded  traction.go
//	place   region.go
package region
