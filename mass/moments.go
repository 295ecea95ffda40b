package mass

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/parallel"
	"swapworth/mesh"
)

// Properties are the integrals over the solid that a closed mesh bounds, for
// density 1. Those of a mesh that is not closed mean nothing.
type Properties struct {
	Volume   float64       // mm3
	Area     float64       // mm2
	Centroid r3.Vec        // mm
	Inertia  [3][3]float64 // mm5, about the centroid; off-diagonals -integral of xy dV

	// Faceting is the estimated (exact - mesh)/mesh of the volume, where exact is
	// the part with the rounds that the flat faces stand for. Segments is the sum
	// of the absolute volumes between those rounds and their faces, in mm3: what
	// the estimate is made of before rounds and holes cancel.
	Faceting float64
	Segments float64

	// Shared is the volume, in mm3, that shells share and that Union has taken out
	// of Volume, negative where a cavity reaches out of its body; SharedError is how
	// far it may be off.
	Shared, SharedError float64

	// Less is how much less the volume may be, in mm3, because a shell in another may
	// be a cavity; Rounding how far it may be off both ways because the file's
	// coordinates are rounded.
	Less, Rounding float64

	rounds []lump // what Faceting is made of, about the point about
	about  r3.Vec
}

// Union returns the properties with what several shells share counted once, as
// the report of the mesh has found it. The area stays that of all shells.
func (p Properties) Union(r mesh.Report) Properties {
	twice := r.Twice
	p.Less, p.Rounding = r.LessMM3, r.RoundingMM3
	p.SharedError = r.TwiceErrorMM3
	if twice.Volume == 0 || !(twice.Volume < p.Volume) {
		return p
	}
	// The second moments about the centroid of all shells, less those of what is
	// there too often: both about the same point by the parallel axis theorem.
	at := r3.Sub(p.Centroid, twice.About)
	f, v := twice.First, twice.Volume
	second := [6]float64{
		2*at.X*f.X - v*at.X*at.X, 2*at.Y*f.Y - v*at.Y*at.Y, 2*at.Z*f.Z - v*at.Z*at.Z,
		at.X*f.Y + at.Y*f.X - v*at.X*at.Y, at.Y*f.Z + at.Z*f.Y - v*at.Y*at.Z, at.Z*f.X + at.X*f.Z - v*at.Z*at.X,
	}
	half := (p.Inertia[0][0] + p.Inertia[1][1] + p.Inertia[2][2]) / 2
	for i, all := range [6]float64{
		half - p.Inertia[0][0], half - p.Inertia[1][1], half - p.Inertia[2][2],
		-p.Inertia[0][1], -p.Inertia[1][2], -p.Inertia[2][0],
	} {
		second[i] += all - twice.Second[i]
	}
	bias := p.Faceting * p.Volume
	p.Volume -= v
	p.Shared = v
	p.Faceting = bias / p.Volume
	shift := r3.Scale(1/p.Volume, r3.Sub(r3.Scale(v, at), f))
	p.Centroid = r3.Add(p.Centroid, shift)
	p.Inertia = aboutCentroid(second, p.Volume, [3]float64{shift.X, shift.Y, shift.Z})
	return p
}

// Of measures a closed mesh. It splits the solid into the tetrahedra that the
// middle of the box makes with every face: a tetrahedron with the corners 0, a,
// b, c of signed volume v = a.(b x c)/6 and s = a + b + c has
//
//	integral of x    = v s / 4
//	integral of x x' = v (a a' + b b' + c c' + s s') / 20
//
// (exact for polynomials of degree 2; A. Stroud, Approximate Calculation of
// Multiple Integrals, 1971, T3: 2-1, from memory). The signed volumes and all
// sums carry about twice the digits of a float64, and the work is cut into
// pieces that do not depend on the number of cores, so the result does not
// either.
func Of(m *mesh.Mesh) Properties {
	if len(m.Faces) == 0 {
		return Properties{}
	}
	var bias, segments float64
	var rounds []lump
	var p Properties
	about := reference(m)
	parallel.Both(
		func() { bias, segments, rounds = faceting(m, about) },
		func() { p = integrals(m) })
	p.Segments, p.rounds, p.about = segments, rounds, about
	if p.Volume != 0 {
		p.Faceting = bias / p.Volume
	}
	return p
}

