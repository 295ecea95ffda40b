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
// From the top down, each file calling into those after it:
//
//	question  check.go problem.go loads.go result.go carried.go moved.go
//	one run   body.go run.go setup.go conclude.go spare.go
//	stress    strength.go nolimit.go submodel.go peaks.go shape.go stress.go
//	one case  solvecase.go solution.go loadcase.go frequency.go reaction.go balance.go
//	          limit.go measure.go
//	grids     kept.go memory.go system.go choose.go
//	places    pose.go load.go progress.go place.go locate.go align.go frame.go
//
// Below them stand rooms of their own, each using those after it: internal/region (what
// is held and loaded on a grid), internal/multigrid (the equations and how they are
// solved), internal/grid (the surface in bricks, and the material in each) and
// internal/brick (the element).
//
// Places, frames and stresses stay here. A room of places would have to export 35 names,
// ten of them to be repeated here, for Place is part of the question; frames bring
// located places in and stand between both; stresses are asked of a system with its
// solutions, which is what one run is about.
package solid
