package swap

import (
	"math"
	"slices"
)

// guess is what a comparison at a thickness would come to: stiffness, deflection,
// stress and frequency as powers of the thickness between the trials on either side, or
// beyond the last two, and the volume in proportion to it.
func (all trials) guess(thickness float64) (outcome, bool) {
	a, b := all.nearest(thickness)
	if a == nil || b == nil {
		return outcome{}, false
	}
	near := a
	if math.Abs(math.Log(thickness/b.thickness)) < math.Abs(math.Log(thickness/a.thickness)) {
		near = b
	}
	in := near.judged.in
	in.verdictOnly = true
	share := (thickness - a.thickness) / (b.thickness - a.thickness)
	volume := a.judged.in.new.volume.Nominal + share*(b.judged.in.new.volume.Nominal-a.judged.in.new.volume.Nominal)
	if volume <= 0 {
		return outcome{}, false
	}
	in.new.volume = in.new.volume.Scale(volume / in.new.volume.Nominal)
	in.cost = between(a.judged.in.cost, b.judged.in.cost, share)
	power := math.Log(thickness/a.thickness) / math.Log(b.thickness/a.thickness)
	in.directions = slices.Clone(in.directions)
	for i := range in.directions {
		in.directions[i].new = in.directions[i].new.between(a.judged.in.directions[i].new, b.judged.in.directions[i].new, power)
	}
	return judge(in), true
}

// nearest returns the two trials that a thickness lies between, or the last two beside it.
func (all trials) nearest(thickness float64) (a, b *trial) {
	var usable []*trial
	for _, t := range all {
		if t.refused == nil && t.judged.in.new.weighed == nil && !slices.ContainsFunc(t.judged.in.directions, func(d direction) bool { return d.new.refused != "" }) {
			usable = append(usable, t)
		}
	}
	if len(usable) < 2 {
		return nil, nil
	}
	i := slices.IndexFunc(usable, func(t *trial) bool { return t.thickness >= thickness })
	if i < 0 {
		i = len(usable) - 1
	}
	i = max(i, 1)
	return usable[i-1], usable[i]
}

// between is a response between two others. What bounds its stress is taken from the
// nearer one, r, whose share of its own middle value it keeps.
func (r response) between(a, b response, power float64) response {
	mix := func(a, b float64) float64 {
		if a <= 0 || b <= 0 {
			return 0
		}
		return math.Exp(math.Log(a) + power*math.Log(b/a))
	}
	r.perModulus, r.deflection = mix(a.perModulus, b.perModulus), mix(a.deflection, b.deflection)
	if r.stress.perLoad.Nominal > 0 {
		r.stress.perLoad = r.stress.perLoad.Scale(mix(a.stress.perLoad.Nominal, b.stress.perLoad.Nominal) / r.stress.perLoad.Nominal)
	}
	if a.frequency != nil && b.frequency != nil {
		f := mix(*a.frequency, *b.frequency)
		r.frequency = &f
	}
	return r
}

// between is a cost between two others.
func between(a, b *Cost, share float64) *Cost {
	out := *a
	mix := func(a, b *float64) *float64 {
		if a == nil || b == nil {
			return nil
		}
		v := *a + share*(*b-*a)
		return &v
	}
	out.Total, out.Hours = mix(a.Total, b.Total), mix(a.Hours, b.Hours)
	return &out
}
