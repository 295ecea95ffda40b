package beam

import "math"

// A beam that bends also curls across its width, by Poisson's ratio. A support
// across the width holds the section flat, so near it a flat bar has the rigidity of a plate,
// E I/(1-v^2), which fades to E I over a length of the order of the width. With
// the deflection W(x) + psi(x)(y^2 - B^2/12)/2 over a width B, least energy of
// the thin plate gives for the curl psi
//
//	(1-v^2) f - (1-v) B^2/6 f'' + B^4/720 f'''' = 0,   psi = psi_free (1 - f),
//
// and the curvature M/(E I) (1 - v^2 f), with f(0) = 1 and f'(0) = 0 at a clamp,
// f''(0) = 0 at a straight line of support: our own one-term Ritz solution of
// the Kirchhoff plate.

// curl is f at the distance x from a support, in widths.
func curl(x, v float64, clamped bool) float64 {
	if v <= 0 {
		return 0
	}
	// squares of the decay rates: roots of l^2/720 - (1-v) l/6 + (1-v^2) = 0
	p, q := 120*(1-v), 720*(1-v*v)
	root := p*p/4 - q
	if root <= 0 { // does not occur for 0 < v < 0.5
		return 0
	}
	s1, s2 := p/2-math.Sqrt(root), p/2+math.Sqrt(root)
	l1, l2 := math.Sqrt(s1), math.Sqrt(s2)
	near, far := math.Exp(-l1*x), math.Exp(-l2*x)
	if clamped {
		return (l2*near - l1*far) / (l2 - l1)
	}
	return (s2*near - s1*far) / (s2 - s1)
}

// holdWidth raises the effective rigidity near the supports of a flat section.
func (a *analysis) holdWidth() {
	fromClamped, toClamped := a.setup.Support.clampedEnds()
	type end struct {
		at      float64
		clamped bool
	}
	ends := []end{{a.where.From, fromClamped}}
	if a.setup.Support != Cantilever {
		ends = append(ends, end{a.where.To, toClamped})
	}
	for _, e := range ends {
		width, share := a.flatness(a.profile.nearest(e.at))
		for c := range a.profile.cuts() {
			f := share * curl(abs(c.S-e.at)/width, a.elastic.Poisson, e.clamped)
			k := 1 / (1 - a.elastic.Poisson*a.elastic.Poisson*f)
			if a.plane == 0 {
				c.HeldU, c.Eff.Iuu = c.HeldU*k, c.Eff.Iuu*k
			} else {
				c.HeldV, c.Eff.Ivv = c.HeldV*k, c.Eff.Ivv*k
			}
		}
	}
}

// flatness returns the width of a cut across the load, in mm, and how far it is
// one flat bar bent across its thickness: 1 for a solid rectangle twice as wide
// as deep, 0 for a thin-walled or ribbed one or one on edge.
func (a *analysis) flatness(c *cut) (width, share float64) {
	depth, width := pieceExtents(c.Region, a.plane)
	solid := width * depth * depth * depth / 12
	full := along(c.Section, a.plane) / solid
	if len(c.Region) > 1 {
		return width, 0
	}
	ramp := func(x, none, all float64) float64 { return min(max((x-none)/(all-none), 0), 1) }
	return width, ramp(full, 0.6, 0.95) * ramp(width/depth, 0.5, 2)
}
