package swap

import (
	"context"
	"fmt"
	"slices"

	"swapworth/beam"
	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/swap/mill"
)

// alternativesFor lists what is to be tried in place of what was assumed: in passing,
// that alone which may leave the answer undecided and does not rest on the redesign.
func alternativesFor(ctx context.Context, c Case, p placed, j judged, inPassing bool) ([]alternative, error) {
	if inPassing {
		return stockAlternatives(ctx, c, p)
	}
	return alternatives(ctx, c, p, j)
}

// alternatives lists everything plausible that could stand in place of what was
// assumed.
func alternatives(ctx context.Context, c Case, p placed, j judged) ([]alternative, error) {
	solved := []func() ([]alternative, error){ // side by side: they rest on different bodies, or wait for one another
		func() ([]alternative, error) { return stockAlternatives(ctx, c, p) },
		func() ([]alternative, error) { return newAlternatives(ctx, c, p) },
		func() ([]alternative, error) { return supportAlternatives(ctx, c, p) },
		func() ([]alternative, error) { return directionAlternative(ctx, c, p) },
		func() ([]alternative, error) { return facingAlternative(ctx, c, p, j.in.directions, j.price.work) },
	}
	found := make([][]alternative, len(solved))
	err := each(ctx, len(solved), nil, func(_ context.Context, i int) (err error) {
		found[i], err = solved[i]()
		return err
	})
	return slices.Concat(found[0], scaleAlternative(c.Old), found[1], found[2], found[3], driveAlternative(c.Machine), found[4],
		limitAlternatives(c.Limits, c.Machine)), err
}

// supportAlternatives takes the other ways of holding the part, where nobody
// said how it is held.
func supportAlternatives(ctx context.Context, c Case, p placed) ([]alternative, error) {
	if !c.Loading.supportOpen() {
		return nil, nil
	}
	var out []alternative
	for _, support := range []beam.Support{beam.SimplySupported, beam.FixedFixed} {
		directions, err := mechanicsOf(c, true).respondBoth(ctx, p, heldAs(p.cases, support), quick, c.Progress)
		if err != nil {
			return nil, err
		}
		out = append(out, alternative{
			assumption: HowHeld,
			from:       p.support.String() + " (assumed)",
			to:         support.String(),
			check:      "look at how the part is bolted on and give --support",
			effort:     effortLook,
			kind:       condition,
			given:      "it is held as a " + p.support.String(),
			apply:      func(in inputs) inputs { in.directions = directions; return in },
		})
	}
	return out, nil
}

// directionAlternative takes the other direction across the span, where nobody
// said how the load acts.
func directionAlternative(ctx context.Context, c Case, p placed) ([]alternative, error) {
	if len(c.Loading.Along) > 0 || c.Loading.named() {
		return nil, nil
	}
	other := across(p.cases)
	directions, err := mechanicsOf(c, true).respondBoth(ctx, p, turned(p.cases, other), quick, c.Progress)
	if err != nil || directions[0].old.refused != "" || directions[0].new.refused != "" {
		return nil, err
	}
	return []alternative{{
		assumption: LoadDirection,
		from:       p.cases[0].name + " (assumed)",
		to:         other.String(),
		check:      "look at how the part is loaded and give --load-along",
		effort:     effortLook,
		kind:       condition,
		given:      "the load acts along " + p.cases[0].name,
		apply:      func(in inputs) inputs { in.directions = directions; return in },
	}}, nil
}

