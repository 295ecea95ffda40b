package swap

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

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

// massRange returns the bounds of the mass in g, without probabilities: of a part that
// was not weighed those of density, mesh and sizes as milled together.
func (p partInputs) massRange() Range {
	if p.weighed != nil {
		return *p.weighed
	}
	return Range{
		Low:     p.density.Low * p.volume.Low * 1e-6 * math.Exp(-p.sizes.loose()),
		Nominal: p.mass(),
		High:    p.density.High * p.volume.High * 1e-6 * math.Exp(p.sizes.loose()),
	}
}

// safetyFactor returns the nominal safety factor, nil where load, strength or
// stress is unknown.
func (p partInputs) safetyFactor(r response, force float64) *float64 {
	if !p.strengthJudged(r, force) {
		return nil
	}
	v := p.strength.Nominal / (r.stress.perLoad.Nominal * force)
	return &v
}

func (p partInputs) strengthJudged(r response, force float64) bool {
	return r.refused == "" && r.stress.perLoad.Nominal > 0 && force > 0 && p.strength.Nominal > 0
}

// yieldForce returns the force in N at which the part yields, nil where strength
// or stress is unknown or the case is none of a force along an axis.
func (p partInputs) yieldForce(d direction, r response) *float64 {
	if d.loads != nil || !p.strengthJudged(r, 1) {
		return nil
	}
	v := p.strength.Nominal / r.stress.perLoad.Nominal
	return &v
}

func (p part) inputs(side Side, m Machine) partInputs {
	in := partInputs{
		volume:   p.volume,
		density:  p.known.density,
		modulus:  p.known.modulus,
		strength: p.known.strength,
		sizes:    p.sizes,
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

// radius2 returns the square of the radius of gyration about a pivot, in mm2:
// (I_c + V d2)/V with I_c about the parallel axis through the centroid at
// distance d (Steiner).
func (p part) radius2(pivot r3.Vec, axis mesh.Axis) float64 {
	arm := r3.Sub(p.placed.Centroid, pivot)
	along := axis.Of(arm)
	return p.placed.Inertia[axis][axis]/p.placed.Volume + r3.Norm2(arm) - along*along
}
