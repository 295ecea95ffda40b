package beam

import "math"

// held stiffens what lies near the supports, where the width cannot curl across:
// a flat section held flat has the rigidity of a plate, E I/(1-v^2), which fades
// to E I over a length of the order of the width.
func (p problem) held(st []station) []station {
	v := p.elastic.Poisson
	clampFrom, clampTo := p.setup.Support.clampedEnds()
	type support struct {
		at      float64
		clamped bool
	}
	ends := []support{{p.where.From, clampFrom}}
	if p.setup.Support != Cantilever {
		ends = append(ends, support{p.where.To, clampTo})
	}
	i := 0
	for c := range p.profile.cuts() {
		size := reachOf(c, p.plane)
		width := max(size.high[0]-size.low[0], size.high[1]-size.low[1])
		hold := 0.0 // of both supports: the equation is linear
		for _, e := range ends {
			hold += heldFlat(abs(c.S-e.at)/width, v, e.clamped)
		}
		st[i] = st[i].scaled(p.plane, along(c.Section, p.plane), 1/(1-v*v*min(hold, 1)))
		i++
	}
	return st
}

// heldFlat is how much of the curl a support takes away at the distance x, in
// widths. With the deflection W(x) + psi(x)(y^2 - B^2/12)/2 of a thin plate of
// the width B, least energy gives
//
//	(1-v^2) f - (1-v) B^2/6 f'' + B^4/720 f'''' = 0,   psi = psi_free (1 - f),
//
// and the curvature M/(E I) (1 - v^2 f), with f(0) = 1 and f'(0) = 0 at a clamp,
// f”(0) = 0 at a straight line of support. One term of Ritz holds the plate to
// one shape and makes it too stiff, if anything: a bound.
func heldFlat(x, v float64, clamped bool) float64 {
	// squares of the decay rates: roots of l^2/720 - (1-v) l/6 + (1-v^2) = 0
	p, q := 120*(1-v), 720*(1-v*v)
	root := math.Sqrt(p*p/4 - q) // real up to v = 0.6
	s1, s2 := p/2-root, p/2+root
	l1, l2 := math.Sqrt(s1), math.Sqrt(s2)
	near, far := math.Exp(-l1*x), math.Exp(-l2*x)
	if clamped {
		return (l2*near - l1*far) / (l2 - l1)
	}
	return (s2*near - s1*far) / (s2 - s1)
}
