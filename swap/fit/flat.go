package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

// flat is a flat face of a part with its edges and points spread over it.
type flat struct {
	feature.Face
	plane   mesh.Plane
	loops   []loop    // the outer one first
	samples []r3.Vec  // points within the face, away from its edges
	proud   bool      // the part falls away behind its outer edge, and nothing stands on it
	extreme bool      // nothing of the part reaches further along the normal
	facet   bool      // one of many small faces of a curved surface, no face of its own
	mouths  []int     // holes that open in it, by index
	box     [2]r2.Vec // of the outer edge in the plane
}

// loop is one closed edge of a face, the face on its left seen from outside.
type loop struct {
	corners []r3.Vec
	flat    []r2.Vec // the corners in the plane of the face
	across  []int32  // mesh face across the edge from corner k to corner k+1, -1 for none
	falls   float64  // share of its length behind which the part falls away
}

const (
	// allAround is the share of a face's outer edge that counts as all of it.
	allAround = 0.98
	// manySamples is how many points stand for a face: a part of it that is gone is
	// seen from a twenty-fourth of its area on. TestAFaceCutBackIsSeen.
	manySamples = 24
	// edgeMargin keeps points off the edges of a face, mm: chords of round edges
	// leave out r(1-cos(180/n)), 0.19 mm at 10 mm and 16 chords. A face narrower than
	// twice that is an edge break and not compared.
	edgeMargin = 0.2
	// mostly is the share of an edge's length that decides which way it falls.
	mostly = 0.5
	// smoothTurn is the turn in degrees between two faces below which an edge is
	// no edge of the drawing but one of a tessellation: twelve chords turn by 30.
	smoothTurn = 31.0
)

// contains reports whether a point of the plane lies within the face.
func (f *flat) contains(q r2.Vec) bool {
	if q.X < f.box[0].X || q.Y < f.box[0].Y || q.X > f.box[1].X || q.Y > f.box[1].Y {
		return false
	}
	inside := false
	for _, l := range f.loops {
		for k, a := range l.flat {
			b := l.flat[(k+1)%len(l.flat)]
			if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				inside = !inside
			}
		}
	}
	return inside
}

// margin returns the distance of a point of the plane from the edges, mm.
func (f *flat) margin(q r2.Vec) float64 {
	least := math.Inf(1)
	for _, l := range f.loops {
		for k, a := range l.flat {
			least = min(least, distance(q, a, l.flat[(k+1)%len(l.flat)]))
		}
	}
	return least
}

// spread places points over the face: a Halton sequence over the box of its outer
// edge, as even as any and the same each time.
func (f *flat) spread() {
	size := r2.Sub(f.box[1], f.box[0])
	for k := 1; k <= tries*manySamples && len(f.samples) < manySamples; k++ {
		q := r2.Add(f.box[0], r2.Vec{X: size.X * halton(k, 2), Y: size.Y * halton(k, 3)})
		if f.contains(q) && f.margin(q) >= edgeMargin {
			f.samples = append(f.samples, f.plane.Point(q))
		}
	}
}

// tries is how many points a sample may take to find: a face that covers less than a
// twentieth of its box gets fewer samples.
const tries = 20

// halton returns term k of the van der Corput sequence of a base, from 0 to 1.
func halton(k, base int) float64 {
	x, share := 0.0, 1.0
	for ; k > 0; k /= base {
		share /= float64(base)
		x += share * float64(k%base)
	}
	return x
}

// width returns the face's area over its longest extent, mm: the width of a strip.
func (f *flat) width() float64 {
	size := r2.Sub(f.box[1], f.box[0])
	return f.Area / max(size.X, size.Y) // a face with an area has an extent
}

// flats gathers the flat faces of a part with their edges.
func flats(p Part, reach func(d r3.Vec) float64) []flat {
	out := make([]flat, 0, len(p.Features.Faces))
	for _, face := range p.Features.Faces {
		plane, err := mesh.PlaneFromNormal(face.Centroid, face.Normal)
		if err != nil {
			continue
		}
		f := flat{Face: face, plane: alongEdge(plane, p, face)}
		f.loops = p.loops(face.Faces, f.plane)
		if len(f.loops) == 0 || len(f.loops[0].corners) < 3 {
			continue
		}
		f.box = bounds(f.loops[0].flat)
		f.proud = f.loops[0].falls >= allAround && !slices.ContainsFunc(f.loops[1:], func(l loop) bool { return l.falls < mostly })
		f.extreme = reach(f.Normal)-f.Offset() < coincide
		f.facet = p.isFacet(face, f.loops)
		f.spread()
		if len(f.samples) > 0 {
			out = append(out, f)
		}
	}
	return out
}

