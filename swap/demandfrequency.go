package swap

import "math"

// minFrequency asks for a lowest natural frequency, of all the ways the redesign is held.
var minFrequency = Demand{
	Name: "min-frequency", Kind: "frequency", Usage: "least natural frequency of the redesign as it is held (default unit Hz)",
	Label: "Least natural frequency", Hint: "such as 200Hz",
	Limit: func(d *Demands) **float64 { return &d.MinFrequency },

	grows:  true,
	sample: func(in inputs) []sampled { return []sampled{rings(in)} },
	says:   plainly,
	settle: check("Run it again with --check solid, and weigh what is attached"),
}

// rings draws the lowest natural frequency of the redesign. It goes with the root of
// stiffness over mass, or, where most of what rings is an attached mass, of the stiffness
// alone.
func rings(in inputs) sampled {
	const name = "natural frequency (Hz)"
	lowest, at := math.Inf(1), direction{}
	for _, d := range in.directions {
		if f, e := d.new.frequency, d.new.solvedAs; f != nil {
			scale := in.new.modulus.Nominal / e.YoungsModulus
			if !in.attached {
				scale *= e.Density / in.new.density.Nominal
			}
			if own := *f * math.Sqrt(scale); own < lowest {
				lowest, at = own, d
			}
		}
	}
	if math.IsInf(lowest, 1) {
		return sampled{name: name, missing: "--new-material with a known density, and --check solid"}
	}
	sample, grams := in.stiffnesses(onRedesign, at), in.lot(onRedesign).mass
	for i, k := range sample {
		over := k / (at.new.perModulus * in.new.modulus.Nominal)
		if !in.attached {
			over *= in.new.mass() / grams[i]
		}
		sample[i] = lowest * math.Sqrt(over)
	}
	return sampled{name: name, sample: sample, nominal: lowest}
}
