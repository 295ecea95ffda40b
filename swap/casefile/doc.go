// Package casefile reads the TOML file that holds a whole comparison: the two
// parts, the machine, the load, the criteria and the cost. The command line
// fills the same structure from flags and lays it over the file.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	files   pair.go kept.go file.go template.go encode.go
//	case    over.go case.go making.go joint.go loadcase.go demands.go bar.go
//	typed   entries.go words.go typed.go
package casefile
