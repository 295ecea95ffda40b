package swap

import (
	"context"
	"slices"

	"swapworth/beam"
	"swapworth/mesh"
	"swapworth/mesh/asmade"
)

// alternatives lists everything plausible that could stand in place of what was
// assumed.
func (s *situation) alternatives(ctx context.Context, in inputs) ([]alternative, error) {
	s = s.static()
	solved := []func() ([]alternative, error){ // side by side: they rest on different bodies, or wait for one another
		func() ([]alternative, error) { return s.stockAlternatives(ctx) },
		func() ([]alternative, error) { return s.newAlternatives(ctx) },
		func() ([]alternative, error) { return s.supportAlternatives(ctx) },
		func() ([]alternative, error) { return s.directionAlternative(ctx) },
		func() ([]alternative, error) { return s.facingAlternative(ctx, in) },
	}
	found := make([][]alternative, len(solved))
	err := each(ctx, len(solved), nil, func(_ context.Context, i int) (err error) {
		found[i], err = solved[i]()
		return err
	})
	return slices.Concat(found[0], s.scaleAlternative(), found[1], found[2], found[3], s.driveAlternative(in), found[4], s.limitAlternatives(in)), err
}

// supportAlternatives takes the other ways of holding the part, where nobody
// said how it is held.
func (s *situation) supportAlternatives(ctx context.Context) ([]alternative, error) {
	if !s.c.Loading.supportOpen() {
		return nil, nil
	}
	var out []alternative
	for _, support := range []beam.Support{beam.SimplySupported, beam.FixedFixed} {
		directions, err := s.respondBoth(ctx, s.sameAxes(support), quick)
		if err != nil {
			return nil, err
		}
		out = append(out, alternative{
			assumption: HowHeld,
			from:       s.support.String() + " (assumed)",
			to:         support.String(),
			check:      "look at how the part is bolted on and give --support",
			effort:     effortLook,
			kind:       condition,
			given:      "it is held as a " + s.support.String(),
			apply:      func(in inputs) inputs { in.directions = directions; return in },
		})
	}
	return out, nil
}

// sameAxes are the load cases with the part held otherwise.
func (s *situation) sameAxes(support beam.Support) []loadCase {
	out := slices.Clone(s.cases)
	for i := range out {
		out[i].support = support
	}
	return out
}

// turned are the load cases with the assumed force along another axis.
func (s *situation) turned(other mesh.Axis) []loadCase {
	out := slices.Clone(s.cases)
	for i := range out {
		if out[i].loads == nil {
			out[i].name, out[i].along = other.String(), other
		}
	}
	return out
}

// directionAlternative takes the other direction across the span, where nobody
// said how the load acts.
func (s *situation) directionAlternative(ctx context.Context) ([]alternative, error) {
	if len(s.c.Loading.Along) > 0 || s.c.Loading.named() {
		return nil, nil
	}
	other := s.across()
	directions, err := s.respondBoth(ctx, s.turned(other), quick)
	if err != nil || directions[0].old.refused != "" || directions[0].new.refused != "" {
		return nil, err
	}
	return []alternative{{
		assumption: LoadDirection,
		from:       s.cases[0].name + " (assumed)",
		to:         other.String(),
		check:      "look at how the part is loaded and give --load-along",
		effort:     effortLook,
		kind:       condition,
		given:      "the load acts along " + s.cases[0].name,
		apply:      func(in inputs) inputs { in.directions = directions; return in },
	}}, nil
}

// facingAlternative takes the redesign as it comes out when the facing pass is
// skipped: at the thickness of the plate it is cut from. It stands only where a
// thicker plate has to be faced down and nobody said how the part is made.
func (s *situation) facingAlternative(ctx context.Context, in inputs) ([]alternative, error) {
	if s.work == nil || len(s.c.Making.steps()) > 0 || s.c.New.Weight != nil {
		return nil, nil
	}
	thickness, plate := s.work.Part[2], s.work.Blank[2]
	if plate-thickness < 0.05 {
		return nil, nil
	}
	v, err := asmade.Unfaced(s.new.made, asmade.MillAxis(s.new.made), plate)
	if err != nil {
		return nil, nil // no flat face to leave stock on: the assumption does not arise
	}
	p := partOf(s.new.loaded, v.Mesh, v.Error)
	directions, err := s.withRedesign(ctx, in.directions, p)
	if err != nil && ctx.Err() == nil {
		return nil, nil // a place of a load is gone with it: nothing to compare
	}
	return []alternative{{
		assumption: Facing,
		from:       number(thickness) + " mm, as drawn",
		to:         number(plate) + " mm, the plate it is cut from",
		check:      "plan the facing pass, or give --not-faced",
		effort:     effortDecide,
		apply: func(in inputs) inputs {
			in.new.volume, in.directions = p.volume, directions
			return in
		},
	}}, err
}
