package feature

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
	"swapworth/mesh"
)

// surface is a mesh with what recognition needs of every face.
type surface struct {
	*mesh.Mesh
	normal    []r3.Vec   // unit, zero for a face without area
	area      []float64  // mm2
	sliver    []bool     // so thin (see sliverNoises) that rounding may have turned it
	neighbour [][3]int32 // face across the edge from corner k to corner k+1, -1 for none
	plane     []int32    // planar patch of a face
	planes    []Patch
	vertices  marks
	members   marks   // of faces: the set that is being measured
	reached   marks   // of faces: what a flood has looked at
	noise     float64 // mm, how far rounding to float32 may move a corner
	size      float64 // mm, diagonal of the box
}

func newSurface(m *mesh.Mesh) *surface {
	s := &surface{
		Mesh:     m,
		normal:   make([]r3.Vec, len(m.Faces)),
		area:     make([]float64, len(m.Faces)),
		vertices: newMarks(len(m.Vertices)),
		members:  newMarks(len(m.Faces)),
		reached:  newMarks(len(m.Faces)),
	}
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
		if twice := vector.Length(n); twice > 0 {
			s.normal[f] = r3.Scale(1/twice, n)
			s.area[f] = twice / 2
		}
	}
	s.neighbour = neighbours(m)
	b := m.Bounds()
	s.size = vector.Length(b.Size())
	far := 0.0
	for _, v := range []r3.Vec{b.Min, b.Max} {
		far = max(far, math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
	}
	s.noise = far * 0x1p-23
	s.sliver = make([]bool, len(m.Faces))
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		longest := max(r3.Norm2(r3.Sub(b, a)), r3.Norm2(r3.Sub(c, b)), r3.Norm2(r3.Sub(a, c)))
		s.sliver[f] = 2*s.area[f] < sliverNoises*s.noise*math.Sqrt(longest)
	}
	return s
}

// sliverNoises is how many roundings high a face must be for its normal to be trusted
// to half a degree (flatTurn): 1/200 rad is 0.3 degrees.
const sliverNoises = 200

// neighbours finds the face across every edge. An edge that is not used exactly
// once in each direction has none.
func neighbours(m *mesh.Mesh) [][3]int32 {
	out := make([][3]int32, len(m.Faces))
	for h, o := range mesh.Neighbours(m) {
		if o >= 0 {
			o /= 3
		}
		out[h/3][h%3] = o
	}
	return out
}

// marks is a set of small numbers that is emptied in no time.
type marks struct {
	at  []int32
	now int32
}

func newMarks(n int) marks { return marks{at: make([]int32, n)} }

func (m *marks) clear()           { m.now++ }
func (m *marks) has(i int32) bool { return m.at[i] == m.now }

// add reports whether i is new in the set.
func (m *marks) add(i int32) bool {
	if m.at[i] == m.now {
		return false
	}
	m.at[i] = m.now
	return true
}

// turn returns the angle in degrees between the normals of two faces.
func (s *surface) turn(f, g int32) float64 {
	c := r3.Cross(s.normal[f], s.normal[g])
	return vector.Degrees(math.Atan2(vector.Length(c), r3.Dot(s.normal[f], s.normal[g])))
}

// corners returns the distinct vertices of the faces, in the order in which the
// faces name them.
func (s *surface) corners(faces []int32) []r3.Vec {
	s.vertices.clear()
	points := make([]r3.Vec, 0, len(faces))
	for _, f := range faces {
		for _, id := range s.Mesh.Faces[f] {
			if s.vertices.add(id) {
				points = append(points, s.Vertices[id])
			}
		}
	}
	return points
}

// outerCorners returns the vertices at which three planar patches meet, some of
// them outside of inward rounds.
func (s *surface) outerCorners(rounds []Round) []r3.Vec {
	inward := make([]bool, len(s.Mesh.Faces))
	for _, r := range rounds {
		for _, f := range r.Faces {
			inward[f] = r.Concave
		}
	}
	type meeting struct {
		planes  [2]int32 // the first two seen, 1 up; 0 for none
		three   bool
		outward bool
	}
	at := make([]meeting, len(s.Vertices))
	for f, v := range s.Mesh.Faces {
		plane := s.plane[f] + 1
		for _, id := range v {
			m := &at[id]
			m.outward = m.outward || !inward[f]
			switch {
			case m.planes[0] == 0:
				m.planes[0] = plane
			case m.planes[0] == plane || m.planes[1] == plane:
			case m.planes[1] == 0:
				m.planes[1] = plane
			default:
				m.three = true
			}
		}
	}
	var out []r3.Vec
	for id, m := range at {
		if m.three && m.outward {
			out = append(out, s.Vertices[id])
		}
	}
	return out
}
