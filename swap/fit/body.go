package fit

import (
	"math"

	"swapworth/mass"
	"swapworth/mesh"
	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// body is what alignment needs of a part.
type body struct {
	holes    []feature.Hole
	all      []r3.Vec // every corner of the convex hull, and more
	hull     []r3.Vec // the corners that stand out furthest in many directions
	centroid r3.Vec   // of the volume, mm
	axes     [3]r3.Vec
	moments  [3]float64 // about the axes, ascending
	box      mesh.Box   // in the axes of the file
	size     float64    // diagonal of the box, mm
}

func newBody(part Part) body {
	p := mass.Of(part.Mesh)
	b := body{
		holes: part.Features.Holes, all: part.Features.Corners,
		hull: outermost(part.Features.Corners), centroid: p.Centroid,
		box: part.Mesh.Bounds(),
	}
	b.size = r3.Norm(b.box.Size())
	b.axes, b.moments = principal(p.Inertia)
	return b
}

// principal returns the principal axes of an inertia tensor, right-handed, and
// their moments in ascending order.
func principal(t [3][3]float64) (axes [3]r3.Vec, moments [3]float64) {
	sym := mat.NewSymDense(3, nil)
	for i := range 3 {
		for j := i; j < 3; j++ {
			sym.SetSym(i, j, t[i][j])
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(sym, true) {
		return [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}, moments
	}
	var v mat.Dense
	eig.VectorsTo(&v)
	for k := range 3 {
		axes[k] = r3.Vec{X: v.At(0, k), Y: v.At(1, k), Z: v.At(2, k)}
	}
	axes[2] = r3.Cross(axes[0], axes[1])
	copy(moments[:], eig.Values(nil))
	return axes, moments
}

// directions are unit vectors spread over the sphere by the golden angle.
var directions = spread(97)

func spread(n int) []r3.Vec {
	out := make([]r3.Vec, n)
	golden := math.Pi * (3 - math.Sqrt(5))
	for k := range out {
		z := 1 - (2*float64(k)+1)/float64(n)
		s, c := math.Sincos(golden * float64(k))
		r := math.Sqrt(1 - z*z)
		out[k] = r3.Vec{X: r * c, Y: r * s, Z: z}
	}
	return out
}

// outermost returns the vertices that stand out furthest in some hundred
// directions: enough of the convex hull to rank motions, not to judge one.
func outermost(vertices []r3.Vec) []r3.Vec {
	if len(vertices) == 0 {
		return nil
	}
	return extremes(vertices, directions)
}

func extremes(vertices []r3.Vec, along []r3.Vec) []r3.Vec {
	chosen := map[int]bool{}
	var out []r3.Vec
	for _, d := range along {
		best := 0
		for k, v := range vertices {
			if r3.Dot(v, d) > r3.Dot(vertices[best], d) {
				best = k
			}
		}
		if !chosen[best] {
			chosen[best] = true
			out = append(out, vertices[best])
		}
	}
	return out
}

// support returns how far the points reach along a direction.
func support(points []r3.Vec, d r3.Vec) float64 {
	reach := math.Inf(-1)
	for _, p := range points {
		reach = max(reach, r3.Dot(p, d))
	}
	return reach
}

func movedHoles(holes []feature.Hole, t mesh.Transform) []feature.Hole {
	out := make([]feature.Hole, len(holes))
	for k, h := range holes {
		h.Centre, h.Axis = t.Apply(h.Centre), t.Turn(h.Axis)
		out[k] = h
	}
	return out
}

// unlike measures how differently two bodies fill space once the other one has
// moved: the root mean square of the difference of their reach over all
// directions, plus the distance of their centroids, mm. It is zero for equal
// bodies. The exact measure looks at every corner.
func (b body) unlike(o body, t mesh.Transform, exact bool) float64 {
	mine, theirs := b.hull, o.hull
	if exact {
		mine, theirs = b.all, o.all
	}
	back := t.Inverse()
	sum := 0.0
	for _, d := range directions {
		reach := support(theirs, back.Turn(d)) + r3.Dot(t.Shift, d)
		gap := support(mine, d) - reach
		sum += gap * gap
	}
	return math.Sqrt(sum/float64(len(directions))) + r3.Norm(r3.Sub(b.centroid, t.Apply(o.centroid)))
}

func movedRounds(rounds []feature.Round, t mesh.Transform) []feature.Round {
	out := make([]feature.Round, len(rounds))
	for k, r := range rounds {
		r.Centre, r.Axis = t.Apply(r.Centre), t.Turn(r.Axis)
		out[k] = r
	}
	return out
}

// axial splits a point into its distance along a round's axis and from it.
func axial(r feature.Round, p r3.Vec) (along float64, radial r3.Vec) {
	d := r3.Sub(p, r.Centre)
	along = r3.Dot(d, r.Axis)
	return along, r3.Sub(d, r3.Scale(along, r.Axis))
}

// flatPart is the length of d square to an axis.
func flatPart(d, axis r3.Vec) float64 {
	return r3.Norm(r3.Sub(d, r3.Scale(r3.Dot(d, axis), axis)))
}
