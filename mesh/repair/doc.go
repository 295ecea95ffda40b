// Package repair mends meshes that bound no solid and says what it added.
//
// Mend sets faces right and closes gaps that are planar or small; Union joins
// shells that share space. Faults is both, for mesh.Options. A change that could
// be meant otherwise carries how much less and more the true volume may be. What
// can be read in one way only is put right by package mesh without being asked.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	mending  mend.go split.go
//	uniting  unite.go unitetwo.go
//	gaps     gaps.go gapfill.go gapdoubt.go
//	faces    duplicate.go
package repair
