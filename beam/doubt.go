package beam

// What a beam leaves open, each from a derivation or a published result. The
// stiffness is found again with every bound at its worst on either side.
const (
	// shearDoubt is the share of the shear deflection that depends on how a
	// clamp holds. A cantilever of plane stress whose clamp lets the section curl
	// sags by 3/2 F L/(G A) beyond bending, where beams have 6/5 (Timoshenko and
	// Goodier, Theory of Elasticity, bending of a cantilever loaded at the end).
	shearDoubt = 3./2/(6./5) - 1

	// thinWalled is how full of its hull a section is below which its flanges
	// follow the webs late: more of the hull is empty than full.
	thinWalled = 0.5

	// sayDoubt is the error from which on a warning says so.
	sayDoubt = 0.05
)

// methodError bounds the stiffness from both sides.
func (p problem) methodError(give float64, bar *torsionBar) (*MethodError, error) {
	low, high := p.stations(), p.stations()
	own := low
	if !p.handbook {
		reached, _ := p.reached()
		leaning := p.leaning()
		for i := range reached {
			reached[i] *= leaning[i]
		}
		own = p.weakened(reached)
		low = p.lagging(p.weakened(reached))
		high = p.held(high)
	}
	softer, err := p.giveOf(p.sheared(low, 1+shearDoubt), bar.loosely(p))
	if err != nil {
		return nil, err
	}
	stiffer, err := p.giveOf(p.sheared(high, 1-shearDoubt), bar)
	if err != nil {
		return nil, err
	}
	changed, err := p.giveOf(own, bar.loosely(p))
	if err != nil {
		return nil, err
	}
	e := p.profile.error
	return &MethodError{
		Low: min(give/softer-1, 0) - e, High: max(give/stiffer-1, 0) + e,
		Own: max(1-give/changed, 0),
	}, nil
}

func (p problem) giveOf(st []station, bar *torsionBar) (float64, error) {
	f, err := p.frameOf(st)
	if err != nil {
		return 0, err
	}
	return p.give(f, bar)
}

// sheared multiplies the flexibility in shear.
func (p problem) sheared(st []station, by float64) []station {
	out := append([]station{}, st...)
	for i := range out {
		out[i].Flex.ShearU /= by
		out[i].Flex.ShearV /= by
	}
	return out
}

// lagging takes from the shear areas what flanges that follow the webs late give
// way by. The displacement of half-flanges b wide lags by the parabola
// U (1 - y^2/b^2); away from the ends least energy leaves U = -V b^2/(2 G I) and with
// it the curvature (2/3) U' Is/I, Is being the flanges' own share of I, here all of it
// (E. Reissner, Q. Appl. Math. 4 (1946) 268, from memory). So they add V b^2/(3 G I) to
// the slope: 1/A' = 1/A + b^2/(3 I).
func (p problem) lagging(st []station) []station {
	i := 0
	for c := range p.profile.cuts() {
		if c.Section.Area < thinWalled*c.Hull.Area {
			size := reachOf(c, p.plane)
			half := (size.high[1] - size.low[1]) / 2
			area := &st[i].Flex.ShearU
			if p.plane == 1 {
				area = &st[i].Flex.ShearV
			}
			*area = 1 / (1 / *area + half*half/(3*along(c.Section, p.plane)))
		}
		i++
	}
	return st
}
