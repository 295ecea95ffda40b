// Package note lays out what each question is answered with: which words, tables and
// figures, in which order. Package note/render writes such a document as text, Markdown,
// CSV, JSON, HTML or PDF; note/figure draws the figures.
//
// A file holds the document of one command. That of a comparison is the long one: the
// short answer and the whole note share the lead and the tables below it.
//
// # Reading order
//
// From the top down, each file calling into those after it:
//
//	documents   mesh.go mass.go identify.go materials.go section.go beam.go solid.go
//	            fit.go vary.go rank.go together.go
//	comparison  compare.go front.go short.go comparelead.go spare.go
//	its tables  comparecriteria.go compareinputs.go comparemaking.go comparebolts.go
//	            remembered.go lasting.go
//	its figures comparefigures.go
//	rows        comparerows.go comparemilling.go
//	words       said.go number.go words.go
package note
