package swap

import (
	"fmt"
	"math"
	"slices"

	"swapworth/mesh/asmade"
	"swapworth/quantity"
)

// The most that is tried: three times as thick, or a tenth of the mass. What lies further
// off is another design.
const (
	mostThicker  = 3.0
	leastLighter = 0.1
)

// needed finds what would make a case that was judged a swap; nil for one that is.
func needed(d decision) *Needed {
	if d.answer.verdict == Swap {
		return nil
	}
	in, criteria, redesign := d.judged.in, d.judged.outcome.criteria, d.measured.new
	n := &Needed{Says: []string{}}
	far, known := 0.0, len(in.blocks) == 0 && !slices.ContainsFunc(criteria, func(c Criterion) bool {
		return c.Probability == nil && c.kind != safetyCriterion
	})
	step := func(change float64, ok bool) bool {
		known = known && ok
		far = max(far, change)
		return ok
	}
	missed := func(grows bool) bool {
		return slices.ContainsFunc(criteria, func(c Criterion) bool {
			return c.ofShape() && c.grows() == grows && c.short(in.limits.confidence())
		})
	}
	if missed(true) {
		if x, ok := thickerBy(in, redesign.made, d.c.Making.Class()); step(x-1, ok) {
			t := redesign.made.Thickness(redesign.made.Square[redesign.made.Thinnest()])
			by := t * (x - 1)
			n.Thicker = &by
			n.Says = append(n.Says, fmt.Sprintf("about %s mm thicker", quantity.Short(by, 2)))
		}
	}
	if missed(false) {
		if y, ok := lighterBy(in); step(1-y, ok) {
			by := in.new.mass() * (1 - y)
			n.Lighter = &by
			n.Says = append(n.Says, fmt.Sprintf("%s g lighter, as stiff as it is", number(by)))
		}
	}
	for _, c := range criteria {
		if c.ofShape() || !c.short(in.limits.confidence()) {
			continue
		}
		share, ok := c.over()
		if step(share, ok && c.demand.less != nil) {
			c.demand.less(n, c.Value.High-*c.Limit, in)
		}
	}
	if known {
		n.Change = &far
	}
	return n
}

// thickerBy is the least factor of thickness that meets every criterion that grows with
// it. Mass and stiffness go as the powers of the thickness that they have at the drawn
// one (sizes), stress as the power of a section whose stiffness has that: a panel bends
// with t^3 and is stressed with t^-2, a web stretches with t and is stressed with t^-1.
func thickerBy(in inputs, made asmade.Part, class asmade.Class) (float64, bool) {
	thin := made.Thinnest()
	deviations, err := made.Deviations(class)
	if err != nil || in.new.sizes.none() || in.new.weighed != nil {
		return 0, false
	}
	drawn := made.Thickness(made.Square[thin])
	unit := -math.Log1p(-deviations[thin] / drawn) // of a power, by its deviation
	return leastFactor(1, mostThicker, func(x float64) bool {
		at := in
		if d, err := class.Deviation(x * drawn); err == nil {
			at.new.sizes = in.new.sizes.scaled(d / (x * deviations[thin]))
		}
		at.new.volume = in.new.volume.Scale(math.Pow(x, in.new.sizes.mass[depth]/unit))
		at.directions = slices.Clone(in.directions)
		for i, d := range in.directions {
			power := in.new.sizes.stiffness[d.name][depth] / unit
			at.directions[i].new = d.new.stiffened(math.Pow(x, power), math.Pow(x, -(power+1)/2), math.Pow(x, (power-1)/2))
		}
		return meet(at, func(c Criterion) bool { return c.ofShape() && c.grows() })
	})
}

// stiffened is a response with its stiffness, its stress and its frequency multiplied.
func (r response) stiffened(stiffness, stress, frequency float64) response {
	r.perModulus *= stiffness
	r.deflection /= stiffness
	r.stress.perLoad = r.stress.perLoad.Scale(stress)
	if r.frequency != nil {
		f := *r.frequency * frequency
		r.frequency = &f
	}
	return r
}

// lighterBy is the largest factor of the mass that meets every criterion of mass.
func lighterBy(in inputs) (float64, bool) {
	if in.new.weighed != nil {
		return 0, false
	}
	inverse, ok := leastFactor(1, 1/leastLighter, func(x float64) bool {
		at := in
		at.new.volume = in.new.volume.Scale(1 / x)
		return meet(at, func(c Criterion) bool { return c.ofShape() && !c.grows() })
	})
	return 1 / inverse, ok
}

// meet reports whether all criteria of a kind are met with the confidence asked for.
func meet(in inputs, of func(Criterion) bool) bool {
	in.verdictOnly = true
	return !slices.ContainsFunc(judge(in).criteria, func(c Criterion) bool {
		return of(c) && c.Probability != nil && *c.Probability < in.limits.confidence()
	})
}

// leastFactor is the least factor between two that is enough, to a thousandth.
func leastFactor(low, high float64, enough func(float64) bool) (float64, bool) {
	if !enough(high) {
		return high, false
	}
	for high/low > 1.001 {
		if middle := math.Sqrt(low * high); enough(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	return high, true
}