// alongEdge turns a plane's first axis along the longest edge of the face.
func alongEdge(plane mesh.Plane, p Part, face feature.Face) mesh.Plane {
	longest, along := 0.0, plane.U
	for _, f := range face.Faces {
		for k, g := range p.Features.Skin.Neighbour[f] {
			if g >= 0 && p.Features.Skin.Patch[g] == p.Features.Skin.Patch[f] {
				continue
			}
			v := p.Mesh.Faces[f]
			d := r3.Sub(p.Mesh.Vertices[v[(k+1)%3]], p.Mesh.Vertices[v[k]])
			if l := r3.Norm(d); l > longest {
				longest, along = l, d
			}
		}
	}
	u := r3.Sub(along, r3.Scale(r3.Dot(along, plane.Normal), plane.Normal))
	if r3.Norm(u) == 0 {
		return plane
	}
	plane.U = r3.Unit(u)
	plane.V = r3.Cross(plane.Normal, plane.U)
	return plane
}

func bounds(points []r2.Vec) [2]r2.Vec {
	b := [2]r2.Vec{{X: math.Inf(1), Y: math.Inf(1)}, {X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, q := range points {
		b[0] = r2.Vec{X: min(b[0].X, q.X), Y: min(b[0].Y, q.Y)}
		b[1] = r2.Vec{X: max(b[1].X, q.X), Y: max(b[1].Y, q.Y)}
	}
	return b
}

// loops chains the boundary edges of a patch of faces, the loop of the largest
// area first.
func (p Part) loops(faces []int32, plane mesh.Plane) []loop {
	type edge struct {
		to, across int32
		used       bool
	}
	skin := p.Features.Skin
	from := map[int32][]*edge{}
	var order []int32
	for _, f := range faces {
		v := p.Mesh.Faces[f]
		for k, g := range skin.Neighbour[f] {
			if g >= 0 && skin.Patch[g] == skin.Patch[f] {
				continue
			}
			from[v[k]] = append(from[v[k]], &edge{to: v[(k+1)%3], across: g})
			order = append(order, v[k])
		}
	}
	var out []loop
	for _, start := range order {
		var l loop
		fall, length := 0.0, 0.0
		for at := start; ; {
			var next *edge
			for _, e := range from[at] {
				if !e.used {
					next = e
					break
				}
			}
			if next == nil {
				break
			}
			next.used = true
			a, b := p.Mesh.Vertices[at], p.Mesh.Vertices[next.to]
			l.corners = append(l.corners, a)
			l.flat = append(l.flat, plane.Project(a))
			l.across = append(l.across, next.across)
			d := r3.Norm(r3.Sub(b, a))
			length += d
			if next.across < 0 || p.below(next.across, plane) {
				fall += d
			}
			if at = next.to; at == start {
				break
			}
		}
		if len(l.corners) >= 3 {
			l.falls = fall / length // three corners are apart, for they were welded
			out = append(out, l)
		}
	}
	largest := 0
	for k, l := range out {
		if math.Abs(cut.LoopArea(l.flat)) > math.Abs(cut.LoopArea(out[largest].flat)) {
			largest = k
		}
	}
	if len(out) > 0 {
		out[0], out[largest] = out[largest], out[0]
	}
	return out
}

// below reports whether a face next to a plane goes into the part, not out of it.
func (p Part) below(f int32, plane mesh.Plane) bool {
	a, b, c := p.Mesh.Triangle(int(f))
	return plane.Height(a)+plane.Height(b)+plane.Height(c) < 0
}

const (
	// facetLike is how many times larger a face beside it a facet may be, and
	// facetShare how much of its edge runs along such neighbours: strips of a
	// curved surface run along each other on two of four sides.
	facetLike  = 6.0
	facetShare = 0.3
)

// isFacet reports whether a face is one of the many that stand for a surface
// which curves both ways: a good part of its edge is no edge of the drawing, and
// the face behind it no larger than itself by much. The walls of cylinders are
// known apart.
func (p Part) isFacet(face feature.Face, loops []loop) bool {
	smooth, length := 0.0, 0.0
	for _, l := range loops {
		for k, g := range l.across {
			d := r3.Norm(r3.Sub(l.corners[(k+1)%len(l.corners)], l.corners[k]))
			length += d
			if g < 0 || p.Features.Skin.Round[g] >= 0 {
				continue
			}
			other := p.Features.Skin.Patches[p.Features.Skin.Patch[g]]
			if other.Area < facetLike*face.Area && face.Area < facetLike*other.Area &&
				r3.Dot(face.Normal, other.Normal) > math.Cos(smoothTurn*math.Pi/180) {
				smooth += d
			}
		}
	}
	return smooth > facetShare*length
}
