package swap

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"swapworth/internal/textwrap"
	"swapworth/mesh/asmade"
)

// variant is a variant of the redesign that has been measured; one without a shape
// could not be made.
type variant struct {
	asmade.Variant
	shape    *shape
	used     bool // the comparison is computed with it
	register bool // its sides are out of register, so what it bolts on to is asked
}

// asWillBeMade puts the redesign as it will be made in place of the drawn one,
// and keeps every single departure as a variant to show. One for which the part
// has no feature changes nothing, and a warning says so; one that cannot be made
// of this mesh is a row that says why, and the most that it would add enters the
// volume.
func asWillBeMade(drawn shape, how Making) (made shape, all []variant, r remarks) {
	all, open, r := departures(drawn, how)
	used := 0
	for i, v := range all {
		if v.shape != nil {
			used = i
		}
	}
	all[used].used = true
	made = all[used].shape.withMore(open)
	return made, slices.Concat(all, possible(made, how)), r
}

// departures are the redesign as drawn, with every departure from that which the person
// says will happen, and with all of them. open is what those that could not be made would
// add, mm3.
func departures(drawn shape, how Making) (all []variant, open float64, r remarks) {
	all = []variant{{Variant: asmade.Variant{Name: "as drawn", Mesh: drawn.made.Mesh}, shape: &drawn}}
	var done []step
	for _, step := range how.steps() {
		v, err := step.make(drawn.made)
		var absent asmade.Absent
		switch {
		case errors.As(err, &absent):
			r = r.warning("redesign as made: %v; taken as drawn", absent)
		case err != nil:
			row, missed := unmade(step.name, err)
			all, open = append(all, row), open+missed
			r = r.warning("redesign as made, %s: %s", step.name, row.Notes[0])
		default:
			done = append(done, step)
			all = append(all, variantOf(drawn, v))
		}
	}
	if len(done) > 1 {
		together, missed := inTurn(done, all[1:])
		all, open = append(all, variantOf(drawn, together)), open+missed
	}
	return all, open, r
}

// variantOf measures a variant of the drawn part.
func variantOf(drawn shape, v asmade.Variant) variant {
	s := shapeOf(drawn.loaded, v.Mesh, v.Error)
	return variant{Variant: v, shape: &s}
}

// unmade is a row for a departure that could not be made, and the most that it would
// have added, mm3.
func unmade(name string, err error) (variant, float64) {
	var bounded asmade.Unmade
	note := fmt.Sprintf("not computed: %v", err)
	if errors.As(err, &bounded) {
		note += fmt.Sprintf("; the redesign is compared without it, and up to %s mm3 more stand in its range", number(bounded.AtMost))
	}
	return variant{Variant: asmade.Variant{Name: name, Notes: []string{note}}}, bounded.AtMost
}

// inTurn adds the departures up. What one of them adds alone is missed where it
// cannot be made of a part that has the others.
func inTurn(steps []step, rows []variant) (all asmade.Variant, missed float64) {
	var alone []asmade.Variant
	for _, v := range rows {
		if v.shape != nil {
			alone = append(alone, v.Variant)
		}
	}
	all = alone[0]
	all.Notes = nil
	for i, step := range steps[1:] {
		next, err := step.make(asmade.Read(all.Mesh))
		if err != nil {
			all.Notes = append(all.Notes, fmt.Sprintf("without: %s (%v)", step.name, err))
			missed += math.Abs(alone[i+1].Added) + alone[i+1].Error
			continue
		}
		all.Mesh, all.Error = next.Mesh, all.Error+next.Error
	}
	all.Name = "all of these together"
	return all, missed
}

// possible is what may happen to the redesign as it will be made: the limits of the
// tolerance class and the two sides out of register.
func possible(made shape, how Making) []variant {
	var out []variant
	if how.Tolerance != "" {
		for _, most := range []bool{true, false} {
			name := fmt.Sprintf("at the %s limit of ISO 2768-%s", map[bool]string{true: "upper", false: "lower"}[most], how.Tolerance)
			v, err := asmade.AtLimit(made.made, how.Tolerance, most)
			out = append(out, mayBe(made, name, v, err))
		}
	}
	if how.OriginError == 0 {
		return out
	}
	both, err := asmade.Registration(made.made, asmade.MillAxis(made.made), how.OriginError)
	if err != nil {
		return append(out, mayBe(made, "sides out of register", asmade.Variant{}, err))
	}
	for _, r := range both {
		r.Variant.Notes = append(r.Variant.Notes, registerNote(r))
		v := mayBe(made, r.Variant.Name, r.Variant, r.Err)
		v.register = r.Err == nil
		out = append(out, v)
	}
	return out
}

// mayBe is a variant that nothing else rests on, or says why there is none.
func mayBe(made shape, name string, v asmade.Variant, err error) variant {
	if err != nil {
		return variant{Variant: asmade.Variant{Name: name, Notes: []string{fmt.Sprintf("not computed: %v", err)}}}
	}
	return variantOf(made, v)
}

// registerNote says what an origin error leaves of the thinnest wall between the
// two sides.
func registerNote(r asmade.Register) string {
	text := fmt.Sprintf("an origin error of %s mm doubles across the flip, so that %s and %s of the second side land %s mm off",
		number(r.Offset/2), textwrap.Counted(r.Pockets, "pocket"), textwrap.Counted(r.Holes, "hole"), number(r.Offset))
	if r.Between == nil || r.Left == nil {
		return text
	}
	return text + fmt.Sprintf("; thinnest wall between the sides %s mm, drawn with %s mm, at (%.4g, %.4g, %.4g)",
		number(math.Max(0, *r.Left)), number(r.Between.Thickness), r.Between.At.X, r.Between.At.Y, r.Between.At.Z)
}
