// Package fit says whether a redesigned part bolts on where the old one did:
// it brings both meshes into one frame, matches their holes and lists what
// moved, what was resized, what is missing, and what else the machine will
// notice. All lengths are mm.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	question   fit.go accept.go places.go
//	answer     notcompared.go mirror.go envelope.go
//	comparing  compare.go findings.go seats.go edges.go compareopenings.go
//	           comparespigots.go comparenotches.go probe.go finding.go
//	motion     align.go trial.go
//	shape      shape.go inside.go opening.go spigot.go notch.go flat.go outline.go
//	threads    thread.go inch.go pitch.go grade.go
//	words      motion.go words.go match.go body.go
package fit
