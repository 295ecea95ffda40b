package swap

import (
	"math"
	"slices"
	"strings"

	"swapworth/mesh"
)

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
func breakEvens(in inputs, redesign *mesh.Mesh, p Pricing) []BreakEven {
	var out []BreakEven
	g := in.limits.MinGain
	if saved := in.count * (in.old.mass() - in.new.mass()); saved > 0 && g > 0 && in.machine.Pivot == nil && in.machine.largestMoving(saved, g) > 0 {
		out = append(out, BreakEven{
			"largest moving mass", in.machine.largestMoving(saved, g), "g",
			"up to this moving mass the saving still gains " + number(100*g) + " % of acceleration",
		})
	}
	if saved := inertiaSaved(in); saved > 0 && g > 0 && in.machine.Drive.Limited != BySpeed {
		out = append(out, BreakEven{
			"largest moving inertia", saved * (1 + g) / g, "kg mm2",
			"up to this moving inertia the saving still gains " + number(100*g) + " % of acceleration",
		})
	}
	lightest, heaviest, asked := massLimits(in)
	if (in.limits.asksGain(in.machine) || in.limits.asksSaving(in.machine)) && lightest > 0 && !math.IsInf(lightest, 0) && heaviest > 0 {
		out = append(out,
			BreakEven{"lightest stock part", lightest, "g", "with a stock part lighter than this the swap does not " + asked},
			BreakEven{"heaviest redesign", heaviest, "g", "with a redesign heavier than this the swap does not " + asked})
	}
	return slices.Concat(out, forceBreakEvens(in), thicknessBreakEven(in, redesign), moneyBreakEvens(in, p))
}

// massLimits returns the mass of the stock part, beside the redesign as it is,
// and that of the redesign, beside the stock part as it is, at which the swap
// just does what is asked of it: gain g, for which g/(1+g) of what moves must go,
// or else save s. A moment of inertia goes with the mass of its part.
func massLimits(in inputs) (lightest, heaviest float64, asked string) {
	oldMass, newMass := in.old.mass(), in.new.mass()
	if !in.machine.known() {
		s := in.limits.MinSaving
		return newMass / (1 - s), oldMass * (1 - s), "save " + number(100*s) + " %"
	}
	g := in.limits.MinGain
	if in.machine.Drive.Limited == BySpeed {
		return 0, 0, "" // no mass gains anything
	}
	asked = "gain " + number(100*g) + " % of acceleration"
	if !in.machine.swinging() {
		away := in.machine.pushed() * g / (1 + g) / in.count
		return newMass + away, oldMass - away, asked
	}
	away := in.machine.MovingInertia * g / (1 + g) / in.count
	oldInertia, newInertia := in.old.inertia(oldMass), in.new.inertia(newMass)
	return oldMass * (newInertia + away) / oldInertia, newMass * (oldInertia - away) / newInertia, asked
}

// moneyBreakEvens gives the value of an hour at which the cost reaches its
// limit. A quoted price does not depend on it.
func moneyBreakEvens(in inputs, p Pricing) []BreakEven {
	c, limit := in.cost, in.limits.MaxCost
	if p.Quoted != nil || limit == nil || c.Hours == nil || c.Stock == nil || *c.Hours <= 0 || *limit <= *c.Stock {
		return nil
	}
	return []BreakEven{{
		"largest value of an hour", (*limit - *c.Stock) / *c.Hours, strings.TrimSpace(c.Currency + " an hour"),
		"up to this value of your time the cost stays within " + c.Sum(number(*limit)),
	}}
}

// thicknessBreakEven gives the thickness at which the redesign is just as stiff
// as asked for, where the load acts along its thickness. Bending as a panel,
// stiffness goes with the cube of the thickness.
func thicknessBreakEven(in inputs, redesign *mesh.Mesh) []BreakEven {
	axis, limit := thinnestAxis(redesign), in.limits.MinStiffnessRatio
	for _, d := range in.directions {
		if d.loads != nil || d.name != axis.String() || d.old.refused != "" || d.new.refused != "" || limit <= 0 {
			continue
		}
		drawn := axis.Of(redesign.Bounds().Size())
		return []BreakEven{{
			"thinnest redesign", drawn * math.Cbrt(limit/in.nominalRatio(d)), "mm",
			"about where it keeps " + number(limit) + " of the stiffness, as a panel; vary solves it on the mesh",
		}}
	}
	return nil
}

// inertiaSaved returns the saved moment of inertia about the pivot in kg mm2,
// 0 without a pivot.
func inertiaSaved(in inputs) float64 {
	if in.machine.Pivot == nil {
		return 0
	}
	return in.count * (in.old.inertia(in.old.mass()) - in.new.inertia(in.new.mass()))
}

// forceBreakEvens gives the force at which the redesign yields, with the safety
// factor asked for taken off.
func forceBreakEvens(in inputs) []BreakEven {
	var out []BreakEven
	for _, d := range in.directions {
		if f := in.new.yieldForce(d, d.new); f != nil {
			out = append(out, BreakEven{
				"largest load along " + d.name, *f / in.limits.MinSafetyFactor, "N",
				"up to this load the redesign keeps a safety factor of " + number(in.limits.MinSafetyFactor) + " to yield",
			})
		}
	}
	return out
}
