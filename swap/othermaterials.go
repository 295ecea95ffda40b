package swap

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"swapworth/materials"
)

// stockAlternatives lists what else the stock part may be made of: one
// representative of each family of its kind that neither its weight nor a
// magnet nor its colour excludes.
func stockAlternatives(ctx context.Context, c Case, p placed) ([]alternative, error) {
	taken := p.old.known.material
	weighed := c.Old.Weight != nil
	var out []alternative
	for _, m := range candidates(c.Table, taken, c.Old) {
		if m.Family == taken.Family || !plausible(m, c.Old, p.old.known) {
			continue
		}
		apply, err := inMaterial(ctx, c, p, onStock, m)
		if err != nil {
			return nil, err
		}
		a := alternative{
			assumption: StockMaterial,
			from:       fmt.Sprintf("%s (%s)", taken.Name, p.old.known.basis),
			to:         m.Name,
			check:      weighThePart,
			effort:     effortScale,
			kind:       undecided,
			apply:      apply,
		}
		if weighed {
			a.check, a.effort, a.kind = distinguish(taken, m), effortLook, listed
		}
		out = append(out, a)
	}
	return out, nil
}

// candidates are what a part may be made of in place of what was taken: the common
// materials of its kind, and, where nobody stated or weighed anything, of every kind
// that parts of machines are made of.
func candidates(table *materials.Table, taken materials.Material, side Side) []materials.Material {
	if side.Material != nil || side.Weight != nil {
		return table.Representatives(taken.Kind)
	}
	return slices.Concat(table.Representatives(materials.Metal), table.Representatives(materials.Plastic))
}

// plausible reports whether a part may be made of m, by its weight and by what
// was seen of it.
func plausible(m materials.Material, side Side, k knowledge) bool {
	return (side.Weight == nil || overlap(k.allowed, m.Density)) && side.Observed.Fits(m)
}

// distinguish names the cheapest way to tell two materials of like density
// apart.
func distinguish(a, b materials.Material) string {
	switch {
	case a.Magnet.Holds != b.Magnet.Holds:
		return "hold a magnet to the part"
	case !slices.Equal(a.Colour.Groups, b.Colour.Groups):
		return "scratch the part and look at its colour"
	default:
		return "weigh the part on a finer scale"
	}
}

// newAlternatives lists other materials for a redesign whose material nobody stated,
// or of which a family was stated and no member.
func newAlternatives(ctx context.Context, c Case, p placed) ([]alternative, error) {
	taken := p.new.known.material
	from, others := taken.Name, candidates(c.Table, taken, c.New)
	switch stated := c.New.Material; {
	case stated != nil && stated.Generic == "":
		return nil, nil
	case stated != nil:
		from, others = stated.Generic, endsOf(c.Table.OfFamily(taken.Family))
	}
	var out []alternative
	for _, m := range others {
		if m.Name == taken.Name || m.Family == taken.Family && c.New.Material == nil || !plausible(m, c.New, p.new.known) {
			continue
		}
		apply, err := inMaterial(ctx, c, p, onRedesign, m)
		if err != nil {
			return nil, err
		}
		out = append(out, alternative{
			assumption: RedesignMaterial,
			from:       fmt.Sprintf("%s (%s)", from, p.new.known.basis),
			to:         m.Name,
			check:      "decide on the stock and give --new-material",
			effort:     effortDecide,
			kind:       undecided,
			apply:      apply,
		})
	}
	return out, nil
}

// endsOf are the members of a family with the least strength, the least modulus and the
// greatest density: what turns for none of them turns for no member.
func endsOf(family []materials.Material) []materials.Material {
	var out []materials.Material
	for _, worse := range []func(a, b materials.Material) int{
		func(a, b materials.Material) int { return cmp.Compare(a.Strength.Value, b.Strength.Value) },
		func(a, b materials.Material) int { return cmp.Compare(a.YoungsModulus.Value, b.YoungsModulus.Value) },
		func(a, b materials.Material) int { return cmp.Compare(b.Density.Nominal, a.Density.Nominal) },
	} {
		worst := slices.MinFunc(family, worse)
		if !slices.ContainsFunc(out, func(m materials.Material) bool { return m.Name == worst.Name }) {
			out = append(out, worst)
		}
	}
	return out
}

// scaleAlternative takes a scale ten times coarser than the typed digits say,
// where nobody stated its resolution.
func scaleAlternative(stock Side) []alternative {
	w := stock.Weight
	if w == nil || !stock.StepFromDigits {
		return nil
	}
	coarse := *w
	coarse.Resolution *= 10
	return []alternative{{
		assumption: ScaleResolution,
		from:       number(w.Resolution) + " g (from the digits typed)",
		to:         number(coarse.Resolution) + " g",
		check:      "read the scale's smallest step and give --scale-resolution",
		effort:     effortScale,
		apply: func(in inputs) inputs {
			r := coarse.Range()
			in.old.weighed, in.old.reading = &r, coarse.Reading()
			return in
		},
	}}
}

// inMaterial returns what changes inputs to one part made of another material.
func inMaterial(ctx context.Context, c Case, p placed, side int, m materials.Material) (func(inputs) inputs, error) {
	scale, err := poissonScale(ctx, mechanicsOf(c, true), p.part(side), side, p.cases, sizedCases(c.Loading, p.cases), m.Poisson.Value)
	if err != nil {
		return nil, err
	}
	return func(in inputs) inputs {
		changed := &in.old
		if side == onRedesign {
			changed = &in.new
		}
		*changed = changed.madeOf(m)
		in.directions = scaled(in.directions, side, scale)
		return in
	}, nil
}

// scaled returns the load cases with the stiffness of one part multiplied, case
// by case. Cases that were put in place of these keep theirs.
func scaled(directions []direction, side int, by []float64) []direction {
	if len(directions) != len(by) {
		return directions
	}
	responses := make([]response, len(by))
	for i := range by {
		responses[i] = directions[i].of(side)
		responses[i].perModulus *= by[i]
	}
	return responding(directions, side, responses)
}

// madeOf returns the part in another material; a weighed part keeps its mass.
func (p partInputs) madeOf(m materials.Material) partInputs {
	p.alloy = m.Name
	p.density = m.Density
	p.modulus = m.Modulus()
	p.strength = m.Strength.Bounds()
	if p.weighed != nil {
		p.cast = m.Density
	}
	p.twist = m.Twist().Low
	return p
}
