package swap

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/asmade"
	"swapworth/swap/mill"
)

// Making is how the redesign is made, as far as the person says. The zero value
// is a part as drawn, milled with the bench-top profile.
type Making struct {
	NotFaced    []NotFaced
	WallStock   float64      // left on the walls of pockets, mm
	FloorStock  float64      // left on the floors of pockets, mm
	NoChamfers  bool         // edges left sharp
	Tolerance   asmade.Class // of ISO 2768-1; empty for none
	OriginError float64      // of a part milled from two sides, mm

	Profile *mill.Profile // nil: the bench-top profile
	Plan    mill.Plan
	Pricing Pricing
	Lesser  []Lesser
	Bolted  *Bolted // nil: the joint is not judged
}

// NotFaced is a side that keeps the thickness of its stock.
type NotFaced struct {
	Side  r3.Vec  // unit, in the redesign's own frame
	Stock float64 // thickness of the stock along the side, mm
	Name  string  // as typed
}

// Pricing is what time and stock are worth. A nil value was not given.
type Pricing struct {
	HourlyValue   *float64
	Quoted        *float64
	PricePerKg    *float64 // nil: the material table's
	Attempts      float64  // a good part; 0: not given
	SuccessChance float64  // of one attempt; 0: not given
}

// AsMade is the redesign as it would come off the mill in one respect. Used
// marks the one that the comparison is computed with.
type AsMade struct {
	Name           string   `json:"name"`
	Volume         float64  `json:"volume_mm3"`
	VolumeError    float64  `json:"volume_error_mm3"`
	Mass           float64  `json:"mass_g"`
	ChangePercent  float64  `json:"change_percent"` // against the part as drawn
	SavingPercent  float64  `json:"saving_percent"`
	StiffnessRatio *float64 `json:"stiffness_ratio"` // the least of all load cases
	Used           bool     `json:"used"`
	Notes          []string `json:"notes"`
}

// variant is a variant of the redesign that has been measured.
type variant struct {
	asmade.Variant
	part part
	used bool
}

// settleMaking puts the redesign as it will be made in place of the drawn one,
// and keeps every single departure as a variant to show.
func (s *situation) settleMaking() error {
	drawn := s.new.made
	steps, alone, err := s.possibleSteps(drawn)
	if err != nil {
		return fmt.Errorf("redesign as made: %w", err)
	}
	s.variants = []variant{{Variant: asmade.Variant{Name: "as drawn", Mesh: drawn.Mesh}, part: s.new, used: len(steps) == 0}}
	for _, v := range alone {
		s.keepVariant(v, len(steps) == 1)
	}
	if len(steps) > 1 {
		together, err := inTurn(steps, alone[0])
		if err != nil {
			return fmt.Errorf("redesign as made: %w", err)
		}
		s.keepVariant(together, true)
	}
	if len(steps) > 0 {
		s.new = s.variants[len(s.variants)-1].part
	}
	s.possibleVariants()
	return nil
}

// step is one departure from the drawing.
type step func(asmade.Part) (asmade.Variant, error)

// possibleSteps takes every departure on its own. One for which the part has no
// feature changes nothing, and a warning says so.
func (s *situation) possibleSteps(drawn asmade.Part) (steps []step, alone []asmade.Variant, err error) {
	for _, step := range s.c.Making.steps() {
		v, err := step(drawn)
		var absent asmade.Absent
		if errors.As(err, &absent) {
			s.warnings = append(s.warnings, fmt.Sprintf("redesign as made: %v; taken as drawn", absent))
			continue
		}
		if err != nil {
			return nil, nil, err
		}
		steps, alone = append(steps, step), append(alone, v)
	}
	return steps, alone, nil
}

// inTurn adds the departures up, from the variant that the first of them made.
func inTurn(steps []step, first asmade.Variant) (asmade.Variant, error) {
	current := first
	for _, step := range steps[1:] {
		next, err := step(asmade.Read(current.Mesh))
		if err != nil {
			return current, err
		}
		next.Error += current.Error
		current = next
	}
	current.Name = "all of these together"
	return current, nil
}

// steps lists the departures from the drawing that the person says will happen.
func (m Making) steps() []step {
	var out []step
	for _, f := range m.NotFaced {
		out = append(out, func(p asmade.Part) (asmade.Variant, error) { return asmade.Unfaced(p, f.Side, f.Stock) })
	}
	if m.WallStock > 0 || m.FloorStock > 0 {
		out = append(out, func(p asmade.Part) (asmade.Variant, error) {
			return asmade.StockLeft(p, asmade.MillAxis(p), m.WallStock, m.FloorStock)
		})
	}
	if m.NoChamfers {
		out = append(out, asmade.WithoutChamfers)
	}
	return out
}

// possibleVariants adds what may happen: the limits of the tolerance class and
// the two sides out of register. One that cannot be made of this mesh is warned
// of, for nothing else rests on it.
func (s *situation) possibleVariants() {
	m, p := s.c.Making, s.new.made
	try := func(what string, v asmade.Variant, err error) {
		if err != nil {
			s.warnings = append(s.warnings, fmt.Sprintf("%s is not shown: %v", what, err))
			return
		}
		s.keepVariant(v, false)
	}
	if m.Tolerance != "" {
		most, err := asmade.AtLimit(p, m.Tolerance, true)
		try("the part at the upper limit of its tolerance", most, err)
		least, err := asmade.AtLimit(p, m.Tolerance, false)
		try("the part at the lower limit of its tolerance", least, err)
	}
	if m.OriginError != 0 {
		r, v, err := asmade.Registration(p, asmade.MillAxis(p), m.OriginError)
		if err == nil {
			v.Notes = append(v.Notes, registerNote(r))
		}
		try("the part with its sides out of register", v, err)
	}
}

// registerNote says what an origin error leaves of the thinnest wall between the
// two sides.
func registerNote(r asmade.Register) string {
	text := fmt.Sprintf("what is milled after the flip lands %s mm off", number(r.Offset))
	if r.Between == nil || r.Left == nil {
		return text
	}
	return text + fmt.Sprintf("; of the thinnest wall between the sides, %s mm as drawn, %s mm are left",
		number(r.Between.Thickness), number(math.Max(0, *r.Left)))
}

func (s *situation) keepVariant(v asmade.Variant, used bool) {
	s.variants = append(s.variants, variant{v, partOf(s.new.loaded, v.Mesh, v.Error), used})
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
		directions := in.directions
		if !v.used { // the used one is what the comparison solved
			var err error
			if directions, err = s.withRedesign(ctx, in.directions, v.part); err != nil {
				return nil, err
			}
		}
		one := in
		one.new.volume, one.directions = v.part.volume, directions
		if !v.used {
			one.new.weighed = nil // the scale saw the part as it was made
		}
		out = append(out, AsMade{
			Name: v.Name, Volume: v.part.props.Volume, VolumeError: v.Error, Mass: one.new.mass(),
			ChangePercent:  100 * (v.part.props.Volume/drawn - 1),
			SavingPercent:  100 * (1 - one.new.mass()/one.old.mass()),
			StiffnessRatio: one.leastRatio(), Used: v.used, Notes: orEmpty(v.Notes),
		})
	}
	return out, nil
}

// withRedesign returns the directions with another mesh as the redesign.
func (s *situation) withRedesign(ctx context.Context, directions []direction, p part) ([]direction, error) {
	p.known = s.new.known
	if s.moved != nil {
		p.place(*s.moved)
	}
	responses, err := s.static().respond(ctx, p, true, s.cases, quick, nil)
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
func (in inputs) leastRatio() *float64 {
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
