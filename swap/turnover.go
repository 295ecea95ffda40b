package swap

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"sort"

	"swapworth/materials"
)

// weighThePart is the cheapest check of all: a kitchen scale tells steel from
// aluminium.
const weighThePart = "weigh the part"

// The assumptions that are tried, by the name that a turnover has.
const (
	StockMaterial    = "material of the stock part" // costs most when it is wrong
	RedesignMaterial = "material of the redesign"
	HowHeld          = "how the part is held"
	LoadDirection    = "direction of the load"
	Facing           = "facing of the redesign"
	ScaleResolution  = "resolution of the scale"
	DriveLimit       = "what limits the drive"
	LeastSaving      = "least saving"
	LeastStiffness   = "least stiffness ratio"
	LeastSafety      = "least safety factor"
)

// alternative is one unverified assumption, replaced by something plausible.
type alternative struct {
	assumption string
	from, to   string
	check      string
	effort     int // of the check: lower is cheaper
	kind       kindOf
	given      string // what holds as it was taken, for a condition
	apply      func(inputs) inputs
}

// Effort of a check, cheapest first (common practice).
const (
	effortScale  = iota // put it on a kitchen scale
	effortLook          // a magnet, a scratch, a look at the machine
	effortDecide        // settle what the person plans
)

// turnovers judges every alternative and keeps those that change the answer,
// cheapest check first.
func turnovers(ctx context.Context, in inputs, base Verdict, alternatives []alternative) (found []Turnover, tried []Tried, err error) {
	sort.SliceStable(alternatives, func(i, j int) bool { return alternatives[i].effort < alternatives[j].effort })
	quick := in
	quick.verdictOnly = true
	turned := make([]*outcome, len(alternatives))
	tried = make([]Tried, len(alternatives))
	err = each(ctx, len(alternatives), nil, func(_ context.Context, i int) error {
		verdict := judge(alternatives[i].apply(quick)).verdict
		tried[i] = alternatives[i].tried(verdict)
		if verdict != base {
			o := judge(alternatives[i].apply(in))
			turned[i] = &o
		}
		return nil
	})
	for i, a := range alternatives {
		if o := turned[i]; o != nil {
			found = append(found, Turnover{
				Assumption: a.assumption, From: a.from, To: a.to, Verdict: o.verdict, Check: a.check, Saving: o.saving.Percent,
				kind: a.kind, given: a.given,
			})
		}
	}
	return found, tried, err
}

// telling drops turnovers that end in the verdict given anyway, except those of
// materials, which may be what the verdict comes from.
func telling(all []Turnover, final Verdict) []Turnover {
	return slices.DeleteFunc(slices.Clone(all), func(t Turnover) bool {
		return t.Verdict == final && t.Assumption != StockMaterial && t.kind != undecided
	})
}

// stockAlternatives lists what else the stock part may be made of: one
// representative of each family of its kind that neither its weight nor a
// magnet nor its colour excludes.
func (s *situation) stockAlternatives(ctx context.Context) ([]alternative, error) {
	taken := s.old.known.material
	weighed := s.c.Old.Weight != nil
	var out []alternative
	for _, m := range s.plausible(taken, s.c.Old) {
		if m.Family == taken.Family || !plausible(m, s.c.Old, s.old.known) {
			continue
		}
		apply, err := s.inMaterial(ctx, onStock, m)
		if err != nil {
			return nil, err
		}
		a := alternative{
			assumption: StockMaterial,
			from:       fmt.Sprintf("%s (%s)", taken.Name, s.old.known.basis),
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

// plausible lists what a part may be made of in place of what was taken: the common
// materials of its kind, and, where nobody stated or weighed anything, of every kind
// that parts of machines are made of.
func (s *situation) plausible(taken materials.Material, side Side) []materials.Material {
	if side.Material != nil || side.Weight != nil {
		return s.c.Table.Representatives(taken.Kind)
	}
	return slices.Concat(s.c.Table.Representatives(materials.Metal), s.c.Table.Representatives(materials.Plastic))
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
func (s *situation) newAlternatives(ctx context.Context) ([]alternative, error) {
	taken := s.new.known.material
	from, others := taken.Name, s.plausible(taken, s.c.New)
	switch stated := s.c.New.Material; {
	case stated != nil && stated.Generic == "":
		return nil, nil
	case stated != nil:
		from, others = stated.Generic, endsOf(s.c.Table.OfFamily(taken.Family))
	}
	var out []alternative
	for _, m := range others {
		if m.Name == taken.Name || m.Family == taken.Family && s.c.New.Material == nil || !plausible(m, s.c.New, s.new.known) {
			continue
		}
		apply, err := s.inMaterial(ctx, onRedesign, m)
		if err != nil {
			return nil, err
		}
		out = append(out, alternative{
			assumption: RedesignMaterial,
			from:       fmt.Sprintf("%s (%s)", from, s.new.known.basis),
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
func (s *situation) scaleAlternative() []alternative {
	w := s.c.Old.Weight
	if w == nil || !s.c.Old.StepFromDigits {
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

// Turnover is one unverified assumption whose alternative changes the answer.
type Turnover struct {
	Assumption string  `json:"assumption"`
	From       string  `json:"from"`
	To         string  `json:"to"`
	Verdict    Verdict `json:"verdict"`
	Check      string  `json:"check"`
	Saving     Range   `json:"saving_percent"` // under the alternative

	kind  kindOf
	given string // what the verdict holds under, for a condition
}

// Tried is one plausible answer in place of what was taken.
type Tried struct {
	Assumption string
	From, To   string
	Verdict    Verdict // by the numbers alone
	Blocks     bool    // nothing is firm while this one is open and turns the answer
	Effort     int     // of finding out: lower is cheaper
}

func (a alternative) tried(v Verdict) Tried {
	return Tried{Assumption: a.assumption, From: a.from, To: a.to, Verdict: v, Blocks: a.kind == undecided, Effort: a.effort}
}

// kindOf says what an assumption that would turn the answer does to it.
type kindOf int

const (
	listed    kindOf = iota // is listed under what would turn the answer
	undecided               // makes it `check first`: a material or a unit
	condition               // stands in the line of the verdict: direction, support, a usual limit
)
