// Package mill estimates what a redesign takes to make on a mill of one's own:
// the blank, the time of every operation, set-ups, failed attempts, and money.
//
// The estimate is meant to be checked by hand: every time is a length over a
// feed, or a volume over a removal rate, with the numbers of an editable profile.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	cost      less.go estimate.go work.go operations.go
//	millable  millable.go walls.go hidden.go floors.go corners.go checker.go
//	profile   profile.go
package mill
