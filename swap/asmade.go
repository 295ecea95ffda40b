package swap

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/swap/fit"
)

// AsMade is the redesign as it would come off the mill in one respect. Used
// marks the one that the comparison is computed with. The numbers are nil where
// the departure cannot be made of this mesh; Notes says why.
type AsMade struct {
	Name           string   `json:"name"`
	Volume         *float64 `json:"volume_mm3"`
	VolumeError    *float64 `json:"volume_error_mm3"` // of the departure, and what flat faces hide on rounds
	Mass           *float64 `json:"mass_g"`
	ChangePercent  *float64 `json:"change_percent"` // against the part as drawn
	SavingPercent  *float64 `json:"saving_percent"`
	StiffnessRatio *float64 `json:"stiffness_ratio"` // the least of all load cases
	Used           bool     `json:"used"`
	Notes          []string `json:"notes"`
}

// variant is a variant of the redesign that has been measured; one without a part
// could not be made.
type variant struct {
	asmade.Variant
	part     *part
	used     bool
	register bool // its sides are out of register, so what it bolts on to is asked
}

// settleMaking puts the redesign as it will be made in place of the drawn one,
// and keeps every single departure as a variant to show. One for which the part
// has no feature changes nothing, and a warning says so; one that cannot be made
// of this mesh is a row that says why, and the most that it would add enters the
// volume.
func (s *situation) settleMaking() {
	drawn := s.new
	s.variants = []variant{{Variant: asmade.Variant{Name: "as drawn", Mesh: drawn.made.Mesh}, part: &drawn}}
	var done []step
	open := 0.0 // mm3 that departures which could not be made would add
	for _, step := range s.c.Making.steps() {
		v, err := step.make(drawn.made)
		var absent asmade.Absent
		switch {
		case errors.As(err, &absent):
			s.warnings = append(s.warnings, fmt.Sprintf("redesign as made: %v; taken as drawn", absent))
		case err != nil:
			open += s.unmade(step.name, err)
		default:
			done = append(done, step)
			s.keepVariant(v)
		}
	}
	if len(done) > 1 {
		together, missed := s.inTurn(done, s.variants[1:])
		open += missed
		s.keepVariant(together)
	}
	for i := len(s.variants) - 1; i >= 0; i-- {
		if p := s.variants[i].part; p != nil {
			s.variants[i].used = true
			s.new = *p
			break
		}
	}
	s.new.volume.High += open
	s.possibleVariants()
}

// unmade keeps a row for a departure that could not be made, and returns the most
// that it would have added, mm3.
func (s *situation) unmade(name string, err error) float64 {
	var bounded asmade.Unmade
	note := fmt.Sprintf("not computed: %v", err)
	if errors.As(err, &bounded) {
		note += fmt.Sprintf("; the redesign is compared without it, and up to %s mm3 more stand in its range", number(bounded.AtMost))
	}
	s.variants = append(s.variants, variant{Variant: asmade.Variant{Name: name, Notes: []string{note}}})
	s.warnings = append(s.warnings, fmt.Sprintf("redesign as made, %s: %s", name, note))
	return bounded.AtMost
}

