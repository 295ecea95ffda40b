package repair

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/textwrap"
	"swapworth/internal/triangle"
	"swapworth/mesh"
)

// describe notes what was added and how far the true surface may lie from it.
func (p *patcher) describe(f *fill, kind string, group ...*rim) {
	edges, length, slope := 0, 0.0, 0.0
	for _, r := range group {
		edges += len(r.loop)
		around := 0.0
		for i, v := range r.loop {
			around += r3.Norm(r3.Sub(p.mesh.Vertices[r.loop[(i+1)%len(r.loop)]], p.mesh.Vertices[v]))
		}
		length += around
		slope += around * math.Tan(p.bulgeAngle(r, group[0].area)/2)
	}
	area := 0.0
	for _, v := range f.faces {
		a, b, c := p.mesh.Vertices[v[0]], p.mesh.Vertices[v[1]], p.mesh.Vertices[v[2]]
		area += r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
	}
	doubt := 0.0
	if spread := group[0].spread; spread > 2*p.flat {
		doubt = spread
	}
	if length > 0 { // 2 area/length is the radius of a round gap, half the width of a long one
		doubt += 2 * area / length * slope / length
	}
	f.repair = mesh.Repair{
		What:           fmt.Sprintf("closed a %s gap of %d edges with %s", kind, edges, textwrap.Counted(len(f.faces), "face")),
		At:             group[0].center,
		AddedAreaMM2:   area,
		AddedVolumeMM3: area * doubt,
	}
}

// angleBeside returns the angle in rad between the normal n of a gap and that of
// a face, or false for a face without area.
func (p *patcher) angleBeside(face int32, n r3.Vec) (angle float64, ok bool) {
	a, b, c := p.mesh.Triangle(int(face))
	m := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
	size := r3.Norm(m) * r3.Norm(n)
	if size == 0 {
		return 0, false
	}
	return math.Acos(max(-1, min(1, r3.Dot(m, n)/size))), true
}

// wallAngle is the angle in rad to a gap's plane from which the faces beside it are
// taken for the walls under a lid.
const wallAngle = math.Pi / 3

// wedge is the angle from which they leave a wedge instead: a wall with 15 degrees of
// draft still carries a lid, and draft is 1 to 3 degrees (common practice); then half of
// the part may be missing, as if the surface came in at wedgeBulge.
const (
	wedge      = 105 * math.Pi / 180
	wedgeBulge = 2 * math.Pi / 3
)

// bulgeAngle is the largest angle in radians at which the faces beside a rim of a
// gap with the normal n suggest that the surface goes on out of the gap's plane.
// Faces that come in at 60 to 105 degrees to the plane are taken for the walls
// under a lid. Flatter ones count as they are; steeper ones, which leave a wedge
// that may be half of the part, as 120 degrees.
func (p *patcher) bulgeAngle(r *rim, n r3.Vec) float64 {
	largest := 0.0
	for _, f := range r.beside {
		switch angle, ok := p.angleBeside(f, n); {
		case !ok:
		case angle < wallAngle:
			largest = max(largest, angle)
		case angle > wedge:
			largest = wedgeBulge
		}
	}
	return largest
}

// mayLead reports whether a planar gap may be the mouth of a hole or a pocket or
// the foot of a boss that is missing: whether at some corner of its rim no wall
// stands, as it does where a face of a part is missing, and the faces around lie
// in the gap's plane or lead down to it, as a chamfer does to a hole.
func (p *patcher) mayLead(group []*rim) bool {
	n := r3.Unit(group[0].area)
	for _, r := range group {
		before := len(r.loop) - 1
		for i := range r.loop {
			if p.noWall(r.loop[i], n) && p.leadsDown(r, before, n) && p.leadsDown(r, i, n) {
				return true
			}
			before = i
		}
	}
	return false
}

// noWall reports whether no face at a vertex stands on a gap with the normal n.
func (p *patcher) noWall(v int32, n r3.Vec) bool {
	return !slices.ContainsFunc(p.around[v], func(f int32) bool {
		angle, ok := p.angleBeside(f, n)
		return ok && angle > wallAngle
	})
}

// leadsDown reports whether the face beside an edge of a rim lies level with the
// gap or higher.
func (p *patcher) leadsDown(r *rim, edge int, n r3.Vec) bool {
	const level = math.Pi / 180
	a, b, c := p.mesh.Triangle(int(r.beside[edge]))
	m := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
	from, to := p.mesh.Vertices[r.loop[edge]], p.mesh.Vertices[r.loop[(edge+1)%len(r.loop)]]
	inward := r3.Cross(n, r3.Sub(to, from))
	return r3.Dot(m, inward) >= -math.Sin(level)*r3.Norm(m)*r3.Norm(inward)
}

// corner is the turn in rad from which the end of a chord is a corner of the drawing:
// eight chords to the circle turn by it.
const corner = math.Pi / 4

