package mill

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/reach"
)

const (
	level   = 0.7 // cosine against the milling direction above which a face is a floor
	steep   = 0.3 // and below which a cutter meets it with its side
	stocky  = 2.0 // a wall lower than so many thicknesses is an edge, and stands
	scratch = 1.0 // mm: a shallower groove is engraved, whatever its width
	sameFit = 0.02
)

// walls judges every sample: the material behind it, and the air before it.
func (c *checker) walls() {
	walls, thin, deep := 0.0, 0.0, 0.0
	for _, s := range c.Samples {
		if c.inCavity[s.Face] || s.Seen == 0 {
			continue
		}
		upright := math.Abs(r3.Dot(s.Normal, c.Ways[c.main])) < steep
		if upright {
			walls += s.Area
		}
		if c.thickness(s) && upright {
			thin += s.Area
		}
		if c.given(s) || c.OnSkin(s) {
			continue
		}
		if r := c.Round(s); r != nil && c.InHole(s) && 2*r.Radius <= c.drilled {
			continue // drilled
		}
		if c.room(s) {
			deep += s.Area
		}
	}
	if walls > 0 {
		c.out.Hard.Thin, c.out.Hard.Deep = min(1, thin/walls), min(1, deep/walls)
	}
}

// thickness judges the wall or floor behind a sample, and reports whether it is
// hard to mill.
func (c *checker) thickness(s reach.Sample) bool {
	t, behind, ok := c.Thickness(s)
	if !ok {
		return false
	}
	opposite := reach.Sample{At: r3.Sub(s.At, r3.Scale(t, s.Normal)), Normal: c.Normal(behind), Face: behind, Seen: s.Seen}
	if c.OnSkin(s) && c.OnSkin(opposite) || c.given(s) && c.given(opposite) {
		return false // the plate itself, or the tube's own wall
	}
	if c.floor(s) {
		return c.thin(ThinFloor, "floor", s, t)
	}
	if t > c.careful && t*c.limits.Rib > c.Box.Size().Z && t*c.limits.Rib > c.Box.Size().Y && t*c.limits.Rib > c.Box.Size().X {
		return false // thick enough for any height
	}
	height := min(c.height(s), c.height(opposite)) // the side that stands on more counts
	switch {
	case height < stocky*t:
		return false
	case t < c.careful-sameFit:
		return c.thin(ThinWall, "wall", s, t)
	case height > c.limits.Rib*t*(1+1e-3):
		c.add(Finding{
			Kind: ThinWall, Where: where(s.At), Value: t, Limit: height / c.limits.Rib,
			Says:   said("a wall %v mm thick stands %v mm high, over %v times its thickness: it chatters and bends away from the cutter", t, height, c.limits.Rib),
			Change: "make the wall thicker or lower, or rough both sides in steps",
		}, smaller)
		return true
	}
	return false
}

// thin adds what is said of a wall or floor that is thinner than is good.
func (c *checker) thin(kind Kind, what string, s reach.Sample, t float64) bool {
	if t >= c.careful-sameFit {
		return false
	}
	f := Finding{Kind: kind, Where: where(s.At), Value: t, Limit: c.careful}
	f.Says = said("a "+what+" is %v mm thin; below %v mm it is hard to mill", t, c.careful)
	f.Change = said("make the "+what+" %v mm or more", c.careful)
	if t < c.wall-sameFit {
		f.Blocks, f.Limit = true, c.wall
		f.Says = said("a "+what+" is %v mm thin; this mill does not hold less than %v mm", t, c.wall)
	}
	c.add(f, smaller)
	return true
}

// floor reports whether the material behind a sample is a floor: it lies square to
// the way it is milled from.
func (c *checker) floor(s reach.Sample) bool {
	if math.Abs(r3.Dot(s.Normal, c.Ways[c.main])) > level {
		return true
	}
	if s.Sees(c.main) || s.Sees(c.main^1) {
		return false
	}
	for k, d := range c.Ways {
		if s.Sees(k) && r3.Dot(s.Normal, d) > level {
			return true
		}
	}
	return false
}

// height is how high the wall behind a sample stands, along the main way where that
// sees it, else along the way of those it is seen from that makes it lowest.
func (c *checker) height(s reach.Sample) float64 {
	gap, _ := c.Gap(s)
	least := math.Inf(1)
	ofMain := s.Sees(c.main) || s.Sees(c.main^1)
	for k, d := range c.Ways {
		if s.Sees(k) && (ofMain && k/2 == c.main/2 || !ofMain && math.Abs(r3.Dot(s.Normal, d)) < steep) {
			rises, down, _ := c.Stands(s, d, gap)
			least = min(least, rises+down)
		}
	}
	return least
}

// fit is how a cutter gets at a wall along one way, the best first.
type fit int

