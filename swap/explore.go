package swap

import (
	"math"
	"slices"

	"swapworth/materials"
	"swapworth/mesh/asmade"
)

// Exploration is what the plausible answers to everything that is not known would make
// of the verdict, for whoever can still ask.
type Exploration struct {
	Judged   Verdict // by the numbers alone, before what stands above them
	Tried    []Tried // what nobody said only where Case.Explore asks for it
	Doubtful string  // the part whose unit is in doubt, old or new; empty for none

	// A redesign that is not faced keeps the thickness of its plate, mm, on this side,
	// such as +z; empty where it is not cut from plate.
	PlateSide      string
	PlateThickness float64
}

// What nobody said and compare says nothing of until somebody does.
const (
	LoadSize   = "size of the load"
	MovingMass = "moving mass"
	PartCount  = "how many such parts move"
	MostHours  = "most hours"
)

// explored adds to the alternatives that were tried those of what nobody said: no
// turnovers, for there is nothing that they would replace.
func explored(c Case, m measured, j judged, a answer) Exploration {
	out := Exploration{Judged: j.outcome.verdict, Tried: slices.Clone(a.tried)}
	for _, one := range a.slips {
		if out.Doubtful == "" {
			out.Doubtful = one.unitOf
		}
	}
	if !c.Explore {
		return out
	}
	if w := j.price.work; w != nil {
		out.PlateSide, out.PlateThickness = milledSide(m.new.made), w.Blank[2]
	}
	quick := j.in
	quick.verdictOnly = true
	for _, one := range unsaid(j.in, c.Loading, m.old.known.material) {
		out.Tried = append(out.Tried, one.tried(judge(one.apply(quick)).verdict))
	}
	return out
}

// The lightest and the heaviest that what moves is tried as, in stock parts that move
// with it: a slide that is little but the part, and a heavy frame (common practice).
const lightestMove, heaviestMove = 2, 200

// unsaid lists plausible answers to what nobody said: the load that the stock part
// would just bear at the safety asked, a light and a heavy machine, several such parts
// on it, and half the hours that the redesign takes.
func unsaid(in inputs, l Loading, stock materials.Material) []alternative {
	var out []alternative
	add := func(what, to string, effort int, apply func(inputs) inputs) {
		out = append(out, alternative{assumption: what, from: "not said", to: to, effort: effort, apply: apply})
	}
	if f := bearable(in, stock); in.force.Nominal <= 0 && !l.named() && f > 0 {
		add(LoadSize, number(f)+" N, what the stock part bears", effortLook, func(in inputs) inputs { in.force = materials.Exactly(f); return in })
	}
	if !in.machine.known() && in.machine.Pivot == nil {
		for _, times := range []float64{lightestMove, heaviestMove} {
			grams := times * in.count * in.old.mass()
			add(MovingMass, number(grams)+" g", effortLook, func(in inputs) inputs { in.machine.MovingMass = grams; return in })
		}
	}
	if in.machine.known() {
		for _, n := range []float64{2, 4} {
			if n*in.old.mass() < in.machine.MovingMass { // the parts are part of what moves
				add(PartCount, number(n), effortLook, func(in inputs) inputs { in.count = n; return in })
			}
		}
	}
	if c := in.cost; c != nil && c.Hours != nil && in.limits.MaxHours == nil {
		half := *c.Hours / 2
		add(MostHours, number(half)+" h", effortDecide, func(in inputs) inputs { in.limits.MaxHours = &half; return in })
	}
	return out
}

// bearable is the force along the axes of the load, N, that the stock part bears at the
// safety asked, in the material that it is taken as; 0 where that is not known.
func bearable(in inputs, stock materials.Material) float64 {
	least := math.Inf(1)
	for _, d := range in.directions {
		if d.loads != nil || d.old.refused != "" || d.old.stress.perLoad.Nominal <= 0 {
			return 0
		}
		strength := stock.Strength.Bounds().Nominal
		least = min(least, strength/d.old.stress.perLoad.Nominal/in.limits.MinSafetyFactor)
	}
	if math.IsInf(least, 1) {
		return 0
	}
	return least
}

// milledSide names the side from which a part is milled first, such as +z; empty for
// one that is none of its box.
func milledSide(p asmade.Part) string {
	for _, name := range []string{"+x", "-x", "+y", "-y", "+z", "-z"} {
		if side, err := asmade.Side(name); err == nil && side == asmade.MillAxis(p) {
			return name
		}
	}
	return ""
}
