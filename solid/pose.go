package solid

import (
	"swapworth/mesh"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// pose is the surface of a part in a frame.
type pose struct {
	number  int
	f       frame
	s       *grid.Surface
	flats   [3][]grid.Plane
	gaps    grid.Gaps
	stretch [3]float64
	corners [][2][3]float64   // sharp inner edges of the surface
	smooth  []grid.SmoothEdge // edges between chords of drawn rounds
	regions map[regionKey]*region.Region
}

// regionKey tells places apart: two supports may hold the same end, one of them in
// its middle only.
type regionKey struct {
	Place
	box mesh.Box
}

// frames returns the part in the frames in which it may be solved, the best first:
// that in which the narrowest gaps lie along the grid, where there is one, that of
// the part's own flat faces, and that of the model.
func (b *Body) frames() []*pose {
	if b.poses != nil {
		return b.poses
	}
	add := func(f frame) *pose {
		s := f.surface(b.m)
		return &pose{f: f, s: s, flats: grid.FlatFaces(s), gaps: grid.FindGaps(s), stretch: s.Stretch(), regions: map[regionKey]*region.Region{}}
	}
	poses := []*pose{add(frameOf(b.where.box))}
	if f := alignedFrame(b.m); f.turned {
		poses = append([]*pose{add(f)}, poses...)
	}
	first := poses[0]
	for _, gap := range first.gaps.Loose[:min(len(first.gaps.Loose), mostTurns)] {
		if p := add(frameAcross(b.m, first.f.out(gap.Normal))); len(p.gaps.Loose) < len(poses[0].gaps.Loose) {
			poses = append([]*pose{p}, poses...)
		}
	}
	for n, p := range poses {
		p.number = n
	}
	b.poses = poses
	return poses
}

// mostTurns is how many gaps the grid is tried along.
const mostTurns = 3

// region brings a located place into the frame, or fails as frame.region does.
func (p *pose) region(s spot, pl Place, part mesh.Box) (*region.Region, bool) {
	key := regionKey{Place: pl}
	if s.box != nil {
		key.box = *s.box
	}
	if r := p.regions[key]; r != nil {
		return r, true
	}
	r, ok := p.f.region(s, p.s, part, pl.String())
	if ok {
		r.Keep()
		p.regions[key] = r
	}
	return r, ok
}

// innerCorners returns the sharp inner edges of the surface.
func (p *pose) innerCorners() [][2][3]float64 {
	if p.corners == nil {
		p.corners = grid.InnerCorners(p.s)
	}
	return p.corners
}

// smoothEdges returns the edges between chords of drawn rounds.
func (p *pose) smoothEdges() []grid.SmoothEdge {
	if p.smooth == nil {
		p.smooth = grid.SmoothEdges(p.s)
	}
	return p.smooth
}
