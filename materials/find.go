package materials

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
)

// bodies are the prefixes of standards bodies that people put before a
// designation and that tell nothing the designation does not.
var bodies = []string{"en", "aw", "ac", "aisi", "sae", "aa", "uns", "astm", "din", "w.nr.", "grade", "alloy"}

// glued are those that people write without a space before the designation.
var glued = []string{"enaw", "enac", "aisi", "astm", "sae", "aw", "aa", "w.nr."}

// Find returns the material of a name or alias, in any case. A family's name,
// such as "aluminium", gives its representative with Generic set. A printed
// plastic takes a fill after an @, as in "PLA@40%". The error of an unknown name
// lists the nearest ones.
func (t *Table) Find(name string) (Material, error) {
	base, fill, filled := strings.Cut(name, "@")
	m, ok := t.lookUp(base)
	if !ok {
		return Material{}, t.unknown(strings.TrimSpace(base))
	}
	if !filled {
		return m, nil
	}
	percent, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(fill), "%")), 64)
	if err != nil {
		return Material{}, fmt.Errorf("material %q: expected a fill in percent after the @, as in PLA@40%%", name)
	}
	return m.withFill(percent / 100)
}

// unknown says which names are near, or where none is, that a family will do.
func (t *Table) unknown(name string) error {
	if near := t.nearest(name, 3); len(near) > 0 {
		return fmt.Errorf("unknown material %q: did you mean %s? `swapworth materials` lists all", name, anyOf(near))
	}
	var families []string
	for _, f := range t.families {
		if !f.Unlikely {
			families = append(families, f.Name)
		}
	}
	return fmt.Errorf("unknown material %q: name a row of `swapworth materials`, or a family: %s", name, strings.Join(families, ", "))
}

// anyOf writes names as a choice: "a, b or c".
func anyOf(names []string) string {
	last := len(names) - 1
	if last == 0 {
		return names[0]
	}
	return strings.Join(names[:last], ", ") + " or " + names[last]
}

// lookUp tries the name as it is, as a family, and then without the words that
// tell nothing: "EN AW-6061", "aluminium 6061", "stainless 304", "Al6061".
func (t *Table) lookUp(name string) (Material, bool) {
	k := key(name)
	if k == "" {
		return Material{}, false
	}
	if i, ok := t.rows[k]; ok {
		return t.materials[i], true
	}
	if i, ok := t.groups[k]; ok {
		return t.generic(t.families[i])
	}
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return r == ' ' || r == '-' || r == '_' || r == '\t'
	})
	rest := slices.DeleteFunc(words, func(w string) bool {
		_, family := t.groups[w]
		return family || slices.Contains(bodies, w)
	})
	if i, ok := t.rows[strings.Join(rest, "")]; ok {
		return t.materials[i], true
	}
	for _, body := range glued { // "ENAW6082", "AISI304", "AA7075-T6"
		if i, ok := t.rows[strings.TrimPrefix(k, body)]; ok {
			return t.materials[i], true
		}
	}
	for group, f := range t.groups {
		rest, cut := strings.CutPrefix(k, group)
		if i, ok := t.rows[rest]; cut && ok && t.materials[i].Family == t.families[f].Name {
			return t.materials[i], true
		}
	}
	return Material{}, false
}

// generic returns the representative of a family with the ranges of density, modulus
// and strength of the whole family.
func (t *Table) generic(f Family) (Material, bool) {
	i, ok := t.rows[key(f.Representative)]
	if !ok {
		return Material{}, false
	}
	m := t.materials[i]
	m.Generic = f.Name
	for _, other := range t.OfFamily(f.Name) {
		m.Density.Low = min(m.Density.Low, other.Density.Low)
		m.Density.High = max(m.Density.High, other.Density.High)
		m.YoungsModulus.span(m.Modulus(), other.Modulus())
		if own, its := m.Strength.Bounds(), other.Strength.Bounds(); own.Nominal > 0 && its.Nominal > 0 {
			m.Strength.Low, m.Strength.High = min(own.Low, its.Low), max(own.High, its.High)
		}
	}
	return m, true
}

// span sets the bounds of a value to those of it and of another one that is known.
func (v *Value) span(own, other Range) {
	if other.Nominal > 0 {
		v.Low, v.High = min(own.Low, other.Low), max(own.High, other.High)
	}
}

// nearest returns at most n names of the table that look most like the given one:
// those that contain it or begin like it first, then by edit distance. It leaves
// out what shares less than half of the letters.
func (t *Table) nearest(name string, n int) []string {
	type candidate struct {
		name     string
		distance int
	}
	asked := key(truncate(name))
	var best []candidate
	add := func(name string, aliases []string) {
		d := distance(asked, key(name))
		for _, a := range aliases {
			d = min(d, distance(asked, key(a)))
		}
		best = append(best, candidate{name, d})
	}
	for _, f := range t.families {
		add(f.Name, f.Aliases)
	}
	for _, m := range t.materials {
		add(m.Name, m.Aliases)
	}
	slices.SortStableFunc(best, func(a, b candidate) int { return a.distance - b.distance })
	var out []string
	for _, c := range best {
		if len(out) < n && 2*c.distance <= 3*len(asked) && !slices.Contains(out, c.name) {
			out = append(out, c.name)
		}
	}
	return out
}

// distance is the edit distance, lessened where one name begins with or
// contains the other.
func distance(asked, have string) int {
	d := 3 * levenshtein.ComputeDistance(asked, have)
	if len(asked) >= 2 && strings.Contains(have, asked) || len(have) >= 2 && strings.Contains(asked, have) {
		d = d/3 + 1
	}
	if prefix := commonPrefix(asked, have); prefix >= 2 {
		d -= prefix
	}
	return d
}

func commonPrefix(a, b string) int {
	n := 0
	for n < len(a) && n < len(b) && a[n] == b[n] {
		n++
	}
	return n
}

// truncate keeps a hostile name from costing more than a long one.
func truncate(name string) string {
	const longest = 64
	runes := []rune(name)
	return string(runes[:min(len(runes), longest)])
}
