package feature

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
	"swapworth/mesh"
)

// Face is a connected planar face of a part.
type Face struct {
	Number   int     // 1 for the largest
	Normal   r3.Vec  // unit, out of the material
	Centroid r3.Vec  // of the area, mm
	Area     float64 // mm2
	Box      mesh.Box
	Faces    []int32 // mesh faces, ascending
}

// Offset returns the distance of the face's plane from the origin, along its
// normal.
func (f Face) Offset() float64 { return r3.Dot(f.Normal, f.Centroid) }

// Patch is a set of connected mesh faces in one plane; a chord of a round is one
// too.
type Patch struct {
	Faces  []int32 // ascending
	Normal r3.Vec  // unit, out of the material; zero without area
	Area   float64 // mm2
}

const (
	// flatTurn is the angle in degrees that faces of one plane turn less than: chords of
	// a round of 720 chords would pass for one.
	flatTurn = 0.5
	// flatDistance is how near to a plane its corners lie, mm: what a kernel's own
	// tolerance leaves; wider, and the first chords of a fine round are taken for flat.
	flatDistance = 1e-3
	// noises is how many roundings of the file corners may lie off a plane or a wall
	// instead, of parts so far from the origin that these are larger: each of three
	// corners that fix a plane is off, and a far corner by several times that.
	noises = 16
)

// growPlanes assigns every face to a planar patch, largest faces first so that
// the plane a patch starts from is a good one.
func (s *surface) growPlanes() {
	s.plane = make([]int32, len(s.Mesh.Faces))
	order := make([]int32, len(s.Mesh.Faces))
	for f := range order {
		order[f] = int32(f)
		s.plane[f] = -1
	}
	slices.SortFunc(order, func(a, b int32) int {
		if s.area[a] != s.area[b] {
			return cmp.Compare(s.area[b], s.area[a])
		}
		return int(a - b)
	})
	room := make([]int32, 0, len(order)) // every face is in one patch
	for _, f := range order {
		if s.plane[f] < 0 {
			p := s.growPlane(f, int32(len(s.planes)), room)
			s.planes = append(s.planes, p)
			room = room[len(p.Faces):len(p.Faces)]
		}
	}
}

// growPlane floods from a face over all connected faces whose corners lie in
// its plane. The plane is refitted each time the patch has doubled. The patch's
// faces are put into the room given.
func (s *surface) growPlane(seed, id int32, room []int32) Patch {
	p := Patch{Normal: s.normal[seed]}
	within := max(flatDistance, noises*s.noise)
	sum := r3.Scale(s.area[seed], p.Normal)
	a, b, c := s.Triangle(int(seed))
	origin := r3.Scale(1./3, r3.Add(a, r3.Add(b, c)))
	s.plane[seed] = id
	faces := append(room, seed)
	refit := 1
	for i := 0; i < len(faces); i++ {
		f := faces[i]
		p.Area += s.area[f]
		if i+1 == refit {
			refit *= 2
			if n := vector.Length(sum); n > 0 {
				p.Normal = r3.Scale(1/n, sum)
			}
			origin = s.centroid(faces[:i+1])
		}
		for _, g := range s.neighbour[f] {
			if g < 0 || s.plane[g] >= 0 || !s.inPlane(g, origin, p.Normal, within) {
				continue
			}
			s.plane[g] = id
			sum = r3.Add(sum, r3.Scale(s.area[g], s.normal[g]))
			faces = append(faces, g)
		}
	}
	if n := vector.Length(sum); n > 0 {
		p.Normal = r3.Scale(1/n, sum)
	}
	p.Faces = slices.Clip(faces)
	slices.Sort(p.Faces)
	return p
}

func (s *surface) inPlane(f int32, origin, normal r3.Vec, within float64) bool {
	if r3.Dot(s.normal[f], normal) < math.Cos(flatTurn*math.Pi/180) && !s.sliver[f] {
		return false
	}
	a, b, c := s.Triangle(int(f))
	for _, v := range [3]r3.Vec{a, b, c} {
		if math.Abs(r3.Dot(normal, r3.Sub(v, origin))) > within {
			return false
		}
	}
	return true
}

// centroid returns the centre of area of the faces, or the mean corner where
// they have no area.
func (s *surface) centroid(faces []int32) r3.Vec {
	var sum, mean r3.Vec
	area := 0.0
	for _, f := range faces {
		a, b, c := s.Triangle(int(f))
		mid := r3.Scale(1./3, r3.Add(a, r3.Add(b, c)))
		mean = r3.Add(mean, mid)
		sum = r3.Add(sum, r3.Scale(s.area[f], mid))
		area += s.area[f]
	}
	if area == 0 {
		return r3.Scale(1/float64(len(faces)), mean)
	}
	return r3.Scale(1/area, sum)
}

// faces lists the planar patches that are no chords of a round wall.
func (s *surface) faces(rounds []Round) []Face {
	round := make([]bool, len(s.Mesh.Faces))
	for _, r := range rounds {
		for _, f := range r.Faces {
			round[f] = true
		}
	}
	var out []Face
	for _, p := range s.planes {
		curved := 0.0
		for _, f := range p.Faces {
			if round[f] {
				curved += s.area[f]
			}
		}
		if p.Area == 0 || curved > p.Area/2 {
			continue
		}
		out = append(out, Face{
			Normal: p.Normal, Centroid: s.centroid(p.Faces), Area: p.Area,
			Box: s.box(p.Faces), Faces: p.Faces,
		})
	}
	out = inOrder(out, byArea(out))
	for i := range out {
		out[i].Number = i + 1
	}
	return out
}

func (s *surface) box(faces []int32) mesh.Box {
	sub := mesh.Mesh{Vertices: s.corners(faces)}
	return sub.Bounds()
}

// oneArea is the difference over the sum of two areas below which they count as
// one: the rounding of sides to float32, some 1e-7 each.
const oneArea = 1e-6

// byArea returns the order of faces from the largest to the smallest; those of
// one area stand by their centroids.
func byArea(faces []Face) []int {
	var areas []float64
	var centroids []r3.Vec
	for _, f := range faces {
		areas = append(areas, -f.Area)
		centroids = append(centroids, f.Centroid)
	}
	size := clusters(areas, func(a, b float64) bool { return b-a <= oneArea*-(a+b) })
	order := byPlace(centroids, oneCoordinate)
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(size[i], size[j]) })
	return order
}

// leastDirection returns the eigenvector of the smallest eigenvalue of a
// symmetric matrix given by its upper triangle xx, xy, xz, yy, yz, zz, and that
// eigenvalue over the middle one; 1 when there is no answer.
func leastDirection(m [6]float64) (axis r3.Vec, ratio float64) {
	var eig mat.EigenSym
	if !eig.Factorize(mat.NewSymDense(3, []float64{
		m[0], m[1], m[2],
		m[1], m[3], m[4],
		m[2], m[4], m[5]}), true) {
		return r3.Vec{}, 1
	}
	values := eig.Values(nil)
	if !(values[1] > 0) {
		return r3.Vec{}, 1
	}
	var v mat.Dense
	eig.VectorsTo(&v)
	return r3.Vec{X: v.At(0, 0), Y: v.At(1, 0), Z: v.At(2, 0)}, values[0] / values[1]
}
