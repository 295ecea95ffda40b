package swap

import (
	"fmt"
	"slices"
	"strings"

	"swapworth/mass"
	"swapworth/materials"
)

// Basis says how the material of a part is known.
type Basis string

// The ways a material can be known, surest first.
const (
	Weighed    Basis = "stated, and its weight agrees"
	Stated     Basis = "stated"
	Identified Basis = "identified by its weight"
	Assumed    Basis = "assumed"
)

// knowledge is what a part is taken to be made of, and why.
type knowledge struct {
	name          string // of the part, as a sentence begins with it
	material      materials.Material
	basis         Basis
	modulus       Range    // MPa
	density       Range    // kg/m3; of the part itself where it was weighed
	allowed       Range    // kg/m3, that a weighed part may have within the tolerance of its sizes
	strength      Range    // MPa; zero where it is open
	families      []string // that the weight fits, best first
	contradiction string   // what the weight or a magnet says against the stated material
}

// defaultMaterial is taken for a part of which nothing is known: the alloy a
// bench-top mill cuts most (common practice).
const defaultMaterial = "6061-T6"

// knowBoth knows the stock part first; a redesign of which no material
// was stated is taken to be made of the same. stock is what is known of the stock part
// already; nil: nothing.
func knowBoth(c Case, shapes [2]shape, tolerances [2]tolerance, stock *knowledge) (known [2]knowledge, r remarks, err error) {
	fallback, err := fallbackOf(c.New.Material, c.Table)
	if err != nil {
		return known, r, err
	}
	old := know("The stock part", c.Old, shapes[onStock].volume, tolerances[onStock].mass, c.Table, fallback)
	if stock != nil {
		old = *stock
	}
	new := know("The redesign", c.New, shapes[onRedesign].volume, tolerances[onRedesign].mass, c.Table, old.material)
	if c.New.Material != nil && c.New.Weight != nil {
		new = new.asStated(*c.New.Material)
	}
	return [2]knowledge{old, new}, saidOf(c.Old, old, new), nil
}

// fallbackOf returns the material taken for a stock part of which nothing is
// stated: that of the redesign, so that the shapes alone are compared.
func fallbackOf(redesign *materials.Material, table *materials.Table) (materials.Material, error) {
	if redesign != nil {
		return *redesign, nil
	}
	return table.Find(defaultMaterial)
}

// saidOf is what is taken of the materials, and what they are warned of.
func saidOf(stock Side, old, new knowledge) (r remarks) {
	switch {
	case old.basis == Assumed && stock.Weight != nil:
		r = r.assuming("The stock part is bent as %s, for its weight fits no material: give --old-material", old.material.Name)
	case old.basis == Assumed:
		r = r.assuming("The stock part is taken as %s: give --old-material, or better its weight with --old-weight", old.material.Name)
	}
	if new.basis == Assumed {
		r = r.assuming("The redesign is taken as %s: give --new-material", new.material.Name)
	}
	if w := stock.Weight; w != nil && stock.StepFromDigits {
		r = r.assuming("The scale is taken to resolve %s g, the last digit typed: give --scale-resolution", number(w.Resolution))
	}
	if old.basis == Identified {
		r = r.assuming("A weight gives a density, not an alloy: the stock part is computed as %s and its strength stays open", old.material.Name)
	}
	for _, m := range []materials.Material{old.material, new.material} {
		r.warnings = append(r.warnings, m.Warnings()...)
		if grain := m.GrainWarning(); grain != "" {
			r.warnings = append(r.warnings, grain)
		}
	}
	return r
}

// know settles the material of a part, "The stock part" or "The redesign", from
// what was stated, weighed and seen. fallback is taken where nothing is known.
func know(name string, s Side, volume Range, sizes bySize, table *materials.Table, fallback materials.Material) knowledge {
	k := knowledge{name: name, material: fallback, basis: Assumed}
	if s.Material == nil && s.Weight == nil {
		var seen string
		if k.material, seen = seenFallback(s.Observed, fallback, table); seen != "" {
			k.contradiction = fmt.Sprintf("%s is taken as %s: %s", name, k.material.Name, seen)
		}
	}
	if s.Material != nil {
		k.material, k.basis = *s.Material, Stated
	}
	k.density = k.material.Density
	if s.Weight != nil {
		k = k.weighed(s, volume, sizes.loose(), table)
	} else if s.Material != nil && !s.Observed.Fits(*s.Material) {
		k.contradiction = k.seenOtherwise(s.Observed)
	}
	if k.basis != Identified {
		k.modulus = k.material.Modulus()
		k.strength = k.material.Strength.Bounds()
	}
	return k
}

