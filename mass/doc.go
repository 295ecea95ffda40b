// Package mass measures what a closed mesh encloses - volume, centroid, inertia
// - and what that weighs: from a density, or the other way round from a scale.
//
// Lengths are mm, masses g, densities kg/m3. A part of volume V mm3 and density
// d kg/m3 has the mass V d 1e-6 g.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	weighing  weighed.go identification.go weighing.go observe.go identify.go
//	mass      report.go spread.go moments.go
//	facets    faceting.go rounds.go surface.go
//	numbers   lump.go exact.go
package mass
