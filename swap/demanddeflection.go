package swap

// maxDeflection bounds how far the redesign moves in every load case.
var maxDeflection = Demand{
	Name: "max-deflection", Kind: "length", Usage: "most that the redesign may move under every load (default unit mm)",
	Label: "Most that it may move under load", Hint: "such as 0.1mm",
	Limit: func(d *Demands) **float64 { return &d.MaxDeflection },

	atMost: true, grows: true,
	sample: func(in inputs) []sampled {
		var out []sampled
		for _, d := range in.directions {
			out = append(out, deflects(in, d))
		}
		return out
	},
	says:   plainly,
	settle: check("Measure the load, and run it again with --check solid"),
}

// deflects draws the deflection of the redesign in a load case: load over stiffness.
func deflects(in inputs, d direction) sampled {
	name, load := "deflection "+d.among()+" (mm)", in.load(d)
	if d.new.refused != "" || load <= 0 {
		return sampled{name: name, missing: missingForSafety(in, d)}
	}
	nominal := d.new.deflection * load / in.new.modulus.Nominal
	sample, loads := in.stiffnesses(onRedesign, d), in.loads(d)
	for i, k := range sample {
		sample[i] = nominal * loads[i] / load * d.new.perModulus * in.new.modulus.Nominal / k
	}
	return sampled{name: name, sample: sample, nominal: nominal}
}
