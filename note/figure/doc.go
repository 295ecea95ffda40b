// Package figure draws every picture of a note, on any canvas: curves and ranges, cross
// sections, and parts with what is marked, bent or stressed on them. A Figure carries the
// words that stand in for it.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	pages    svg.go theme.go figure.go pen.go
//	parts    views.go shaded.go deflected.go shown.go signs.go places.go section.go
//	charts   variants.go marks.go spreads.go curves.go ticks.go
//	lines    view.go shade.go depth.go chain.go eye.go
//	style    style.go
package figure
