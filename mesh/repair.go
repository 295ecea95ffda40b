package mesh

import "gonum.org/v1/gonum/spatial/r3"

// Repair is one thing that was changed about a mesh, and by how much.
type Repair struct {
	What           string
	At             r3.Vec  // a place of the change, mm
	AddedAreaMM2   float64 // negative when area was taken away
	AddedVolumeMM3 float64 // negative when volume was taken away
}
