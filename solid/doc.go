// Package solid computes the stiffness, stress and natural frequencies of a
// part from its closed surface mesh, in three dimensions and without any
// meshing by a person.
//
// The part is laid into a grid of bricks whose lines follow its flat faces;
// cells that other surfaces cut are integrated over the material in them. The
// bricks bend without locking, the equations are solved by conjugate gradients
// with a multigrid preconditioner, and three grids, each half as coarse as the
// one before, give an extrapolated stiffness and an estimate of its error.
//
// Lengths are mm, forces N, stresses MPa, masses g.
//
// # Reading order
//
// From the top down, each file using those after it:
//
//	question   problem.go loads.go loadcase.go place.go result.go check.go
//	one run    body.go setup.go choose.go memory.go conclude.go
//	frame      frame.go align.go moved.go
//	places     load.go reaction.go
//	equations  system.go solution.go
//	stress     strength.go submodel.go stress.go nolimit.go
//	besides    frequency.go spare.go carried.go shape.go
//
// Below them stand rooms of their own, each using those after it: internal/region (what
// is held and loaded on a grid), internal/multigrid (the equations and how they are
// solved), internal/grid (the surface in bricks, and the material in each) and
// internal/brick (the element).
package solid