// integrals sums the moments of all faces.
func integrals(m *mesh.Mesh) Properties {
	o := reference(m)
	parts := make([]moments, (len(m.Faces)+chunkSize-1)/chunkSize)
	parallel.Chunks(len(m.Faces), chunkSize, func(chunk, from, to int) {
		for f := from; f < to; f++ {
			a, b, c := m.Triangle(f)
			parts[chunk].add(sub(a, o), sub(b, o), sub(c, o))
		}
	})
	var sum moments
	for i := range parts {
		sum.merge(&parts[i])
	}
	return sum.properties(o)
}

// reference returns the middle of the box rounded to a float32, so that its
// differences from the coordinates of an STL file are exact.
func reference(m *mesh.Mesh) r3.Vec {
	c := m.Bounds().Center()
	return r3.Vec{X: float64(float32(c.X)), Y: float64(float32(c.Y)), Z: float64(float32(c.Z))}
}

// moments are the integrals of 1, x and x x' times constants, about the
// reference point.
type moments struct {
	volume sum    // 6 x volume
	first  [3]sum // 24 x integral of x, y, z
	second [6]sum // 120 x integral of xx, yy, zz, xy, yz, zx
	area   sum    // 2 x area
}

// add takes in the tetrahedron of one face.
func (m *moments) add(a, b, c r3.Vec) {
	n := cross(sub(b, a), sub(c, a))
	d, low := n.dot(a)
	m.volume.addParts(d, low)
	d += low
	s := r3.Vec{X: a.X + b.X + c.X, Y: a.Y + b.Y + c.Y, Z: a.Z + b.Z + c.Z}
	m.first[0].add(d * s.X)
	m.first[1].add(d * s.Y)
	m.first[2].add(d * s.Z)
	m.second[0].add(d * (a.X*a.X + b.X*b.X + c.X*c.X + s.X*s.X))
	m.second[1].add(d * (a.Y*a.Y + b.Y*b.Y + c.Y*c.Y + s.Y*s.Y))
	m.second[2].add(d * (a.Z*a.Z + b.Z*b.Z + c.Z*c.Z + s.Z*s.Z))
	m.second[3].add(d * (a.X*a.Y + b.X*b.Y + c.X*c.Y + s.X*s.Y))
	m.second[4].add(d * (a.Y*a.Z + b.Y*b.Z + c.Y*c.Z + s.Y*s.Z))
	m.second[5].add(d * (a.Z*a.X + b.Z*b.X + c.Z*c.X + s.Z*s.X))
	m.area.add(math.Sqrt(n.x.high*n.x.high + n.y.high*n.y.high + n.z.high*n.z.high))
}

func (m *moments) merge(o *moments) {
	m.volume.merge(o.volume)
	m.area.merge(o.area)
	for i := range m.first {
		m.first[i].merge(o.first[i])
	}
	for i := range m.second {
		m.second[i].merge(o.second[i])
	}
}

// properties shifts the moments from the reference point o to the centroid, by
// the parallel axis theorem.
func (m *moments) properties(o r3.Vec) Properties {
	v := m.volume.value() / 6
	if v == 0 {
		return Properties{Area: m.area.value() / 2}
	}
	c := [3]float64{m.first[0].value() / 24 / v, m.first[1].value() / 24 / v, m.first[2].value() / 24 / v}
	var second [6]float64
	for k := range second {
		second[k] = m.second[k].value() / 120
	}
	return Properties{
		Volume:   v,
		Area:     m.area.value() / 2,
		Centroid: r3.Add(o, r3.Vec{X: c[0], Y: c[1], Z: c[2]}),
		Inertia:  aboutCentroid(second, v, c),
	}
}