// inTurn adds the departures up. What one of them adds alone is missed where it
// cannot be made of a part that has the others.
func (s *situation) inTurn(steps []step, rows []variant) (all asmade.Variant, missed float64) {
	var alone []asmade.Variant
	for _, v := range rows {
		if v.part != nil {
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

// possibleVariants adds what may happen: the limits of the tolerance class and
// the two sides out of register.
func (s *situation) possibleVariants() {
	m, p := s.c.Making, s.new.made
	if m.Tolerance != "" {
		for _, most := range []bool{true, false} {
			name := fmt.Sprintf("at the %s limit of ISO 2768-%s", map[bool]string{true: "upper", false: "lower"}[most], m.Tolerance)
			v, err := asmade.AtLimit(p, m.Tolerance, most)
			s.mayBe(name, v, err)
		}
	}
	if m.OriginError == 0 {
		return
	}
	both, err := asmade.Registration(p, asmade.MillAxis(p), m.OriginError)
	if err != nil {
		s.mayBe("sides out of register", asmade.Variant{}, err)
		return
	}
	for _, r := range both {
		r.Variant.Notes = append(r.Variant.Notes, registerNote(r))
		if s.mayBe(r.Variant.Name, r.Variant, r.Err) {
			s.variants[len(s.variants)-1].register = true
		}
	}
}

// mayBe keeps a variant that nothing else rests on, or says why there is none.
func (s *situation) mayBe(name string, v asmade.Variant, err error) bool {
	if err != nil {
		s.variants = append(s.variants, variant{Variant: asmade.Variant{Name: name, Notes: []string{fmt.Sprintf("not computed: %v", err)}}})
		return false
	}
	s.keepVariant(v)
	return true
}

// registerNote says what an origin error leaves of the thinnest wall between the
// two sides.
func registerNote(r asmade.Register) string {
	text := fmt.Sprintf("an origin error of %s mm doubles across the flip, so that %s and %s of the second side land %s mm off",
		number(r.Offset/2), counted(r.Pockets, "pocket"), counted(r.Holes, "hole"), number(r.Offset))
	if r.Between == nil || r.Left == nil {
		return text
	}
	return text + fmt.Sprintf("; thinnest wall between the sides %s mm, drawn with %s mm, at (%.4g, %.4g, %.4g)",
		number(math.Max(0, *r.Left)), number(r.Between.Thickness), r.Between.At.X, r.Between.At.Y, r.Between.At.Z)
}

func (s *situation) keepVariant(v asmade.Variant) {
	p := partOf(s.variants[0].part.loaded, v.Mesh, v.Error)
	s.variants = append(s.variants, variant{Variant: v, part: &p})
}

// asMade computes the rows that stand beside the part as drawn. A part as drawn
// with nothing else to show needs none.
func (s *situation) asMade(ctx context.Context, in inputs) ([]AsMade, error) {
	out := []AsMade{}
	if len(s.variants) < 2 {
		return out, nil
	}
	drawn := s.variants[0].part.props.Volume
	for _, v := range s.variants {
		if v.part == nil {
			out = append(out, AsMade{Name: v.Name, Notes: orEmpty(v.Notes)})
			continue
		}
		directions, notes := in.directions, slices.Clone(v.Notes)
		if !v.used { // the used one is what the comparison solved
			var err error
			directions, err = s.withRedesign(ctx, in.directions, *v.part)
			switch {
			case ctx.Err() != nil:
				return nil, err
			case err != nil: // a place of a load may be gone
				notes = append(notes, fmt.Sprintf("its stiffness is not computed: %v", err))
			}
		}
		one := in
		one.new.volume, one.directions = v.part.volume, directions
		if !v.used {
			one.new.weighed = nil // the scale saw the part as it was made
		}
		volume, grams := v.part.props.Volume, one.new.mass()
		off := max(v.part.volume.High-volume, volume-v.part.volume.Low)
		change, saving := 100*(volume/drawn-1), 100*(1-grams/one.old.mass())
		if v.register {
			notes = append(notes, s.fitNote(*v.part))
		}
		out = append(out, AsMade{
			Name: v.Name, Volume: &volume, VolumeError: &off, Mass: &grams,
			ChangePercent: &change, SavingPercent: &saving,
			StiffnessRatio: leastRatio(one), Used: v.used, Notes: orEmpty(notes),
		})
	}
	return out, nil
}

// fitNote says whether a variant bolts on, by what stands against it that does
// not stand against the redesign.
func (s *situation) fitNote(p part) string {
	const most = 3
	r := fit.CompareFeatures(
		fit.Part{Mesh: s.old.made.Mesh, Features: s.old.made.Features},
		fit.Part{Mesh: p.made.Mesh, Features: p.made.Features}, fit.Options{SameFrame: s.c.SameFrame, Accept: s.c.Accept})
	var more []string
	for _, f := range r.Blocking {
		if !slices.Contains(s.fit.Blocking, f) {
			more = append(more, f)
		}
	}
	if len(more) == 0 {
		return "it bolts on no worse than the part as drawn"
	}
	text := "so made it does not bolt on: " + more[0]
	for _, f := range more[1:min(most, len(more))] {
		text += "; " + f
	}
	if len(more) > most {
		text += fmt.Sprintf("; and %d findings more", len(more)-most)
	}
	return text
}

// withRedesign returns the directions with another mesh as the redesign.
func (s *situation) withRedesign(ctx context.Context, directions []direction, p part) ([]direction, error) {
	p.known = s.new.known
	if s.new.motion != mesh.Identity() {
		p.move(s.new.motion)
	}
	responses, err := s.static().respond(ctx, p, onRedesign, s.cases, quick, nil)
	if err != nil {
		return nil, err
	}
	return responding(directions, ofRedesign, responses), nil
}

// responding returns the directions with other responses of one part.
func responding(directions []direction, of func(*direction) *response, part []response) []direction {
	out := slices.Clone(directions)
	for i := range out {
		*of(&out[i]) = part[i]
	}
	return out
}

// leastRatio returns the least nominal stiffness ratio of all directions, nil
// where one was refused.
func leastRatio(in inputs) *float64 {
	var out *float64
	for _, d := range in.directions {
		if d.old.refused != "" || d.new.refused != "" {
			return nil
		}
		r := in.nominalRatio(d)
		out = least(out, &r)
	}
	return out
}
