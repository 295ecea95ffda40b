package solid

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// Body is a closed part made ready for checks. What one check finds is kept for
// the next: the holes and faces of the part, its grids and the material in their
// cells wherever the same lines are wanted, the assembled and preconditioned
// system where the same places are held and Poisson's ratio is the same, and the
// solution where the same forces act, whatever the modulus and the density. A
// second check with more unknowns, or with Options.Finer, refines the first.
//
// A Body serves one goroutine at a time; two bodies may be checked side by side.
type Body struct {
	m       *mesh.Mesh
	where   *part
	volume  float64
	poses   []*pose // see frames
	layouts map[string]*layout
	systems []*keptSystem // the one used last at the end
}

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

// layout is a family of grids, the coarsest first, each with the material in its
// cells.
type layout struct {
	key   string
	grids []*grid.Grid
	cells []*grid.Cells
	gaps  []float64 // the narrowest gap that cells were emptied for, mm, by grid; 0 for none
}

// keptSystem is a system that a later check may use again.
type keptSystem struct {
	key string
	*system
	lost      float64 // of bodies that nothing holds, mm3
	bytes     int
	solutions []*solution
	rings     []*ringing
}

const (
	keptBytes     = 600e6 // that all kept systems of a body may take
	keptSolutions = 12    // of one system
)

// NewBody makes a part ready for checks. It fails when the mesh is open or
// encloses no volume.
func NewBody(m *mesh.Mesh) (*Body, error) {
	if report := mesh.Check(m); !report.Balanced {
		return nil, fmt.Errorf("solid: the mesh is not closed (%d open edges); close it with --repair or in the CAD program", report.OpenEdges)
	}
	b := &Body{m: m, volume: m.SignedVolume(), layouts: map[string]*layout{}}
	if !(b.volume > 0) {
		return nil, errors.New("solid: the mesh encloses no volume; is it inside out?")
	}
	b.where = &part{m: m, box: m.Bounds(), tol: tolerance(m.Bounds()), known: map[Place]spot{}}
	return b, nil
}

// Check solves the problem p for a body of material e. It fails when a place
// holds no material, the part is not held, the memory does not suffice, or ctx
// ends.
func (b *Body) Check(ctx context.Context, e materials.Elastic, p Problem, opt Options) (Result, error) {
	if parts := p.bySupports(); len(parts) > 1 {
		return b.checkEach(ctx, e, p, parts, opt)
	} else if len(parts) == 1 {
		p = parts[0]
	}
	start := time.Now()
	told := opt.Progress
	if told != nil {
		opt.Progress = func(share float64) { told(0.9 * share) }
	}
	r, err := b.run(ctx, e, p, opt)
	if err != nil {
		return r, err
	}
	if opt.Unknowns == 0 && r.worst() > poor {
		// the error falls with the area of the cells or faster: aim well below
		more := math.Pow(1.5*r.worst()/poor, 1.5)
		opt.Unknowns = int(usualUnknowns * min(more, 4))
		if told != nil {
			opt.Progress = func(share float64) { told(0.9 + 0.1*share) }
		}
		if finer, err := b.run(ctx, e, p, opt); err == nil {
			r = finer
		} else if ctx.Err() != nil {
			return Result{}, err
		}
	}
	if told != nil {
		told(1)
	}
	r.Seconds = time.Since(start).Seconds()
	return r, nil
}

// run solves the problem on one family of grids.
func (b *Body) run(ctx context.Context, e materials.Elastic, p Problem, opt Options) (Result, error) {
	c, err := b.newCheck(e, p, opt)
	if err != nil {
		return Result{}, err
	}
	c.lay = b.layout(c)
	if err := c.fits(c.lay.grids[0]); err != nil {
		return Result{}, err
	}
	for n := range c.grids {
		if err := c.onGrid(ctx, n); err != nil {
			return Result{}, err
		}
	}
	if err := c.strength(ctx); err != nil {
		return Result{}, err
	}
	if err := c.findSpare(ctx); err != nil {
		return Result{}, err
	}
	c.conclude()
	c.res.Warnings = ofBothEnds(c.res.Warnings)
	return c.res, nil
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

// layout returns the grids for a check.
func (b *Body) layout(c *check) *layout {
	lines := c.wantedLines()
	key := fmt.Sprint(c.pose.number, c.opt.Unknowns, c.opt.Grids, lines)
	l := b.layouts[key]
	if l == nil {
		l = &layout{key: key, grids: []*grid.Grid{c.base(lines)}}
		b.layouts[key] = l
	}
	return l
}

// at returns the material in the cells of grid n, 0 for the coarsest.
func (l *layout) at(n int, p *pose) *grid.Cells {
	for len(l.grids) <= n {
		l.grids = append(l.grids, l.grids[len(l.grids)-1].Halved())
	}
	for len(l.cells) <= n {
		g := l.grids[len(l.cells)]
		c, gap := grid.Fill(p.s, g, raysPerCell(g)).Opened(p.s, p.gaps.Loose)
		l.cells = append(l.cells, c)
		l.gaps = append(l.gaps, gap)
	}
	return l.cells[n]
}

// find returns the kept system with a key, or nil.
func (b *Body) find(key string) *keptSystem {
	for i, s := range b.systems {
		if s.key == key {
			b.systems = append(slices.Delete(b.systems, i, i+1), s)
			return s
		}
	}
	return nil
}

// keep holds on to a system as long as there is room, and lets go of those that
// were used longest ago.
func (b *Body) keep(s *keptSystem) {
	s.bytes = s.system.bytes()
	b.systems = append(b.systems, s)
	total := 0
	for i := len(b.systems) - 1; i >= 0; i-- {
		total += b.systems[i].bytes
		if total > keptBytes {
			b.systems = slices.Clone(b.systems[i+1:])
			return
		}
	}
}
