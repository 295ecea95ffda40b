// Package materials holds the material table with the source of every value, the tables
// that a person adds to it, and how a material is found by what people call it.
//
// A value that differs between sources, or between the members of a family, is a Range.
// Stresses and moduli are MPa, densities kg/m3.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	table     find.go table.go file.go located.go
//	material  row.go rowlasting.go material.go lasting.go
//	range     range.go
package materials
