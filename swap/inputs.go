package swap

import (
	"swapworth/materials"
	"swapworth/swap/internal/draw"
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

// load is how large the load of a case is, in multiples of what stress and
// deflection are per: N for a force along an axis, 0 where nobody said; 1 for
// loads as they are stated.
func (in inputs) load(d direction) float64 {
	if d.loads != nil {
		return 1
	}
	return in.force.Nominal
}

// sameAlloy reports whether both parts are cut from one lot of one alloy, whose
// density, modulus and strength are then one draw for both.
func (in inputs) sameAlloy() bool {
	return in.sameLot && in.old.alloy != "" && in.old.alloy == in.new.alloy
}

// nominalRatio is the stiffness ratio new/old from nominal inputs.
func (in inputs) nominalRatio(d direction) float64 {
	return d.nominalRatio(in.old.modulus.Nominal, in.new.modulus.Nominal)
}

// saved is what all parts together save of what moves, in g or kg mm2.
func (in inputs) saved(oldMass, newMass float64) float64 {
	if in.machine.swinging() {
		return in.count * (in.old.inertia(oldMass) - in.new.inertia(newMass))
	}
	return in.count * (oldMass - newMass)
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

// gathered is everything that is known of a case after its first grids. blocks are what
// stands in the way of `swap` so far.
func gathered(c Case, p placed, found responses, blocks []string) inputs {
	in := inputs{
		old:        partInputsOf(p.old, c.Old, c.Machine),
		new:        partInputsOf(p.new, c.New, c.Machine),
		count:      c.count(),
		machine:    c.Machine,
		directions: found.directions,
		force:      c.Loading.Size(),
		limits:     c.Limits,
		sameLot:    c.SameLot,
		attached:   c.Loading.AttachedMass > 0,
		blocks:     blocks,
		draws:      new(sampler),
	}
	in.old.sizes.stiffness, in.new.sizes.stiffness = found.bySize[onStock], found.bySize[onRedesign]
	return in
}

// interval is the 95 % interval, or the nominal value alone where only the
// verdict is wanted: sorting the draws is what judging costs.
func (in inputs) interval(sample []float64, nominal float64) Range {
	if in.verdictOnly {
		return materials.Exactly(nominal)
	}
	return draw.Interval(sample, nominal)
}
