// Package page serves the comparison on a local web page, for those who would
// rather drag than type: two STL files in, the table and the figures of the
// design note out, from the same code as the command line.
//
// It is meant for the loopback address alone. Uploads go to a temporary folder
// that is removed with the answer; answers are kept in memory, the last few
// only; the page asks for nothing outside itself.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	server   server.go hosts.go part.go match.go compare.go steps.go view.go casefile.go
//	form     upload.go answer.go
//	picture  drawn.go place.go packet.go
//	words    words.go field.go sent.go shelf.go
package page