const (
	easy fit = iota
	farDown
	narrow      // a smaller cutter would do
	tooDeep     // no cutter that fits reaches
	tooNarrow   // no cutter fits, and none that would reaches
	neverLooked // nothing sees it
)

// room judges the air before a sample, along the way that is easiest, and reports
// whether the cutter has far to go.
func (c *checker) room(s reach.Sample) bool {
	for k, d := range c.Ways {
		if s.Sees(k) && r3.Dot(s.Normal, d) > steep {
			return false // cut with the end of the cutter
		}
	}
	gap, walled := c.Gap(s)
	lip, covered := c.underLip(s)
	if covered { // a cutter from the open end has to stay under the lip
		gap, walled = c.Clear(s)
	}
	if !walled {
		gap = 0
	}
	best, found, excess := neverLooked, Finding{}, 1.0
	for _, k := range c.inTurn() {
		if !s.Sees(k) {
			continue
		}
		rises, down, open := c.Stands(s, c.Ways[k], gap)
		depth := rises + down
		if open && s.Sees(k^1) && k < 6 {
			depth /= 2 // half from each side
		}
		if how, f, over := c.enters(gap, walled, depth); how < best {
			best, found, excess = how, f, over
		}
	}
	if best == easy || best == neverLooked {
		return false
	}
	if covered {
		found = Finding{
			Kind: Undercut, Value: lip, Blocks: true,
			Says:   said("a surface lies %v mm under a lip, open at an end only: a T-slot or dovetail cutter's work", lip),
			Change: "open it to the top, or have it cut with a T-slot or dovetail cutter",
		}
	}
	found.Where = where(s.At)
	c.out.Hard.Excess = max(c.out.Hard.Excess, excess)
	if found.Kind == Unreachable {
		c.add(found, smaller)
	} else {
		c.add(found, larger)
	}
	return true
}

// inTurn lists the ways, those of the set-ups first: of ways that are as hard, the
// finding speaks of the one the part is milled from.
func (c *checker) inTurn() []int {
	if c.turn == nil {
		c.turn = slices.Clone(c.setUps)
		for k := range c.Ways {
			if !slices.Contains(c.setUps, k) {
				c.turn = append(c.turn, k)
			}
		}
	}
	return c.turn
}

// enters judges a gap of some width and depth, mm. excess is its depth over what
// is not deep for the cutter that goes in.
func (c *checker) enters(width float64, walled bool, depth float64) (how fit, f Finding, excess float64) {
	mills := c.limits.EndMills
	least := mills[0].Diameter
	if walled && width < least-sameFit {
		f = Finding{
			Kind: Unreachable, Value: width, Limit: least,
			Says:   said("a gap of %v mm is narrower than the smallest cutter of %v mm, and %v mm deep", width, least, depth),
			Change: said("widen it to %v mm, or add a smaller cutter to the profile", least),
		}
		switch {
		case depth <= scratch:
			return easy, f, 1
		case depth <= c.limits.Depth*width:
			return narrow, f, 1
		}
		f.Blocks = true
		return tooNarrow, f, 1
	}
	reaches, largest := -1, 0
	for i, m := range mills {
		if walled && m.Diameter > width+sameFit {
			break
		}
		largest = i
		if m.Reach >= depth-sameFit {
			reaches = i
		}
	}
	what := "a wall"
	if walled {
		what = said("a gap %v mm wide", width)
	}
	if reaches < 0 {
		reach := mills[largest].Reach
		return tooDeep, Finding{
			Kind: DeepPocket, Value: depth, Limit: reach, Blocks: true,
			Says:   said(what+" is %v mm deep: a cutter of %v mm, the largest that goes in, reaches %v mm", depth, mills[largest].Diameter, reach),
			Change: said("make it %v mm deep or less, or wider", reach),
		}, depth / (c.limits.Depth * mills[largest].Diameter)
	}
	d := mills[reaches].Diameter
	if depth <= c.limits.Depth*d+sameFit {
		return easy, f, 1
	}
	return farDown, Finding{
		Kind: DeepPocket, Value: depth, Limit: c.limits.Depth * d,
		Says:   said(what+" is %v mm deep, over %v times the cutter of %v mm: light cuts, and it may chatter", depth, c.limits.Depth, d),
		Change: said("make it %v mm deep or less, or wider", c.limits.Depth*d),
	}, depth / (c.limits.Depth * d)
}

// underLip returns how far a sample that only an open end lets see lies under what
// stands over it, where a little to the side nothing does.
func (c *checker) underLip(s reach.Sample) (mm float64, ok bool) {
	if s.Sees(c.main) || s.Sees(c.main^1) {
		return 0, false
	}
	mm = math.Inf(1)
	for k := range 6 {
		if !s.Sees(k) && !s.Sees(k^1) {
			if by, out := c.HiddenBy(s, k); out {
				mm = min(mm, by)
			}
		}
	}
	return mm, !math.IsInf(mm, 1)
}
