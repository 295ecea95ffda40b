// Package render writes documents: the table a person reads in a terminal, and the
// design note in every output format, with its figures.
//
// A result becomes a Document once; every format is one renderer of it. JSON is
// the exception: it is the result itself.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	figures   figurefiles.go
//	paper     pdf.go pdffront.go pdfblocks.go pdftable.go pdfpage.go pdfcanvas.go
//	web       html.go paste.go markdown.go ink.go
//	writing   write.go text.go layout.go csv.go json.go
//	document  units.go format.go csvcells.go document.go origin.go clean.go
package render
