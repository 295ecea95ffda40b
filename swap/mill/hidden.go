package mill

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/reach"
)

// hollows finds what is closed all around.
func (c *checker) hollows() {
	c.inCavity = map[int32]bool{}
	for _, h := range c.Cavities() {
		for f := range h.Faces {
			c.inCavity[f] = true
		}
		c.add(Finding{
			Kind: ClosedCavity, Where: where(h.At), Value: h.Longest, Blocks: true, Count: 1,
			Says:   said("a hollow %v mm long is closed all around", h.Longest),
			Change: "open it to one side, or make the part of two",
		}, larger)
	}
}

// smallestHidden is the area below which a hidden surface is rounding of the mesh
// and no undercut, as a share of the part's surface; one sample is 1/4000.
const smallestHidden = 1e-4

// trifle is how far a surface has to lie under another to be an undercut, mm: chords
// of curved walls lean by some hundredths.
const trifle = 0.05

// hidden finds what no way sees. A bore that no drill comes at is one kind, all
// else an undercut, measured by how far it lies under what covers it.
func (c *checker) hidden() {
	var all []reach.Sample
	total := 0.0
	for _, s := range c.Samples {
		total += s.Area
		if s.Seen == 0 && !c.inCavity[s.Face] && !c.given(s) {
			all = append(all, s)
		}
	}
	for _, group := range near(all, 6*math.Sqrt(total/float64(max(1, len(c.Samples))))) {
		area, bored := 0.0, 0.0
		for _, s := range group {
			area += s.Area
			if c.InHole(s) {
				bored += s.Area
			}
		}
		if area < smallestHidden*total {
			continue
		}
		if bored > area/2 {
			s := group[0]
			d := 2 * c.Round(s).Radius
			c.add(Finding{
				Kind: Unreachable, Where: where(s.At), Value: d, Blocks: true, Count: 1,
				Says:   said("no drill comes at the hole of %v mm: material stands before both ends", d),
				Change: "open a way for the drill, or leave the hole out",
			}, larger)
			continue
		}
		worst, by := c.deepestUnder(group)
		if by < trifle {
			continue
		}
		if depth, ok := c.groove(group); ok {
			c.add(Finding{
				Kind: Undercut, Where: where(worst.At), Value: depth,
				Says:   said("a thread or a groove %v mm deep is drawn in: tap it, or cut it with a grooving cutter", depth),
				Change: "draw the tapping drill in place of the thread; have a cutter for the groove",
			}, larger)
			continue
		}
		c.add(Finding{
			Kind: Undercut, Where: where(worst.At), Value: by, Blocks: true,
			Says:   said("a surface lies %v mm under what covers it: no set-up reaches it", by),
			Change: "open the mouth as wide as the hollow, or make the part of two",
		}, larger)
	}
}

// deepestUnder returns the sample that lies furthest under what covers it, of some
// evenly chosen ones; those from which a straight way leads out come first.
func (c *checker) deepestUnder(group []reach.Sample) (worst reach.Sample, by float64) {
	const tries = 60
	step := max(1, len(group)/tries)
	by = -1
	leadsOut := false
	for i := 0; i < len(group); i += step {
		d, ok := c.HiddenBy(group[i], c.main)
		if ok && !leadsOut || ok == leadsOut && d > by {
			worst, by, leadsOut = group[i], d, ok
		}
	}
	return worst, by
}

const (
	// grooveDepth is how deep, as a share of the diameter, a ring under a lip may
	// be and still be a thread or a groove: ISO threads are 0.54 pitches deep, which is
	// 0.11 of the diameter at M2 and less above; grooves of retaining rings less still.
	grooveDepth = 0.12
	sectors     = 8 // in which a ring has to have surface, but for one
)

// groove reports whether hidden samples are a ring around an axis, such as the
// flanks of a drawn thread, and how deep it is along the radius, mm.
func (c *checker) groove(group []reach.Sample) (depth float64, ok bool) {
	if len(group) < sectors {
		return 0, false
	}
	for k := 0; k < len(c.Ways); k++ {
		u := c.Ways[(k+2)%min(6, len(c.Ways))]
		if math.Abs(r3.Dot(u, c.Ways[k])) > steep {
			u = c.Ways[(k+4)%min(6, len(c.Ways))]
		}
		u = r3.Unit(r3.Sub(u, r3.Scale(r3.Dot(u, c.Ways[k]), c.Ways[k])))
		if depth, ok := ring(group, u, r3.Cross(c.Ways[k], u)); ok {
			return depth, true
		}
	}
	return 0, false
}

// ring reports whether samples, seen along the normal of u and v, lie in a narrow
// ring that goes around.
func ring(group []reach.Sample, u, v r3.Vec) (depth float64, ok bool) {
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, s := range group {
		for k, x := range [2]float64{r3.Dot(s.At, u), r3.Dot(s.At, v)} {
			low[k], high[k] = min(low[k], x), max(high[k], x)
		}
	}
	x, y := (low[0]+high[0])/2, (low[1]+high[1])/2
	var filled [sectors]bool
	inner, outer := math.Inf(1), 0.0
	for _, s := range group {
		sin, cos := r3.Dot(s.At, v)-y, r3.Dot(s.At, u)-x
		r := math.Hypot(sin, cos)
		inner, outer = min(inner, r), max(outer, r)
		filled[int((math.Atan2(sin, cos)/math.Pi+1)/2*sectors)%sectors] = true
	}
	n := 0
	for _, is := range filled {
		if is {
			n++
		}
	}
	return outer - inner, n >= sectors-1 && outer-inner <= 2*grooveDepth*outer
}

// near groups samples that are nearer than mm to one another, over a grid of that
// size.
func near(samples []reach.Sample, mm float64) [][]reach.Sample {
	type cell [3]int
	at := func(p r3.Vec) cell {
		return cell{int(math.Floor(p.X / mm)), int(math.Floor(p.Y / mm)), int(math.Floor(p.Z / mm))}
	}
	in := map[cell][]int{}
	for i, s := range samples {
		in[at(s.At)] = append(in[at(s.At)], i)
	}
	var out [][]reach.Sample
	seen := make([]bool, len(samples))
	for i := range samples {
		if seen[i] {
			continue
		}
		seen[i] = true
		queue := []int{i}
		var group []reach.Sample
		for len(queue) > 0 {
			s := samples[queue[0]]
			queue = queue[1:]
			group = append(group, s)
			home := at(s.At)
			for k := range 27 { // neighbouring cells count as near: one pass over each
				next := cell{home[0] + k%3 - 1, home[1] + k/3%3 - 1, home[2] + k/9 - 1}
				for _, j := range in[next] {
					if !seen[j] {
						seen[j] = true
						queue = append(queue, j)
					}
				}
				delete(in, next)
			}
		}
		out = append(out, group)
	}
	return out
}
