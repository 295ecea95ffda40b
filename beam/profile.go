package beam

import (
	"fmt"
	"math"
	"sort"

	"swapworth/beam/internal/gauss"
	"swapworth/beam/section"
	"swapworth/internal/parallel"
	"swapworth/mesh/cut"
)

// cutSection is one section of the beam with what it weighs in an integral along it.
type cutSection struct {
	S, Weight float64 // mm along the beam
	Region    cut.Region
	Section   section.Properties
	Hull      section.Properties   // with everything cut out filled
	Flow      [2]section.ShearFlow // for forces along the first and the second axis
}

// panel is a stretch between neighbouring changes of the section.
type panel struct {
	from, to float64
	cuts     []cutSection
}

// profile is the beam as its sections: the source of every integral along it.
type profile struct {
	panels []panel
	nodes  []float64
	error  float64 // relative, of the integral of 1/I
}

// cutter returns the section at the distance s along the beam.
type cutter func(s float64) (cut.Region, error)

const (
	baseElements = 32   // elements of a beam without features
	shortPanel   = 0.01 // of the length: one cut is enough
	maxCuts      = 900
	tolerance    = 2e-4 // of the integral of 1/I
)

// newProfile cuts the beam between every two neighbouring breaks and refines
// until halving the panels no longer changes the integral of 1/I along the
// load. Nodes are places where the frame needs a joint, breaks are places where
// the section changes.
func newProfile(at cutter, length float64, places, breaks []float64, plane int) (*profile, error) {
	p := &profile{nodes: nodesOf(length, places)}
	for _, span := range panelsOf(length, p.nodes, breaks) {
		p.panels = append(p.panels, panel{from: span[0], to: span[1]})
	}
	if err := fillPanels(at, p.panels); err != nil {
		return nil, err
	}
	if err := p.refine(at, plane); err != nil {
		return nil, err
	}
	return p, nil
}

// nodesOf spreads joints evenly and moves the nearest one onto each place that
// needs one.
func nodesOf(length float64, places []float64) []float64 {
	keep := []float64{0, length}
	for _, x := range places {
		if x > 1e-6*length && x < (1-1e-6)*length {
			keep = append(keep, x)
		}
	}
	keep = mergeClose(keep, 1e-6*length)
	var nodes []float64
	for i := 0; i+1 < len(keep); i++ {
		n := max(1, int(math.Round(baseElements*(keep[i+1]-keep[i])/length)))
		for k := range n {
			nodes = append(nodes, keep[i]+(keep[i+1]-keep[i])*float64(k)/float64(n))
		}
	}
	return append(nodes, length)
}

func mergeClose(xs []float64, tol float64) []float64 {
	sort.Float64s(xs)
	kept := xs[:1]
	for _, x := range xs[1:] {
		if x-kept[len(kept)-1] > tol {
			kept = append(kept, x)
		}
	}
	return kept
}

// panelsOf returns the stretches between joints and breaks.
func panelsOf(length float64, nodes, breaks []float64) [][2]float64 {
	all := append([]float64{}, nodes...)
	tol := 1e-6 * length
	for _, b := range breaks {
		if b > tol && b < length-tol {
			all = append(all, b)
		}
	}
	sort.Float64s(all)
	isNode := map[float64]bool{}
	for _, n := range nodes {
		isNode[n] = true
	}
	kept := all[:1:1]
	for _, x := range all[1:] {
		last := kept[len(kept)-1]
		switch {
		case x-last > tol:
			kept = append(kept, x)
		case isNode[x]:
			kept[len(kept)-1] = x
		}
	}
	var spans [][2]float64
	for i := 0; i+1 < len(kept); i++ {
		spans = append(spans, [2]float64{kept[i], kept[i+1]})
	}
	return spans
}

