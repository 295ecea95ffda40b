package feature

import (
	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// Kind says how a hole is made.
type Kind string

// The kinds of hole.
const (
	Through     Kind = "through"     // one diameter, open at both ends
	Blind       Kind = "blind"       // one diameter, closed at one end
	Counterbore Kind = "counterbore" // a wider cylinder at the mouth
	Countersink Kind = "countersink" // a cone at the mouth, at least 1.4 times as wide
)

// Hole is a round hole in a part.
//
// Diameter is the drawn diameter: corners of a tessellated bore lie on the drawn
// circle and its chords inside, so the circle is fitted to corners. In a stepped
// hole it is the smallest step's. Depth is the length of the whole hole along its
// axis, heads and chamfers included and the point of the drill left out. Centre
// is the point of the axis halfway between the two ends of Depth.
//
// Axis is a unit vector. It points out of the mouth: the open end of a blind
// hole, the wide end of a counterbore or countersink. In a plain through hole
// the larger component (the first among equals) is positive.
type Hole struct {
	Number   int // 1 for the first hole of Holes
	Kind     Kind
	Open     bool // open at both ends, whatever the kind
	Axis     r3.Vec
	Centre   r3.Vec
	Diameter float64
	Depth    float64

	// The head: the cylinder of a counterbore, the cone of a countersink.
	// HeadAngle is the full angle of the cone. All zero without a head.
	HeadDiameter, HeadDepth, HeadAngle float64

	// Chamfer is the widest edge break at an end, measured along the radius;
	// zero with sharp edges. The cone of a countersink is no chamfer.
	Chamfer float64

	// Faces lists the mesh faces of the narrowest bore's wall, ascending.
	Faces []int32
}

// Mouth returns the point of the axis at the end that Axis points to.
func (h Hole) Mouth() r3.Vec { return r3.Add(h.Centre, r3.Scale(h.Depth/2, h.Axis)) }

// Bottom returns the point of the axis at the other end.
func (h Hole) Bottom() r3.Vec { return r3.Sub(h.Centre, r3.Scale(h.Depth/2, h.Axis)) }

// Holes finds the round holes of a part. Numbers follow the centres: by x, then
// y, then z. Of each coordinate the values of all centres are sorted, and
// neighbours nearer than 0.1 mm count as one. Numbers depend on where the holes
// lie and on nothing else, neither the order nor the shape of triangles;
// NumberingDoubt tells where a gap comes near that limit.
func Holes(m *mesh.Mesh) []Hole { return Find(m).Holes }

// PlanarFaces finds the flat faces of a part, largest first. The chords of round
// walls are left out.
func PlanarFaces(m *mesh.Mesh) []Face { return Find(m).Faces }

// Features is everything that Find recognises in a part.
//
// Corners are the points where three or more flat patches meet, chords of rounds
// included, but not those within the wall of a hole: every corner of the convex
// hull is among them.
type Features struct {
	Holes   []Hole
	Rounds  []Round
	Faces   []Face
	Corners []r3.Vec
	Skin    Skin
}

// Skin tells for every mesh face where it belongs and what is next to it.
type Skin struct {
	Neighbour [][3]int32 // face across the edge from corner k to corner k+1, -1 for none
	Patch     []int32    // index into Patches
	Patches   []Patch
	Round     []int32 // index into Rounds, -1 for a face on none
}

// Rims returns the outer round walls that go (all but) fully round, as of discs
// and turned ends, in the order in which holes are numbered: by where the middle
// of their axis lies.
func (f *Features) Rims() []Round {
	var rims []Round
	var centres []r3.Vec
	for _, r := range f.Rounds {
		if !r.Concave && r.ArcDeg >= FullArc {
			rims = append(rims, r)
			centres = append(centres, r.Centre)
		}
	}
	return inOrder(rims, byPlace(centres, oneCoordinate))
}

// Find recognises holes, round walls and planar faces in one pass.
func Find(m *mesh.Mesh) Features {
	s := newSurface(m)
	s.growPlanes()
	rounds := s.growRounds()
	return Features{
		Holes:   s.holes(rounds),
		Rounds:  rounds,
		Faces:   s.faces(rounds),
		Corners: s.outerCorners(rounds),
		Skin:    Skin{s.neighbour, s.plane, s.planes, s.roundOf(rounds)},
	}
}
