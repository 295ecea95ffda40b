package grid

// Surface is a closed triangle mesh in the grid's own axes.
type Surface struct {
	Points [][3]float64
	Faces  [][3]int32
	Low    [3]float64 // the box
	High   [3]float64
	Tol    float64 // coordinates closer than this are one: the file's rounding
}

// NewSurface returns the surface of a mesh.
func NewSurface(points [][3]float64, faces [][3]int32, tol float64) *Surface {
	s := &Surface{Points: points, Faces: faces, Tol: tol, Low: points[0], High: points[0]}
	for _, p := range points {
		for a := range 3 {
			s.Low[a], s.High[a] = min(s.Low[a], p[a]), max(s.High[a], p[a])
		}
	}
	return s
}

// OverBox returns the part's surface with the box as its own, and of its faces those
// that rays through the box meet.
func (s *Surface) OverBox(box [2][3]float64) *Surface {
	return &Surface{Points: s.Points, Low: box[0], High: box[1], Tol: s.Tol, Faces: s.reaching(box, 2)}
}

// Inside returns the surface with those of its faces that reach into the box.
func (s *Surface) Inside(box [2][3]float64) *Surface {
	return &Surface{Points: s.Points, Low: s.Low, High: s.High, Tol: s.Tol, Faces: s.reaching(box, 3)}
}

// reaching returns the faces whose own boxes meet a box along the first axes.
func (s *Surface) reaching(box [2][3]float64, axes int) (faces [][3]int32) {
	for _, f := range s.Faces {
		reaches := true
		for a := range axes {
			lo, hi := s.Points[f[0]][a], s.Points[f[0]][a]
			for _, v := range f[1:] {
				lo, hi = min(lo, s.Points[v][a]), max(hi, s.Points[v][a])
			}
			reaches = reaches && lo <= box[1][a] && hi >= box[0][a]
		}
		if reaches {
			faces = append(faces, f)
		}
	}
	return faces
}
