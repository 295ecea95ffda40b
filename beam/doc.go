// Package beam bends beams: a simple section of one length, or a part whose
// sections along a straight axis make one.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	question   part.go panel.go breaks.go result.go
//	answer     answer.go
//	under load loads.go stress.go concentration.go field.go modes.go curve.go
//	its error  doubt.go held.go
//	a beam?    criteria.go overlap.go
//	equations  give.go torsion.go problem.go frame.go band.go element.go
//	sections   diffusion.go profile.go hull.go
//	set-up     setup.go support.go axes.go
package beam
