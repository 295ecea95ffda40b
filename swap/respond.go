package swap

import (
	"context"
	"slices"
)

// responses are what mechanics says of both parts on the first grids.
type responses struct {
	directions []direction          // one a load case
	bySize     [2]map[string]bySize // of the stiffness of each part, by load case; nil: left out
}

// respond solves both parts, and what the tolerance of their sizes does to their
// stiffness. In passing, that is spared where no size would help.
func respond(ctx context.Context, c Case, p placed, inPassing bool) (responses, error) {
	m := mechanicsOf(c, inPassing)
	directions, err := m.respondBoth(ctx, p, p.cases, quick, c.Progress)
	if err != nil || inPassing && hopeless(directions, p, c.Limits.MinStiffnessRatio) {
		return responses{directions: directions}, err
	}
	by, err := sized(ctx, mechanicsOf(c, true), p, sizedCases(c.Loading, p.cases))
	return responses{directions, by}, err
}

// hopeless reports whether the redesign has not half the stiffness asked for, which no
// tolerance of its sizes and no error of the first grids makes up for.
func hopeless(directions []direction, p placed, asked float64) bool {
	return slices.ContainsFunc(directions, func(d direction) bool {
		return d.old.refused == "" && d.new.refused == "" &&
			d.nominalRatio(p.old.known.modulus.Nominal, p.new.known.modulus.Nominal) < asked/2
	})
}
