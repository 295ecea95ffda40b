// Package quantity reads and writes physical quantities as people type them:
// "65g", "0.14 lb", "20 N", "0.25in", "1200 kg mm2". A bare number is in the
// unit the rest of the program computes with: mm, g, N, MPa, kg/m3, kg mm2, h.
//
// Every type implements encoding.TextUnmarshaler, for files, and the value
// interface of command-line flag libraries (Set, String, Type).
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	typed    weight.go vector.go span.go point.go moment.go scalar.go
//	written  rewrite.go system.go rounding.go
//	units    dimension.go
package quantity
