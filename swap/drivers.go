package swap

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"swapworth/materials"
	"swapworth/swap/internal/draw"
)

// Driver is how far one uncertain input alone moves a quantity: the 95 %
// interval with every other input at its nominal value.
type Driver struct {
	Quantity string `json:"quantity"`
	Input    string `json:"input"`
	Range    Range  `json:"range"`
}

// source is one uncertain input. restore copies it from the full inputs into
// inputs that are otherwise exact.
type source struct {
	input   string
	restore func(exact *inputs, full inputs)
}

// drivers says for the saving and for every stiffness ratio which inputs its
// uncertainty comes from, the widest first.
func drivers(in inputs) []Driver {
	exactly := exact(in)
	var out []Driver
	for _, s := range massSources(in) {
		one := exactly
		s.restore(&one, in)
		old, new := one.masses()
		for i := range old {
			old[i] -= new[i]
		}
		out = append(out, Driver{"saving each (g)", s.input, draw.Interval(old, in.old.mass()-in.new.mass())})
	}
	for i, d := range in.directions {
		if d.old.refused != "" || d.new.refused != "" {
			continue
		}
		nominal := in.nominalRatio(d)
		for _, s := range stiffnessSources(in, i) {
			one := exactly
			s.restore(&one, in)
			out = append(out, Driver{"stiffness ratio " + d.among(), s.input, draw.Interval(one.ratios(one.directions[i]), nominal)})
		}
	}
	return widestFirst(out)
}

// exact returns the inputs with every one at its nominal value.
func exact(in inputs) inputs {
	in.old, in.new = in.old.exact(), in.new.exact()
	in.force = materials.Exactly(in.force.Nominal)
	return exactMethod(in)
}

func (p partInputs) exact() partInputs {
	p.volume = materials.Exactly(p.volume.Nominal)
	p.density = materials.Exactly(p.density.Nominal)
	p.modulus = materials.Exactly(p.modulus.Nominal)
	p.strength = materials.Exactly(p.strength.Nominal)
	p.sizes, p.scaleError = sizes{}, 0
	if p.weighed != nil {
		w := materials.Exactly(p.weighed.Nominal)
		p.weighed, p.reading, p.cast = &w, w, materials.Exactly(p.cast.Nominal)
	}
	return p
}

// sizedAs is the part with the sizes of another one, and what a weight would tell of
// them: that of the density it is cast in.
func (p partInputs) sizedAs(full partInputs) partInputs {
	p.sizes, p.cast, p.reading, p.scaleError = full.sizes, full.cast, full.reading, full.scaleError
	return p
}

func massSources(in inputs) []source {
	var out []source
	if in.sameAlloy() && in.old.weighed == nil && in.new.weighed == nil {
		out = append(out, source{"density of the alloy both share", func(x *inputs, full inputs) {
			x.old.density, x.new.density = full.old.density, full.new.density
		}})
	} else {
		out = append(out,
			source{"density of the stock part", func(x *inputs, full inputs) { x.old.density = full.old.density }},
			source{"density of the redesign", func(x *inputs, full inputs) { x.new.density = full.new.density }})
	}
	return append(out,
		source{"weight of the stock part", func(x *inputs, full inputs) { x.old.reading, x.old.scaleError = full.old.reading, full.old.scaleError }},
		source{"weight of the redesign", func(x *inputs, full inputs) { x.new.reading, x.new.scaleError = full.new.reading, full.new.scaleError }},
		source{"sizes of the stock part as milled", func(x *inputs, full inputs) { x.old = x.old.sizedAs(full.old) }},
		source{"sizes of the redesign as milled", func(x *inputs, full inputs) { x.new = x.new.sizedAs(full.new) }},
		source{"facets of the stock part's mesh", func(x *inputs, full inputs) { x.old.volume = full.old.volume }},
		source{"facets of the redesign's mesh", func(x *inputs, full inputs) { x.new.volume = full.new.volume }})
}

func stiffnessSources(in inputs, i int) []source {
	out := []source{{"method of the stiffness", func(x *inputs, full inputs) {
		x.directions = slices.Clone(x.directions)
		x.directions[i] = full.directions[i]
	}}}
	out = append(out,
		source{"sizes of the stock part as milled", func(x *inputs, full inputs) { x.old = x.old.sizedAs(full.old) }},
		source{"sizes of the redesign as milled", func(x *inputs, full inputs) { x.new = x.new.sizedAs(full.new) }})
	if in.sameAlloy() {
		return out // one modulus for both: the ratio does not feel it
	}
	return append(out,
		source{"Young's modulus of the stock part", func(x *inputs, full inputs) { x.old.modulus = full.old.modulus }},
		source{"Young's modulus of the redesign", func(x *inputs, full inputs) { x.new.modulus = full.new.modulus }})
}

// widestFirst keeps what moves its quantity at all, and sorts it by quantity as
// found and then by width.
func widestFirst(all []Driver) []Driver {
	rank := map[string]int{}
	kept := []Driver{}
	for _, d := range all {
		if _, known := rank[d.Quantity]; !known {
			rank[d.Quantity] = len(rank)
		}
		if d.width() > 1e-9*math.Abs(d.Range.Nominal) {
			kept = append(kept, d)
		}
	}
	slices.SortStableFunc(kept, func(a, b Driver) int {
		return cmp.Or(cmp.Compare(rank[a.Quantity], rank[b.Quantity]),
			cmp.Compare(b.width(), a.width()), strings.Compare(a.Input, b.Input))
	})
	return kept
}

func (d Driver) width() float64 { return d.Range.High - d.Range.Low }
