package swap

import (
	"context"
	"slices"

	"swapworth/solid"
)

// tooWide is the stated error of a stiffness, as a fraction, above which a part is
// solved again on finer grids whatever rests on it.
const tooWide = 0.05

// refined is what mechanics says once it was looked at as closely as the answer needs.
type refined struct {
	directions []direction
	leftOpen   bool // the stress, for the answer does not rest on it
	remarks
}

// refine solves again, on finer grids, the parts whose stated error leaves a
// criterion undecided, until none does or the full budget is spent; one that is
// only too wide is refined once. It says what was refined. In passing, nothing is looked
// at again that would not change the answer.
func refine(ctx context.Context, m mechanics, p placed, in inputs, inPassing bool, progress func(float64)) (refined, error) {
	if inPassing && missedAnyway(in) {
		return refined{directions: in.directions, leftOpen: true}, nil
	}
	spent, said := [2]budget{quick, quick}, remarks{}
	if m.method == Auto {
		for _, b := range []budget{refinedGrids, full} {
			again, err := solvedAgain(ctx, m, p, in, b, progress)
			if err != nil {
				return refined{}, err
			}
			if len(again) == 0 {
				break
			}
			for side := range 2 {
				if found, ok := again[side]; ok {
					in.directions, spent[side] = responding(in.directions, side, found), b
					said = said.assuming("The %s was solved again on finer grids, for its first stated error was over %s %% or left a criterion open",
						sideName(side), number(100*tooWide))
				}
			}
		}
	}
	directions, err := lookClosely(ctx, m, p, in, spent, progress)
	return refined{directions: directions, remarks: said}, err
}

// solvedAgain solves the parts that want it with a larger budget: by part.
func solvedAgain(ctx context.Context, m mechanics, p placed, in inputs, b budget, progress func(float64)) (map[int][]response, error) {
	old, new := wanting(in, b == refinedGrids)
	out := map[int][]response{}
	for side, wanted := range [2]bool{old, new} {
		if !wanted {
			continue
		}
		found, err := m.respond(ctx, p.part(side), side, p.cases, b, progress)
		if err != nil {
			return nil, err
		}
		out[side] = found
	}
	return out, nil
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
func lookClosely(ctx context.Context, m mechanics, p placed, in inputs, b [2]budget, progress func(float64)) ([]direction, error) {
	if m.method == ByBeam || !slices.ContainsFunc(in.directions, func(d direction) bool { return strengthOpen(in, d) }) {
		return in.directions, nil
	}
	told := shares(progress, 2)
	var found [2][]response
	err := each(ctx, 2, nil, func(ctx context.Context, side int) (err error) {
		found[side], err = m.respondWith(ctx, p.part(side), side, p.cases, b[side], solid.Options{Progress: told[side], Peaks: true})
		return err
	})
	if err != nil {
		return nil, err
	}
	return responding(responding(in.directions, onStock, found[onStock]), onRedesign, found[onRedesign]), nil
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

// responding returns the directions with other responses of one part.
func responding(directions []direction, side int, part []response) []direction {
	out := slices.Clone(directions)
	for i, d := range out {
		out[i] = d.with(side, part[i])
	}
	return out
}

// with is the load case with another response of one part.
func (d direction) with(side int, r response) direction {
	if side == onStock {
		d.old = r
	} else {
		d.new = r
	}
	return d
}