// weighed holds the weighed density against the stated material, or finds the
// material where none was stated. The sizes may move the mass by a share, loose.
func (k knowledge) weighed(s Side, volume Range, loose float64, table *materials.Table) knowledge {
	k.density = mass.DensityOf(s.Weight.Range(), volume)
	k.allowed = k.density
	k.allowed.Low, k.allowed.High = k.allowed.Low*(1-loose), k.allowed.High*(1+loose)
	fits := fitting(mass.Identify(k.allowed, table, s.Observed))
	k.families = familiesOf(fits)
	weighs, looks := overlap(k.allowed, k.material.Density), s.Observed.Fits(k.material)
	switch {
	case k.basis == Stated && weighs && looks:
		k.basis = Weighed
		return k
	case k.basis == Stated && weighs:
		k.contradiction = k.seenOtherwise(s.Observed) + ". " + fitsText(k.families)
	case k.basis == Stated:
		k.contradiction = k.weighsOtherwise(*s.Weight) + ". " + fitsText(k.families)
	case len(fits) == 0:
		k.contradiction = fmt.Sprintf("%s weighs %s g, which over its volume is %s g/cm3. %s",
			k.name, number(s.Weight.Grams), number(k.density.Nominal/1000), fitsText(nil))
	}
	if len(fits) > 0 {
		return k.identified(fits, table)
	}
	return k
}

// identified takes the best family that fits, and of it the representative if
// that fits too. The modulus spans every fitting alloy of the family. The
// strength stays open: a weight gives a density, not an alloy.
func (k knowledge) identified(fits []mass.Candidate, table *materials.Table) knowledge {
	k.basis = Identified
	best := fits[0].Material
	if usual, err := table.Find(fits[0].Family); err == nil && among(fits, usual.Name) {
		best = usual.Name
	}
	k.material, _ = table.Find(best)
	k.modulus = k.material.Modulus()
	for _, c := range fits {
		if m, err := table.Find(c.Material); err == nil && m.Family == k.material.Family {
			e := m.Modulus()
			k.modulus.Low, k.modulus.High = min(k.modulus.Low, e.Low), max(k.modulus.High, e.High)
		}
	}
	return k
}

// fitting keeps the candidates that fit at all.
func fitting(all []mass.Candidate) []mass.Candidate {
	var out []mass.Candidate
	for _, c := range all {
		if c.Match > 0 {
			out = append(out, c)
		}
	}
	return out
}

func among(fits []mass.Candidate, name string) bool {
	return slices.ContainsFunc(fits, func(c mass.Candidate) bool { return c.Material == name })
}

func familiesOf(fits []mass.Candidate) []string {
	var out []string
	for _, c := range fits {
		if !slices.Contains(out, c.Family) {
			out = append(out, c.Family)
		}
	}
	return out
}

// seenOtherwise says what was seen of a part that its stated material cannot show.
func (k knowledge) seenOtherwise(o mass.Observation) string {
	what := fmt.Sprintf("it is %s where it is cut", o.Colour)
	if o.Magnet != nil && *o.Magnet != k.material.Magnet.Holds {
		what = map[bool]string{true: "a magnet holds on it", false: "no magnet holds on it"}[*o.Magnet]
	}
	return fmt.Sprintf("%s is not %s: %s", k.name, k.material.Name, what)
}

// weighsOtherwise says that a part does not weigh what its stated material does.
func (k knowledge) weighsOtherwise(w mass.Weighing) string {
	return fmt.Sprintf("%s is not %s: it weighs %s g, which over its volume is %s g/cm3, and %s is %s g/cm3",
		k.name, k.material.Name, number(w.Grams), number(k.density.Nominal/1000), k.material.Name, number(k.material.Density.Nominal/1000))
}

// fitsText says which families a weighed density leaves.
func fitsText(families []string) string {
	if len(families) == 0 {
		return "No material in the table fits: take hardware off, and check the model and --unit"
	}
	return "The weight fits " + strings.Join(families, ", or ")
}

// asStated takes the stated material back for a redesign that was weighed: a
// made part that weighs too much is more likely not as drawn than of another
// alloy.
func (k knowledge) asStated(stated materials.Material) knowledge {
	if k.contradiction == "" {
		return k
	}
	k.material, k.basis = stated, Stated
	k.modulus = stated.Modulus()
	k.strength = stated.Strength.Bounds()
	over := 100 * (k.density.Nominal/stated.Density.Nominal - 1)
	k.contradiction = fmt.Sprintf("%s weighs %s %% more than its model in %s: a facing pass skipped, stock left, or another alloy",
		k.name, number(over), stated.Name)
	if over < 0 {
		k.contradiction = fmt.Sprintf("%s weighs %s %% less than its model in %s: another alloy, or not the part that was modelled",
			k.name, number(-over), stated.Name)
	}
	return k
}

// seenFallback returns what is taken for a part of which nothing is stated or
// weighed: the usual material, or, where a magnet or the colour speaks against it,
// the first common one that they allow.
func seenFallback(seen mass.Observation, usual materials.Material, table *materials.Table) (materials.Material, string) {
	if seen.Fits(usual) {
		return usual, ""
	}
	for _, kind := range materials.Kinds() {
		for _, m := range table.Representatives(kind) {
			if seen.Fits(m) {
				return m, fmt.Sprintf("what was seen of it is not %s", usual.Name)
			}
		}
	}
	return usual, ""
}
