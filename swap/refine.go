package swap

import (
	"context"
	"fmt"
	"slices"

	"swapworth/solid"
)

// tooWide is the stated error of a stiffness, as a fraction, above which a part is
// solved again on finer grids whatever rests on it.
const tooWide = 0.05

// refine solves again, on finer grids, the parts whose stated error leaves a
// criterion undecided, until none does or the full budget is spent; one that is
// only too wide is refined once. It says what was refined.
func (s *situation) refine(ctx context.Context, in inputs) (inputs, []string, error) {
	var said []string
	if s.hasty && missedAnyway(in) {
		s.firstLook = true
		return in, nil, nil
	}
	spent := [2]budget{quick, quick}
	if s.method() != Auto {
		in, err := s.lookClosely(ctx, in, spent)
		return in, nil, err
	}
	for _, b := range []budget{refined, full} {
		old, new := wanting(in, b == refined)
		var again []string
		for side, wanted := range [2]bool{old, new} {
			if !wanted {
				continue
			}
			responses, err := s.respond(ctx, s.part(side), side, s.cases, b, s.c.Progress)
			if err != nil {
				return in, nil, err
			}
			in.directions = responding(in.directions, of(side), responses)
			spent[side] = b
			again = append(again, sideName(side))
		}
		if len(again) == 0 {
			break
		}
		for _, name := range again {
			said = append(said, fmt.Sprintf("The %s was solved again on finer grids, for its first stated error was over %s %% or left a criterion open", name, number(100*tooWide)))
		}
	}
	in, err := s.lookClosely(ctx, in, spent)
	return in, said, err
}

// hopeless reports whether the redesign has not half the stiffness asked for, which no
// tolerance of its sizes and no error of the first grids makes up for.
func hopeless(in inputs) bool {
	return slices.ContainsFunc(in.directions, func(d direction) bool {
		return d.old.refused == "" && d.new.refused == "" && in.nominalRatio(d) < in.limits.MinStiffnessRatio/2
	})
}

// missedAnyway reports whether a criterion other than strength is missed on the first
// grids, with all their error: where that is too wide, in every draw. Finer grids and a
// closer look at the stress would not change the answer.
func missedAnyway(in inputs) bool {
	least := 1 - in.limits.confidence()
	for _, d := range in.directions {
		if max(d.old.within, d.new.within) > tooWide {
			least = 0
		}
	}
	in.cost, in.verdictOnly = &Cost{}, true
	return slices.ContainsFunc(judge(in).criteria, func(c Criterion) bool {
		return c.kind != safetyCriterion && c.Probability != nil && *c.Probability <= least
	})
}

// lookClosely resolves the peaks of the stress of both parts, in submodels, where the
// grids leave the safety factor of the redesign open. The stock part's is looked at
// with it, so that the two numbers are alike.
func (s *situation) lookClosely(ctx context.Context, in inputs, b [2]budget) (inputs, error) {
	if s.method() == ByBeam || !slices.ContainsFunc(in.directions, func(d direction) bool { return strengthOpen(in, d) }) {
		return in, nil
	}
	told := shares(s.c.Progress, 2)
	var found [2][]response
	err := each(ctx, 2, nil, func(ctx context.Context, side int) (err error) {
		found[side], err = s.respondWith(ctx, s.part(side), side, s.cases, b[side], solid.Options{Progress: told[side], Peaks: true})
		return err
	})
	if err != nil {
		return in, err
	}
	for side := range found {
		in.directions = responding(in.directions, of(side), found[side])
	}
	return in, nil
}

// strengthOpen reports whether the safety factor of the redesign is judged and the
// peak of its stress not settled, or not known well enough to decide.
func strengthOpen(in inputs, d direction) bool {
	load := in.load(d)
	if !in.new.strengthJudged(d.new, load) || d.new.stress.resolved {
		return false
	}
	return !d.new.stress.bounded() || open(in, in.safetyFactors(d), in.limits.MinSafetyFactor)
}

// wanting says which part's stated error leaves a criterion undecided that would be
// decided without it, or, where width counts too, is too wide.
func wanting(in inputs, width bool) (old, new bool) {
	exact := exactMethod(in)
	for i, d := range in.directions {
		if d.old.refused != "" || d.new.refused != "" {
			continue
		}
		old = old || width && d.old.within > tooWide
		new = new || width && d.new.within > tooWide
		limit := in.limits.MinStiffnessRatio
		if open(in, in.ratios(d), limit) && !open(in, exact.ratios(exact.directions[i]), limit) {
			old = old || d.old.within >= d.new.within/2
			new = new || d.new.within >= d.old.within/2
		}
	}
	return old, new
}

// open reports whether a sample neither reaches a limit nor misses it with the
// confidence asked for.
func open(in inputs, sample []float64, limit float64) bool {
	p, asked := shareOf(atLeast(sample, limit)), in.limits.confidence()
	return p < asked && p > 1-asked
}

// exactMethod returns the inputs as if mechanics made no error.
func exactMethod(in inputs) inputs {
	out := in
	out.directions = slices.Clone(in.directions)
	for i := range out.directions {
		out.directions[i].old.within, out.directions[i].new.within = 0, 0
	}
	return out
}