// segments returns the area in mm2 between an outline and the rounds that it may
// stand for: a chord c that turns by t leaves out c^2 t/12. Turns of 45 degrees
// and more are corners.
func (p *patcher) segments(r *rim) (sum float64) {
	n := len(r.loop)
	turn := make([]float64, n) // at the beginning of each edge
	edge := func(i int) r3.Vec {
		return r3.Sub(p.mesh.Vertices[r.loop[(i+1)%n]], p.mesh.Vertices[r.loop[i%n]])
	}
	for i := range turn {
		before, after := edge(i+n-1), edge(i)
		turn[i] = math.Atan2(r3.Norm(r3.Cross(before, after)), r3.Dot(before, after))
	}
	for i, t := range turn {
		if next := turn[(i+1)%n]; max(t, next) < corner {
			sum += r3.Norm2(edge(i)) * (t + next) / 2 / 12
		}
	}
	return sum
}

// readAround lists the faces at every vertex of a rim.
func (p *patcher) readAround() {
	p.around = map[int32][]int32{}
	for _, r := range p.rims {
		for _, v := range r.loop {
			p.around[v] = nil
		}
	}
	for f, face := range p.mesh.Faces {
		for _, v := range face {
			if list, ok := p.around[v]; ok {
				p.around[v] = append(list, int32(f))
			}
		}
	}
}

// doubtHoles notes at each fill that may hide a hole, a pocket or a boss how
// large that may have been. closed is the mesh with all fills, which begin at
// face from. A pocket is no deeper than the material under the gap; where that
// ends at another such gap, a hole may join the two and each stands for half of
// it. A boss ends where it meets the part, or else is up to twice as high as it
// is wide.
func doubtHoles(closed *mesh.Mesh, from int, fills []fill) {
	leads := map[int32]bool{}
	first, any := int32(from), false
	for i := range fills {
		for range fills[i].faces {
			leads[first] = fills[i].leads
			first++
		}
		any = any || fills[i].leads
	}
	if !any {
		return
	}
	faces := make([]int32, len(closed.Faces))
	for f := range faces {
		faces[f] = int32(f)
	}
	tree := closed.FaceTree(faces)
	reach := r3.Norm(closed.Bounds().Size())
	first = int32(from)
	for i := range fills {
		f := &fills[i]
		if f.leads {
			boss := bossHeight * 2 * math.Sqrt(f.repair.AddedAreaMM2/math.Pi)
			f.doubtHole(closed, tree, first, leads, reach, boss)
		}
		first += int32(len(f.faces))
	}
}

// mostRays is about how many faces of a fill are looked down and up from: a step in
// the floor under a gap narrower than an eighth of it may be missed.
const mostRays = 64

// bossHeight is how many times its width a boss may be high that a gap stands for: one
// turned or milled in one piece with a plate is seldom higher (common practice).
const bossHeight = 2

// doubtHole looks down and up from the faces of one fill, of which the first has
// the number first.
func (f *fill) doubtHole(closed *mesh.Mesh, tree *boxtree.Tree, first int32, leads map[int32]bool, reach, boss float64) {
	depth, height := 0.0, 0.0
	step := 1 + len(f.faces)/mostRays
	for i := 0; i < len(f.faces); i += step {
		a, b, c := closed.Triangle(int(first) + i)
		middle, out := closed.Centre(int(first)+i), r3.Scale(reach, triangle.Normal(a, b, c))
		own := func(g int32) bool { return g >= first && g < first+int32(len(f.faces)) }
		if d, g := firstHit(closed, tree, middle, r3.Sub(middle, out), own); g >= 0 {
			if leads[g] {
				d /= 2
			}
			depth = max(depth, d*reach)
		}
		up := boss
		if d, g := firstHit(closed, tree, middle, r3.Add(middle, out), own); g >= 0 {
			up = d * reach
		}
		height = max(height, up)
	}
	f.repair.What += ", where a hole, pocket or boss may be missing"
	mouth := f.repair.AddedAreaMM2 + f.rounds
	f.repair.LessMM3, f.repair.MoreMM3 = mouth*depth, mouth*height
}

// firstHit returns the face that the segment from p to q meets first, other than
// the skipped ones, and after which share of the segment; face is -1 for none.
func firstHit(m *mesh.Mesh, tree *boxtree.Tree, p, q r3.Vec, skip func(f int32) bool) (share float64, face int32) {
	share, face = math.Inf(1), -1
	tree.Along(p, q, 0, func(f int32) bool {
		if skip(f) {
			return true
		}
		a, b, c := m.Triangle(int(f))
		s := [3]int{triangle.Side(p, q, a, b), triangle.Side(p, q, b, c), triangle.Side(p, q, c, a)}
		if min(s[0], s[1], s[2])*max(s[0], s[1], s[2]) < 0 || s == [3]int{} {
			return true
		}
		n := r3.Cross(r3.Sub(b, a), r3.Sub(c, a))
		if t := r3.Dot(n, r3.Sub(a, p)) / r3.Dot(n, r3.Sub(q, p)); t > 0 && t < share {
			share, face = t, f
		}
		return true
	})
	return share, face
}
