package repair

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/disjoint"
	"swapworth/mesh"
)

// Limits of what gaps takes for a small gap.
const (
	// smallGap is the longest extent of a gap over the part's diagonal: what is missing
	// over more than a third of a part cannot be guessed from its rim.
	smallGap = 1. / 3
	// smallGapEdges bounds the time of the least area, which grows with the cube: 200
	// edges take a million steps, a few milliseconds.
	smallGapEdges = 200
	// listedGaps is how many gaps have a Repair of their own, as a report lists places.
	listedGaps = 100
	// ringLimit is among how many gaps, largest first, rings are looked for: time grows
	// with the square.
	ringLimit = 4000
)

// gaps closes the gaps of a mesh that are planar or small: no longer than a
// third of the part's diagonal and with at most 200 edges. Rings between two
// outlines in one plane are closed as rings. Other gaps stay open; Check lists
// them. No vertex is added.
//
// Each Repair gives the area added. Its AddedVolumeMM3 is an estimate of how far
// the true surface may lie from the added faces, as a volume: their area times
// the sum of the spread of the gap's outline about its plane and the height to
// which the faces around it would bulge if they went on as smoothly as they come
// in (a cap of radius a that meets its neighbours at the angle t rises by
// a tan(t/2)). Neighbours that come in at 60 to 105 degrees are taken for the
// walls under a lid; steeper ones, which leave a wedge, count as 120. A
// planar gap on upright walls thus adds no doubt.
//
// A planar gap amid a flat face, or at the bottom of a chamfer, may be the mouth
// of a hole or a pocket or the foot of a boss that is missing altogether. It is
// closed flat; LessMM3 and MoreMM3 say what may be missing, see doubtHoles.
//
// A sheet without thickness is left as it is: closing it would not make a
// solid.
func gaps(m *mesh.Mesh) (*mesh.Mesh, []mesh.Repair) {
	e := mesh.EdgesOf(m)
	if len(e.Open) == 0 || loose(m, e) {
		return m, nil
	}
	p := &patcher{mesh: m, diagonal: r3.Norm(m.Bounds().Size()), flat: m.Nearness()}
	p.readRims(e)
	p.readAround()
	fills := p.fills()
	fills = p.withoutSheets(e, fills)
	if len(fills) == 0 {
		return m, nil
	}
	out := &mesh.Mesh{Vertices: m.Vertices, Faces: slices.Clone(m.Faces)}
	for _, f := range fills {
		out.Faces = append(out.Faces, f.faces...)
	}
	doubtHoles(out, len(m.Faces), fills)
	var repairs []mesh.Repair
	for i, f := range fills {
		if i < listedGaps {
			repairs = append(repairs, f.repair)
			continue
		}
		last := &repairs[listedGaps-1]
		last.What = fmt.Sprintf("closed %d more gaps, the first one here", len(fills)-listedGaps+1)
		last.AddedAreaMM2 += f.repair.AddedAreaMM2
		last.AddedVolumeMM3 += f.repair.AddedVolumeMM3
		last.LessMM3 += f.repair.LessMM3
		last.MoreMM3 += f.repair.MoreMM3
	}
	return out, repairs
}

// patcher finds what is missing from a mesh.
type patcher struct {
	mesh     *mesh.Mesh
	diagonal float64 // of the part, mm
	flat     float64 // how far a planar outline may stray from its plane, mm
	rims     []*rim
	around   map[int32][]int32 // for every vertex of a rim, the faces at it
}

// rim is a closed outline of missing faces, in the direction that these faces
// would have it.
type rim struct {
	loop   []int32 // vertices
	beside []int32 // for each vertex, the face at the edge to the next one
	area   r3.Vec  // vector area, mm2: along the missing faces' normal
	center r3.Vec  // mean of the vertices
	spread float64 // extent along the normal, mm
	size   float64 // largest distance from the centre, mm
}

// fill is what closes one gap.
type fill struct {
	faces  [][3]int32
	beside []int32 // faces of the mesh next to the gap
	leads  bool    // whether it may hide a hole, a pocket or a boss
	rounds float64 // mm2, that its outline leaves out of the rounds it may stand for
	repair mesh.Repair
}

// readRims chains the open half-edges, turned round, to loops that pass each
// vertex once.
func (p *patcher) readRims(e *mesh.Edges) {
	next := map[int32][]mesh.HalfEdge{} // by the vertex at which the missing edge begins
	open := slices.Clone(e.Open)
	slices.Sort(open)
	for _, h := range open {
		_, to := p.mesh.Ends(h)
		next[to] = append(next[to], h)
	}
	for _, h := range open {
		_, start := p.mesh.Ends(h)
		p.chain(next, start)
	}
}

// chain follows missing edges from a vertex until none is left there, and splits
// off a rim whenever it comes back to a vertex.
func (p *patcher) chain(next map[int32][]mesh.HalfEdge, start int32) {
	path := []int32{start}
	var edges []mesh.HalfEdge
	place := map[int32]int{start: 0}
	for v := start; len(next[v]) > 0; {
		h := next[v][0]
		next[v] = next[v][1:]
		v, _ = p.mesh.Ends(h)
		edges = append(edges, h)
		i, seen := place[v]
		if !seen {
			place[v] = len(path)
			path = append(path, v)
			continue
		}
		p.addRim(path[i:], edges[i:])
		for _, w := range path[i+1:] {
			delete(place, w)
		}
		path, edges = path[:i+1], edges[:i]
	}
}

