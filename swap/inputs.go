package swap

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
	return d.new.perModulus * in.new.modulus.Nominal / (d.old.perModulus * in.old.modulus.Nominal)
}

// saved is what all parts together save of what moves, in g or kg mm2.
func (in inputs) saved(oldMass, newMass float64) float64 {
	if in.machine.swinging() {
		return in.count * (in.old.inertia(oldMass) - in.new.inertia(newMass))
	}
	return in.count * (oldMass - newMass)
}
