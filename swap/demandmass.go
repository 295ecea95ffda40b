package swap

// maxMass bounds the mass of one redesign.
var maxMass = Demand{
	Name: "max-mass", Kind: "mass", Usage: "most that one redesign may weigh (default unit g)",
	Label: "Most that one redesign may weigh", Hint: "no limit if left empty",
	Limit: func(d *Demands) **float64 { return &d.MaxMass },

	atMost: true,
	weighs: true,
	sample: func(in inputs) []sampled {
		_, mass := in.masses()
		return []sampled{{name: "mass (g)", sample: mass, nominal: in.new.mass()}}
	},
	says:   plainly,
	settle: check("Make one and weigh it: give --new-weight"),
}
