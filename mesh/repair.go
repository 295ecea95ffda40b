package mesh

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Repairer mends a mesh that was read. Both of its steps return the mesh as it is
// where there is nothing for them to do.
type Repairer interface {
	// Mend sets faces right and closes gaps, before shells that are inside out are
	// turned.
	Mend(m *Mesh) (*Mesh, []Repair)
	// Unite joins closed shells that share space.
	Unite(m *Mesh) (*Mesh, []Repair)
}

// Repair is one thing that was changed about a mesh, and by how much.
type Repair struct {
	What           string
	At             r3.Vec  // a place of the change, mm
	AddedAreaMM2   float64 // negative when area was taken away
	AddedVolumeMM3 float64 // negative when volume was taken away
	// LessMM3 and MoreMM3 are what a hole or pocket that is missing here may have
	// held, and what a boss may have.
	LessMM3, MoreMM3 float64
	// Earlier: it was done before the file was written, whose header says so. At is
	// not known then.
	Earlier bool
}

// Doubt returns how much less and how much more the true volume may be than that
// of the repaired mesh, both in mm3 and not negative.
func (r Repair) Doubt() (less, more float64) {
	added := math.Abs(r.AddedVolumeMM3)
	return added + r.LessMM3, added + r.MoreMM3
}
