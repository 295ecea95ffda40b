package beam

import "math"

// A beam that bends also curls across its width, by Poisson's ratio. A clamp
// holds the section flat, so near it a flat bar has the rigidity of a plate,
// E I/(1-v^2), which fades to E I over a length of the order of the width. With
// the deflection W(x) + psi(x)(y^2 - B^2/12)/2 over a width B, least energy of
// the thin plate gives for the curl psi
//
//	(1-v^2) f - (1-v) B^2/6 f'' + B^4/720 f'''' = 0,   psi = psi_free (1 - f),
//
// f(0) = 1, f'(0) = 0, and the curvature M/(E I) (1 - v^2 f): our own one-term
// Ritz solution of the Kirchhoff plate.

// curl is f at the distance x from a clamp, in widths.
func curl(x, v float64) float64 {
	if v <= 0 {
		return 0
	}
	// squares of the decay rates: roots of l^2/720 - (1-v) l/6 + (1-v^2) = 0
	p, q := 120*(1-v), 720*(1-v*v)
	root := p*p/4 - q
	if root <= 0 { // does not occur for 0 < v < 0.5
		return 0
	}
	l1, l2 := math.Sqrt(p/2-math.Sqrt(root)), math.Sqrt(p/2+math.Sqrt(root))
	return (l2*math.Exp(-l1*x) - l1*math.Exp(-l2*x)) / (l2 - l1)
}

// clampWidth raises the effective rigidity near the clamps of a flat section.
func (a *analysis) clampWidth() {
	from, to := a.setup.Support.clampedEnds()
	for i, at := range []float64{a.where.From, a.where.To} {
		if !(from && i == 0 || to && i == 1) {
			continue
		}
		end := a.profile.nearest(at)
		width, share := a.flatness(end)
		for c := range a.profile.cuts() {
			f := share * curl(abs(c.S-at)/width, a.elastic.Poisson)
			k := 1 / (1 - a.elastic.Poisson*a.elastic.Poisson*f)
			c.Held *= k
			if a.plane == 0 {
				c.Eff.Iuu *= k
			} else {
				c.Eff.Ivv *= k
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
	full := c.Section.along(a.plane) / solid
	if len(c.Region) > 1 {
		return width, 0
	}
	ramp := func(x, none, all float64) float64 { return min(max((x-none)/(all-none), 0), 1) }
	return width, ramp(full, 0.6, 0.95) * ramp(width/depth, 0.5, 2)
}