// fillPanels cuts every panel, on all cores.
func fillPanels(at cutter, panels []panel) error {
	length := 0.0
	for i := range panels {
		length = max(length, panels[i].to)
	}
	errs := make([]error, len(panels))
	parallel.Chunks(len(panels), (len(panels)+1)/2, func(_, from, to int) {
		var last cutSection
		for i := from; i < to; i++ {
			errs[i] = panels[i].fill(at, panels[i].to-panels[i].from < shortPanel*length, &last)
		}
	})
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// fill cuts a panel at the points of Gauss's rule. Neighbouring cuts of a
// prismatic stretch share their shear flow, found in last.
func (p *panel) fill(at cutter, short bool, last *cutSection) error {
	points := gauss.Two(p.from, p.to)
	rule := points[:]
	if short {
		rule = []gauss.Point{{X: (p.from + p.to) / 2, W: p.to - p.from}}
	}
	p.cuts = p.cuts[:0]
	for _, g := range rule {
		c, err := newCut(at, g.X, g.W, last)
		if err != nil {
			return err
		}
		p.cuts = append(p.cuts, c)
		*last = c
	}
	return nil
}

func newCut(at cutter, s, weight float64, last *cutSection) (cutSection, error) {
	r, err := at(s)
	if err != nil {
		return cutSection{}, err
	}
	sec, err := section.Of(r)
	if err != nil {
		return cutSection{}, fmt.Errorf("at %.6g mm along the span: %w", s, err)
	}
	c := cutSection{S: s, Weight: weight, Region: r, Section: sec}
	if same(last.Section, sec) {
		c.Flow, c.Hull = last.Flow, last.Hull
		return c, nil
	}
	c.Flow = [2]section.ShearFlow{section.Jourawski(r, 0), section.Jourawski(r, 1)}
	c.Hull, err = hullOf(r)
	return c, err
}

// same reports whether two sections cannot be told apart.
func same(a, b section.Properties) bool {
	near := func(x, y float64) bool { return abs(x-y) <= 1e-9*max(abs(x), abs(y)) }
	return a.Outlines == b.Outlines && a.Holes == b.Holes && near(a.Area, b.Area) &&
		near(a.Ixx, b.Ixx) && near(a.Iyy, b.Iyy) && a.Low == b.Low && a.High == b.High &&
		near(a.Centroid.X, b.Centroid.X) && near(a.Centroid.Y, b.Centroid.Y)
}

// along returns the second moment that resists bending by a load in the plane.
func along(s section.Properties, plane int) float64 {
	if plane == 0 {
		return s.Iyy
	}
	return s.Ixx
}

// refine halves the panels in which 1/I varies until the integral settles.
func (p *profile) refine(at cutter, plane int) error {
	for range 6 {
		before := p.flexibility(plane)
		var next []panel
		var fresh []int
		for _, q := range p.panels {
			if len(q.cuts) < 2 || q.variation(plane) < tolerance*before {
				next = append(next, q)
				continue
			}
			mid := (q.from + q.to) / 2
			fresh = append(fresh, len(next), len(next)+1)
			next = append(next, panel{from: q.from, to: mid}, panel{from: mid, to: q.to})
		}
		if len(fresh) == 0 || len(fresh)*2+p.count() > maxCuts {
			break
		}
		halves := make([]panel, len(fresh))
		for i, k := range fresh {
			halves[i] = next[k]
		}
		if err := fillPanels(at, halves); err != nil {
			return err
		}
		for i, k := range fresh {
			next[k] = halves[i]
		}
		p.panels = next
		p.error = abs(p.flexibility(plane)/before - 1)
		if p.error < tolerance {
			break
		}
	}
	return nil
}

// variation is how far the two cuts of a panel differ in their part of the
// integral of 1/I.
func (q panel) variation(plane int) float64 {
	a, b := q.cuts[0], q.cuts[1]
	return abs(a.Weight/along(a.Section, plane) - b.Weight/along(b.Section, plane))
}

// flexibility is the integral of 1/I.
func (p *profile) flexibility(plane int) float64 {
	var sum float64
	for c := range p.cuts() {
		sum += c.Weight / along(c.Section, plane)
	}
	return sum
}

func (p *profile) count() int {
	n := 0
	for _, q := range p.panels {
		n += len(q.cuts)
	}
	return n
}

// cuts yields the cuts in order along the beam.
func (p *profile) cuts() func(func(*cutSection) bool) {
	return func(yield func(*cutSection) bool) {
		for i := range p.panels {
			for k := range p.panels[i].cuts {
				if !yield(&p.panels[i].cuts[k]) {
					return
				}
			}
		}
	}
}

// line returns the reference line: the mean centroid.
func (p *profile) line() (u, v float64) {
	var length float64
	for c := range p.cuts() {
		u += c.Weight * c.Section.Centroid.X
		v += c.Weight * c.Section.Centroid.Y
		length += c.Weight
	}
	return u / length, v / length
}

// rigidityOf moves a section to the reference line (u0, v0).
func rigidityOf(s section.Properties, u0, v0 float64) rigidity {
	u, v := s.Centroid.X-u0, s.Centroid.Y-v0
	return rigidity{
		A: s.Area, Su: s.Area * u, Sv: s.Area * v,
		Iuu: s.Iyy + s.Area*u*u, Iuv: s.Ixy + s.Area*u*v, Ivv: s.Ixx + s.Area*v*v,
	}
}

// station turns a cut into an integration point of the frame.
func (c *cutSection) station(u0, v0 float64) station {
	st := station{
		S: c.S, Weight: c.Weight, Flex: rigidityOf(c.Section, u0, v0), Area: c.Section.Area,
		Inertia: [2]float64{c.Section.Iyy, c.Section.Ixx},
	}
	st.Flex.ShearU, st.Flex.ShearV = c.Flow[0].Area, c.Flow[1].Area
	return st
}

// nearest returns the cut closest to a place along the beam.
func (p *profile) nearest(s float64) *cutSection {
	var best *cutSection
	for c := range p.cuts() {
		if best == nil || abs(c.S-s) < abs(best.S-s) {
			best = c
		}
	}
	return best
}

// iterator returns a function that yields the cuts one by one.
func (p *profile) iterator() func() *cutSection {
	i, k := 0, -1
	return func() *cutSection {
		k++
		for k >= len(p.panels[i].cuts) {
			i, k = i+1, 0
		}
		return &p.panels[i].cuts[k]
	}
}
