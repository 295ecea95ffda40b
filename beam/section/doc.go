// Package section computes the properties of cross sections.
//
// A section is a plane region with holes, cut from a mesh or named by its trade
// dimensions. Of integrates its area and moments exactly over the polygon;
// Torsion solves Saint-Venant's problem on it for the torsion constant, the
// shear areas, the shear centre and the warping constant.
//
// The two axes of a section are called first and second. In a cut at right
// angles to a coordinate axis they follow cyclically: (y, z) in an x-cut, (z, x)
// in a y-cut, (x, y) in a z-cut. In a named section the first axis points to
// the right and the second up. Lengths are in mm, moments of area in mm4.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	report    report.go
//	shape     tee.go round.go rectangle.go ibeam.go hexagon.go channel.go angle.go
//	          recttube.go openprofile.go shape.go parse.go rolled.go drawn.go
//	torsion   torsion.go shear.go simplify.go
//	numbers   path.go properties.go series.go
package section
