package swap

// partInputs is one part as the judgement sees it.
type partInputs struct {
	alloy      string  // parts of one lot of an alloy share its draws; empty shares nothing
	volume     Range   // mm3
	density    Range   // kg/m3, used where the part was not weighed
	cast       Range   // kg/m3, of the alloy that a weight agrees with; zero where it tells none
	weighed    *Range  // g
	reading    Range   // g, without the error of the scale
	scaleError float64 // that may be, as a share of what it shows
	sizes      sizes
	modulus    Range   // MPa
	strength   Range   // MPa; zero: unknown
	twist      float64 // least share of a stiffness in twist that fibres and grain leave; 0 or 1: all of it
	radius2    float64 // mm2: moment of inertia about the pivot over mass
}

// mass returns the nominal mass in g.
func (p partInputs) mass() float64 {
	if p.weighed != nil {
		return p.weighed.Nominal
	}
	return p.density.Nominal * p.volume.Nominal * 1e-6
}

// inertia returns the moment of inertia about the pivot, in kg mm2, of the part
// at a mass in g.
func (p partInputs) inertia(grams float64) float64 { return grams * p.radius2 / gramsPerKilogram }

// sizes is what the permissible deviations of a part's sizes do to its mass and to its
// stiffness in each load case. The zero value is a part exactly as drawn.
type sizes struct {
	mass      bySize
	stiffness map[string]bySize // by the name of the load case
}

// none reports whether nothing moves the part.
func (z sizes) none() bool { return z.mass == bySize{} }

// scaled returns what deviations k times as large, against the part's size, do.
func (z sizes) scaled(k float64) sizes {
	out := sizes{stiffness: map[string]bySize{}}
	for e := range z.mass {
		out.mass[e] = k * z.mass[e]
	}
	for name, by := range z.stiffness {
		for e := range by {
			by[e] *= k
		}
		out.stiffness[name] = by
	}
	return out
}

// partInputsOf puts a part into numbers, its stiffness by size left out.
func partInputsOf(p placedPart, side Side, m Machine) partInputs {
	in := partInputs{
		volume:   p.volume,
		density:  p.known.density,
		modulus:  p.known.modulus,
		strength: p.known.strength,
		sizes:    sizes{mass: p.tolerance.mass},
		twist:    p.known.material.Twist().Low,
	}
	if p.known.basis != Identified {
		in.alloy = p.known.material.Name
	}
	if side.Weight != nil {
		w := side.Weight.Range()
		in.weighed, in.reading, in.scaleError = &w, side.Weight.Reading(), side.Weight.Error
		if p.known.basis == Weighed {
			in.cast = p.known.material.Density
		}
	}
	if m.Pivot != nil {
		in.radius2 = p.radius2(*m.Pivot, m.PivotAxis)
	}
	return in
}
