// Package asmade works out, on the mesh itself, how a part really comes off the
// mill: not faced, with stock left in pockets, without its chamfers, over or
// under size, or with its two sides out of register.
//
// Each variant is a new mesh of the same faces, some of them moved. Planar faces
// and round walls move exactly; where anything else moves, the variant states
// how far its volume may be off. All lengths are mm.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	variants  unfaced.go stock.go chamfer.go register.go tolerance.go
//	moving    offset.go settle.go
//	part      asmade.go pocket.go nearest.go lay.go part.go
package asmade