func (p *patcher) addRim(path []int32, edges []mesh.HalfEdge) {
	if len(path) < 3 {
		return
	}
	r := &rim{loop: slices.Clone(path)}
	for i, v := range r.loop {
		r.beside = append(r.beside, edges[i]/3)
		r.center = r3.Add(r.center, r3.Scale(1/float64(len(path)), p.mesh.Vertices[v]))
	}
	for i, v := range r.loop {
		a := r3.Sub(p.mesh.Vertices[v], r.center)
		b := r3.Sub(p.mesh.Vertices[r.loop[(i+1)%len(r.loop)]], r.center)
		r.area = r3.Add(r.area, r3.Scale(0.5, r3.Cross(a, b)))
		r.size = max(r.size, r3.Norm(a))
	}
	lo, hi := 0.0, 0.0
	if n := r3.Norm(r.area); n > 0 {
		for _, v := range r.loop {
			h := r3.Dot(r3.Sub(p.mesh.Vertices[v], r.center), r.area) / n
			lo, hi = min(lo, h), max(hi, h)
		}
	}
	r.spread = hi - lo
	p.rims = append(p.rims, r)
}

// small reports whether a gap may be closed on a guess.
func (p *patcher) small(r *rim) bool {
	return 2*r.size <= smallGap*p.diagonal && len(r.loop) <= smallGapEdges
}

// planar reports whether the rim lies in a plane and bounds an area there.
func (p *patcher) planar(r *rim) bool {
	return r.spread <= 2*p.flat && r3.Norm(r.area) > p.flat*r.size
}

// fills closes planar rims by plane, largest first, then the small others.
func (p *patcher) fills() []fill {
	rims := slices.Clone(p.rims)
	slices.SortStableFunc(rims, func(a, b *rim) int { return cmp.Compare(r3.Norm(b.area), r3.Norm(a.area)) })
	var fills []fill
	done := map[*rim]bool{}
	for i, r := range rims {
		if done[r] || !p.planar(r) {
			continue
		}
		group := []*rim{r}
		for _, s := range rims[min(i+1, ringLimit):min(len(rims), ringLimit)] {
			if !done[s] && p.planar(s) && p.inside(s, r) {
				group = append(group, s)
			}
		}
		f, ok := p.fillPlanar(group)
		if !ok && len(group) > 1 {
			group = group[:1]
			f, ok = p.fillPlanar(group)
		}
		if ok {
			f.leads = p.mayLead(group)
			for _, s := range group {
				done[s] = true
				f.rounds += p.segments(s)
			}
			fills = append(fills, f)
		}
	}
	for _, r := range rims {
		if done[r] || !p.small(r) {
			continue
		}
		fills = append(fills, p.fillSmall(r))
	}
	return fills
}

// inside reports whether planar rim s lies in the plane of r and within its
// reach, so that the two may bound one gap.
func (p *patcher) inside(s, r *rim) bool {
	n := r3.Unit(r.area)
	if r3.Norm(r3.Sub(s.center, r.center)) > s.size+r.size {
		return false
	}
	for _, v := range s.loop {
		if math.Abs(r3.Dot(r3.Sub(p.mesh.Vertices[v], r.center), n)) > 2*p.flat {
			return false
		}
	}
	return true
}

// withoutSheets drops fills that would close a body without volume.
func (p *patcher) withoutSheets(e *mesh.Edges, fills []fill) []fill {
	m := p.mesh
	bodies := disjoint.New(len(m.Faces))
	for h, o := range e.Opposite {
		if o >= 0 {
			bodies.Join(int32(h)/3, o/3)
		}
	}
	for _, f := range fills {
		for _, b := range f.beside {
			bodies.Join(f.beside[0], b)
		}
	}
	volume, area := make(map[int32]float64), make(map[int32]float64)
	count := func(body int32, v [3]int32, origin r3.Vec) {
		a, b, c := r3.Sub(m.Vertices[v[0]], origin), r3.Sub(m.Vertices[v[1]], origin), r3.Sub(m.Vertices[v[2]], origin)
		volume[body] += r3.Dot(a, r3.Cross(b, c)) / 6
		area[body] += r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
	}
	origin := m.Bounds().Center()
	for f, v := range m.Faces {
		count(bodies.Find(int32(f)), v, origin)
	}
	for _, f := range fills {
		for _, v := range f.faces {
			count(bodies.Find(f.beside[0]), v, origin)
		}
	}
	return slices.DeleteFunc(fills, func(f fill) bool {
		body := bodies.Find(f.beside[0])
		return math.Abs(volume[body]) <= p.flat*area[body]
	})
}

// loose reports whether most sides of many faces meet no other face. Such a
// heap of triangles is no part with faults: to search it for what belongs
// together would take long and find little.
func loose(m *mesh.Mesh, e *mesh.Edges) bool {
	return len(e.Open) > many && 2*len(e.Open) > 3*len(m.Faces)
}

// many is the number of loose sides from which a mesh is a heap of triangles: a part
// that was cut in two has hundreds.
const many = 10_000
