package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/internal/gauss"
)

// Plane sections take every section as it is, however short it is. Behind a
// step or a cut-out the stress has to spread first, and material beside its path
// is idle. What follows bounds how much, and with it what a beam does not know.

const (
	// stepSpread is the tangent at which stress spreads behind a step, on either
	// side. A bar of depth h that grows out of a half-space gains the root
	// rotation 16.67 M/(pi E h^2) (W. J. O'Donnell, J. Appl. Mech. 27 (1960) 461,
	// from memory), as much as 16.67/(12 pi) h = 0.442 h of its own length; a bar
	// that widens on both sides at the tangent s has h/(4 s) of it.
	stepSpread = 1 / (4 * 16.67 / (12 * math.Pi))

	// holeSpread is the tangent at which stress closes again behind a cut-out. A
	// small round hole of radius a in even stress costs three times the energy of
	// its own area (G. Kirsch 1898, by the growth of the hole at a fixed remote
	// stress: dU/da = 1/2 integral (2 cos 2t - 1)^2 s^2/E a dt); two of the three
	// lie in the idle triangles of base 2a on both sides, of height pi a.
	holeSpread = 1 / math.Pi
)

// reach is what of a section the stress reaches: its extent along and across
// the load, and how full it is of its hull in bending.
type reach struct {
	low, high [2]float64 // mm, along the load, then across it
	full      float64    // I of the section over that of its hull
}

// reachOf is all of a section.
func reachOf(c *cutSection, plane int) reach {
	lo, hi := inPlane(c.Section.Low, plane), inPlane(c.Section.High, plane)
	return reach{low: lo, high: hi, full: along(c.Section, plane) / along(c.Hull, plane)}
}

// inPlane returns the coordinates along the load and across it.
func inPlane(v r2.Vec, plane int) [2]float64 {
	if plane == 0 {
		return [2]float64{v.X, v.Y}
	}
	return [2]float64{v.Y, v.X}
}

// grown is the reach a distance further on.
func (r reach) grown(distance float64) reach {
	size := max(r.high[0]-r.low[0], r.high[1]-r.low[1])
	for k := range 2 {
		r.low[k] -= stepSpread * distance
		r.high[k] += stepSpread * distance
	}
	r.full += 2 * holeSpread * distance / size
	return r
}

// within leaves what also lies in q.
func (r reach) within(q reach) reach {
	for k := range 2 {
		r.low[k], r.high[k] = max(r.low[k], q.low[k]), min(r.high[k], q.high[k])
	}
	r.full = min(r.full, q.full)
	return r
}

// towards carries the change from r to q on, by the share x of it.
func (r reach) towards(q reach, x float64) reach {
	for k := range 2 {
		r.low[k] += (q.low[k] - r.low[k]) * x
		r.high[k] += (q.high[k] - r.high[k]) * x
	}
	r.full += (q.full - r.full) * x
	return r
}

// of is the second moment of what is reached over that of all of q: as the cube
// of the extent along the load and as the one across it, and as the fullness.
func (r reach) of(q reach) (extent, full float64) {
	share := func(k int) float64 { return max(r.high[k]-r.low[k], 0) / (q.high[k] - q.low[k]) }
	return share(0) * share(0) * share(0) * share(1), r.full / q.full
}

// reached returns for every cut the share of its second moment that the stress
// reaches, the smaller of what comes from either side, and steps the share that
// the outer extents alone leave.
func (p problem) reached() (share, steps []float64) {
	var all []*cutSection
	var edges [][2]float64    // of each cut's panel
	var partner []*cutSection // the other cut of the panel
	for i := range p.profile.panels {
		q := &p.profile.panels[i]
		for k := range q.cuts {
			all = append(all, &q.cuts[k])
			edges = append(edges, [2]float64{q.from, q.to})
			partner = append(partner, &q.cuts[len(q.cuts)-1-k])
		}
	}
	own := make([]reach, len(all))
	for i, c := range all {
		own[i] = reachOf(c, p.plane)
	}
	// at is the section as it would be at an edge of the cut's panel
	at := func(i int, x float64) reach {
		if partner[i] == all[i] {
			return own[i]
		}
		return own[i].towards(reachOf(partner[i], p.plane), (x-all[i].S)/(partner[i].S-all[i].S))
	}
	share, steps = make([]float64, len(all)), make([]float64, len(all))
	for i := range share {
		share[i], steps[i] = 1, 1
	}
	for _, forward := range []bool{true, false} {
		var state reach
		place := 0.0
		for k := range all {
			i, near, far := k, 0, 1
			if !forward {
				i, near, far = len(all)-1-k, 1, 0
			}
			if k == 0 {
				state, place = at(i, edges[i][near]), edges[i][near]
			} else if edges[i][near] == place {
				state = state.within(at(i, place))
			}
			state = state.grown(abs(all[i].S - place)).within(own[i])
			extent, full := state.of(own[i])
			share[i], steps[i] = min(share[i], extent*full), min(steps[i], extent)
			place = all[i].S
			if last := k == len(all)-1; !last {
				if next := edges[i][far]; i+step(forward) >= 0 && edges[i+step(forward)] != edges[i] {
					state = state.grown(abs(next - place)).within(at(i, next))
					place = next
				}
			}
		}
	}
	return share, steps
}

func step(forward bool) int {
	if forward {
		return 1
	}
	return -1
}

// leaning returns for every cut the share of its second moment that stays where
// its sides lean: a fibre at the tangent t to the span carries its stress along
// itself, E/(1+t^2)^2 along the span, and t runs evenly from side to side. A
// section that leans across the load twists too, by its own torque M t against
// the torsion constant A^4/(40 Ip) (Saint-Venant).
func (p problem) leaning() []float64 {
	var out []float64
	for i := range p.profile.panels {
		q := &p.profile.panels[i]
		share := 1.0
		if len(q.cuts) > 1 {
			share = p.leaningOf(&q.cuts[0], &q.cuts[1])
		}
		for range q.cuts {
			out = append(out, share)
		}
	}
	return out
}

func (p problem) leaningOf(a, b *cutSection) float64 {
	from, to := reachOf(a, p.plane), reachOf(b, p.plane)
	length := b.S - a.S
	var mean, fan [2]float64
	for k := range 2 {
		low, high := (to.low[k]-from.low[k])/length, (to.high[k]-from.high[k])/length
		// steeper sides are steps, whose stress spreads
		low, high = clamped(low), clamped(high)
		mean[k], fan[k] = (low+high)/2, (high-low)/2
	}
	var bent, wide float64
	for _, g := range gauss.Three(-1, 1) {
		slack := func(k int) float64 { t := mean[k] + fan[k]*g.X; return 1 / ((1 + t*t) * (1 + t*t)) }
		bent += g.W * 3 / 2 * g.X * g.X * slack(0)
		wide += g.W / 2 * slack(1)
	}
	s := a.Section
	area := s.Area * s.Area
	j := area * area / (40 * (s.Ixx + s.Iyy))
	twist := mean[1] * mean[1] * 2 * (1 + p.elastic.Poisson) * along(s, p.plane) / j
	return bent * wide / (1 + twist)
}

func clamped(t float64) float64 { return max(-stepSpread, min(t, stepSpread)) }
