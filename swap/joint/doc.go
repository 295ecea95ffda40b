// Package joint judges whether a bolted part holds: the thread in a softer
// metal, the hole against its edge, the seat under the head, and loads that
// repeat.
//
// Every function is a published machine-design formula; its doc comment names
// the source. Lengths are mm, forces N, stresses MPa. A factor is capacity over
// load: below 1 it fails by the formula. Shigley is Shigley's Mechanical Engineering
// Design, 9th edition, unless another is named.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	joint  hold.go joint.go
//	checks seat.go pullout.go bearing.go edge.go fatigue.go
//	screw  thread.go
package joint
