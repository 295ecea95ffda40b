package swap

import (
	"math"

	"swapworth/materials"
	"swapworth/solid"
)

// inputs is every number the judgement rests on. To try an alternative, copy
// it, change one assumption and judge again.
type inputs struct {
	old, new    partInputs
	count       float64
	machine     Machine
	directions  []direction
	force       Range // N; zero unknown
	limits      Limits
	cost        *Cost
	verdictOnly bool     // spares the intervals
	attached    bool     // a mass that is not the part's own rides on it
	sameLot     bool     // both parts are cut from one delivery
	blocks      []string // findings that forbid `swap` whatever the numbers say
	draws       *sampler
}

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

// direction is one load case with the response of both parts.
type direction struct {
	loadCase
	method   Method
	old, new response
}

// load is how large the load of a case is, in multiples of what stress and
// deflection are per: N for a force along an axis, 0 where nobody said; 1 for
// loads as they are stated.
func (in inputs) load(d direction) float64 {
	if d.loads != nil {
		return 1
	}
	return in.force.Nominal
}

// response is what mechanics says of one part in one load case, free of the
// material: stiffness is perModulus x E and stress is perLoad x load.
type response struct {
	warnings   []string
	refused    string // why there is no stiffness; empty where there is one
	kind       solid.Kind
	perModulus float64           // stiffness in the sense of the kind over Young's modulus: mm for a force
	deflection float64           // times Young's modulus, over the load: N/mm for a force
	within     float64           // the true stiffness lies within this share of the estimate
	stress     stress            // von Mises, at its peak
	frequency  *float64          // Hz, the lowest as the part is held
	solvedAs   materials.Elastic // that the frequency was found with
	bent       Bent              // for figures; empty where the part is no beam
	reactions  []solid.Reaction  // of every hold, to the load as it was solved
}

// stress is the largest equivalent stress of a part over its load, 1/mm2 for a
// force in N. Its high end is infinite where no grid has shown that the peak has a
// limit; it is resolved where grids or submodels have settled it. Zero is unknown.
type stress struct {
	perLoad  Range
	resolved bool
}

// bounded reports whether anything bounds the peak from above.
func (s stress) bounded() bool { return !math.IsInf(s.perLoad.High, 1) }

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

// sameAlloy reports whether both parts are cut from one lot of one alloy, whose
// density, modulus and strength are then one draw for both.
func (in inputs) sameAlloy() bool {
	return in.sameLot && in.old.alloy != "" && in.old.alloy == in.new.alloy
}

// nominalRatio is the stiffness ratio new/old from nominal inputs.
func (in inputs) nominalRatio(d direction) float64 {
	return d.new.perModulus * in.new.modulus.Nominal / (d.old.perModulus * in.old.modulus.Nominal)
}

// stressError is the half-width of a peak stress that two grids agree on, and of
// a nominal beam stress at a plain section, as a fraction (common practice).
const stressError = 0.10

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

const gramsPerKilogram = 1000

// swinging reports whether the motion is a rotation whose inertia is known.
func (m Machine) swinging() bool { return m.Pivot != nil && m.MovingInertia > 0 }

// missing names the flag that would make a gain known.
func (m Machine) missing() string {
	if m.Pivot != nil {
		return "--moving-inertia"
	}
	return "--moving-mass"
}

// drawnOf is a quantity of both masses, for every draw of them.
func drawnOf(quantity func(oldMass, newMass float64) float64, oldMass, newMass []float64) []float64 {
	sample := make([]float64, len(oldMass))
	for i := range sample {
		sample[i] = quantity(oldMass[i], newMass[i])
	}
	return sample
}

// gainJudged reports whether the motion is known well enough for a gain.
func (in inputs) gainJudged() bool { return in.machine.MovingMass > 0 || in.machine.swinging() }
