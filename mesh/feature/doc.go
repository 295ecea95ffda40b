// Package feature recognises what a person with a drawing would point at in a
// triangle mesh: round holes, round walls and planar faces.
//
// It works on the surface alone. Triangles are grown into planar and round
// patches by where their corners lie, so it does not matter how a mesher split
// a wall or a face. A hole is a round wall that looks inwards and goes (all but)
// fully round; rounded pocket corners, bosses and outer rounds are not holes.
//
// All lengths are mm and all angles degrees.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	features  feature.go round.go planar.go hole.go order.go cone.go
//	rounds    roundsize.go onround.go
//	surface   askew.go surface.go axes.go fit.go
package feature
