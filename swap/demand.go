package swap

// demands are all of them, in the order in which they are printed.
var demands = [...]Demand{maxMass, maxDeflection, minFrequency, maxCost, maxHours}

// AllDemands returns them, for flags, case files and forms.
func AllDemands() []Demand { return demands[:] }

// judge holds a demand that was made against the redesign.
func (d *Demand) judge(in inputs) []ruling {
	limit := *d.Limit(&in.limits.Demands)
	if limit == nil {
		return nil
	}
	var out []ruling
	for _, m := range d.sample(in) {
		out = append(out, d.rule(m, limit, in))
	}
	return out
}