// facingAlternative takes the redesign as it comes out when the facing pass is
// skipped: at the thickness of the plate it is cut from. It stands only where a
// thicker plate has to be faced down and nobody said how the part is made.
func facingAlternative(ctx context.Context, c Case, p placed, directions []direction, work *mill.Work) ([]alternative, error) {
	if work == nil || len(c.Making.steps()) > 0 || c.New.Weight != nil {
		return nil, nil
	}
	thickness, plate := work.Part[2], work.Blank[2]
	if plate-thickness < 0.05 {
		return nil, nil
	}
	v, err := asmade.Unfaced(p.new.made, asmade.MillAxis(p.new.made), plate)
	if err != nil {
		return nil, nil // no flat face to leave stock on: the assumption does not arise
	}
	unfaced := shapeOf(p.new.loaded, v.Mesh, v.Error)
	directions, err = withRedesign(ctx, mechanicsOf(c, true), p, directions, unfaced)
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
			in.new.volume, in.directions = unfaced.volume, directions
			return in
		},
	}}, err
}

// driveAlternative takes the other kind of drive where nobody said which it is.
func driveAlternative(m Machine) []alternative {
	if !m.Drive.unsaid() || !m.known() {
		return nil
	}
	return []alternative{{
		assumption: DriveLimit,
		from:       "its force (assumed)",
		to:         "its controller's speed and acceleration",
		check:      "look at the controller's settings and give --drive-limited",
		effort:     effortLook,
		apply:      func(in inputs) inputs { in.machine.Drive.Limited = BySpeed; return in },
	}}
}

// The bounds within which a usual limit, one that nobody set, is tried.
const (
	leastSaving, mostSaving       = 0.05, 0.20
	leastStiffness, mostStiffness = 0.8, 1.0
	leastSafety, mostSafety       = 1.5, 3.0
)

// limitAlternatives take every usual limit at both ends of what people ask for.
func limitAlternatives(l Limits, m Machine) []alternative {
	var out []alternative
	try := func(asked bool, what, flag, unit string, scale, usual, low, high float64, set func(*Limits, float64)) {
		if asked {
			return
		}
		for _, v := range []float64{low, high} {
			out = append(out, alternative{
				assumption: what,
				from:       number(scale*usual) + unit + " (usual)",
				to:         number(scale*v) + unit,
				check:      "decide what you ask for and give --" + flag,
				effort:     effortDecide,
				kind:       condition,
				given:      fmt.Sprintf("a %s of %s%s is asked", what, number(scale*usual), unit),
				apply:      func(in inputs) inputs { set(&in.limits, v); return in },
			})
		}
	}
	if l.asksSaving(m) {
		try(l.SavingAsked, LeastSaving, "min-saving", " %", 100, l.MinSaving, leastSaving, mostSaving, func(l *Limits, v float64) { l.MinSaving = v })
	}
	least, most := leastStiffness, mostStiffness
	if l.Goal == Stiffer {
		least, most = 1+leastSaving, 1+mostSaving
	}
	try(l.StiffnessAsked, LeastStiffness, "min-stiffness-ratio", "", 1, l.MinStiffnessRatio, least, most,
		func(l *Limits, v float64) { l.MinStiffnessRatio = v })
	try(l.SafetyAsked, LeastSafety, "min-safety-factor", "", 1, l.MinSafetyFactor, leastSafety, mostSafety,
		func(l *Limits, v float64) { l.MinSafetyFactor = v })
	return out
}

// withRedesign returns the directions with another shape as the redesign.
func withRedesign(ctx context.Context, m mechanics, p placed, directions []direction, s shape) ([]direction, error) {
	responses, err := m.respond(ctx, p.new.shaped(s), onRedesign, p.cases, quick, nil)
	if err != nil {
		return nil, err
	}
	return responding(directions, onRedesign, responses), nil
}

// heldAs are the cases with the part held otherwise.
func heldAs(cases []loadCase, support beam.Support) []loadCase {
	out := slices.Clone(cases)
	for i := range out {
		out[i].support = support
	}
	return out
}

// shaped returns the part in another shape, in the same place and of the same material.
func (p placedPart) shaped(s shape) placedPart {
	out := asFiled(part{s, p.tolerance, p.known})
	if p.motion != mesh.Identity() {
		return out.moved(p.motion)
	}
	return out
}
