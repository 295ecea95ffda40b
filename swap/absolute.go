package swap

import "math"

// Absolute limits that a person may ask for, whatever the stock part does. A nil limit
// was not asked for.
type Absolute struct {
	MaxMass       *float64 // g, of one redesign
	MaxDeflection *float64 // mm, in every load case
	MinFrequency  *float64 // Hz, the lowest as the part is held
}

// judgeAbsolute holds the redesign itself against the absolute limits.
func (o *outcome) judgeAbsolute(in inputs, newMass []float64) {
	if limit := in.limits.MaxMass; limit != nil {
		nominal := in.new.mass()
		o.judged(absoluteCriterion, "mass (g)", *limit, in.interval(append([]float64(nil), newMass...), nominal),
			atMost(newMass, *limit), nominal <= *limit)
		o.upper()
	}
	for _, d := range in.directions {
		o.judgeDeflection(in, d)
	}
	o.judgeFrequency(in)
}

// judgeDeflection judges the deflection under a load case: load over stiffness, with the
// modulus and the method's error drawn as they are for the stiffness.
func (o *outcome) judgeDeflection(in inputs, d direction) {
	limit := in.limits.MaxDeflection
	if limit == nil {
		return
	}
	name, load := "deflection "+d.among()+" (mm)", in.load(d)
	if d.new.refused != "" || load <= 0 {
		o.notJudged(absoluteCriterion, name, *limit, missingForSafety(in, d))
		o.upper()
		return
	}
	nominal := d.new.deflection * load / in.new.modulus.Nominal
	moves := in.new.stiffnesses(in.draws, d.new, newModulus, newMethod)
	for i, k := range moves {
		moves[i] = nominal * d.new.perModulus * in.new.modulus.Nominal / k
	}
	met := atMost(moves, *limit)
	o.judged(absoluteCriterion, name, *limit, in.interval(moves, nominal), met, nominal <= *limit)
	o.upper()
}

// judgeFrequency judges the lowest natural frequency of all the ways the redesign is
// held. It goes with the root of modulus over density, or, where most of what rings is an
// attached mass, of the modulus alone.
func (o *outcome) judgeFrequency(in inputs) {
	limit := in.limits.MinFrequency
	if limit == nil {
		return
	}
	const name = "natural frequency (Hz)"
	lowest := math.Inf(1)
	for _, d := range in.directions {
		if f, e := d.new.frequency, d.new.solvedAs; f != nil {
			scale := in.new.modulus.Nominal / e.YoungsModulus
			if !in.attached {
				scale *= e.Density / in.new.density.Nominal
			}
			lowest = min(lowest, *f*math.Sqrt(scale))
		}
	}
	if math.IsInf(lowest, 1) {
		o.notJudged(absoluteCriterion, name, *limit, "--new-material with a known density, and --check solid")
		return
	}
	young := in.draws.even(in.new.modulus, newModulus)
	sample := make([]float64, len(young))
	for i, e := range young {
		sample[i] = lowest * math.Sqrt(e/in.new.modulus.Nominal)
	}
	met := atLeast(sample, *limit)
	o.judged(absoluteCriterion, name, *limit, in.interval(sample, lowest), met, lowest >= *limit)
}

// upper marks the criterion added last as one that asks for at most its limit.
func (o *outcome) upper() { o.criteria[len(o.criteria)-1].AtMost = true }

func atMost(sample []float64, limit float64) []bool {
	met := make([]bool, len(sample))
	for i, v := range sample {
		met[i] = v <= limit
	}
	return met
}
