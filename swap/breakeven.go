package swap

// BreakEven is a value at which a criterion turns.
type BreakEven struct {
	Quantity string  `json:"quantity"`
	Value    float64 `json:"value"`
	Unit     string  `json:"unit"`
	Meaning  string  `json:"meaning"`
}

// breakEvens solves the criteria for the inputs a person can act on. With a
// gain g asked for and a saving dm, M/(M-dm) - 1 = g at M = dm (1+g)/g; with a
// saving s asked for, the old mass is m_new/(1-s).
func breakEvens(in inputs) []BreakEven {
	oldMass, newMass := in.old.mass(), in.new.mass()
	var out []BreakEven
	g := in.limits.MinGain
	if saved := in.count * (oldMass - newMass); saved > 0 && g > 0 && in.machine.Pivot == nil {
		out = append(out, BreakEven{
			"largest moving mass", saved * (1 + g) / g, "g",
			"up to this moving mass the saving still gains " + number(100*g) + " % of acceleration",
		})
	}
	if saved := in.inertiaSaved(); saved > 0 && g > 0 {
		out = append(out, BreakEven{
			"largest moving inertia", saved * (1 + g) / g, "kg mm2",
			"up to this moving inertia the saving still gains " + number(100*g) + " % of acceleration",
		})
	}
	if s := in.limits.MinSaving; s < 1 {
		out = append(out,
			BreakEven{"lightest stock part", newMass / (1 - s), "g",
				"a stock part lighter than this does not save " + number(100*s) + " %"},
			BreakEven{"heaviest redesign", oldMass * (1 - s), "g",
				"a redesign heavier than this does not save " + number(100*s) + " %"})
	}
	return append(out, in.forceBreakEvens()...)
}

// inertiaSaved returns the saved moment of inertia about the pivot in kg mm2,
// 0 without a pivot.
func (in inputs) inertiaSaved() float64 {
	if in.machine.Pivot == nil {
		return 0
	}
	return in.count * (in.old.mass()*in.old.radius2 - in.new.mass()*in.new.radius2) / gramsPerKilogram
}

// forceBreakEvens gives the force at which the redesign yields, with the safety
// factor asked for taken off.
func (in inputs) forceBreakEvens() []BreakEven {
	var out []BreakEven
	for _, d := range in.directions {
		if f := in.new.yieldForce(d.new); f != nil {
			out = append(out, BreakEven{
				"largest load along " + d.name, *f / in.limits.MinSafetyFactor, "N",
				"up to this load the redesign keeps a safety factor of " + number(in.limits.MinSafetyFactor) + " to yield",
			})
		}
	}
	return out
}
