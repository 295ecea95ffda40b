package swap

import (
	"context"
	"fmt"
	"math"
	"sync"

	"swapworth/mesh"
	"swapworth/mesh/asmade"
)

// What a mill gets wrong comes in two parts, each the same for all faces it touches: how
// deep it goes, which makes the part thinner or thicker along its thinnest direction,
// floors of pockets included, and how wide its cutter runs, which moves the outline and
// all upright walls. Bores are left out: a drill makes them, and their class moves mass
// and stiffness of a plate by less than a tenth of what its thickness does.
const (
	depth = iota
	outline
	sizeErrors
)

// defaultClass is that of ISO 2768-1 which a part is taken to keep where nobody said
// one: what drawings of milled parts ask as a rule (common practice).
const defaultClass = asmade.Medium

// sizes is what the permissible deviations of a part's sizes do to it: the logarithm of
// mass and stiffness at the upper limit over those as drawn, for each error. Between the
// limits both go as powers of the size. The zero value is a part exactly as drawn.
type sizes struct {
	mass      [sizeErrors]float64
	stiffness map[string][sizeErrors]float64 // by the name of the load case
}

// none reports whether nothing moves the part.
func (z sizes) none() bool { return z.mass == [sizeErrors]float64{} }

// scaled returns what deviations k times as large, against the part's size, do.
func (z sizes) scaled(k float64) sizes {
	out := sizes{stiffness: map[string][sizeErrors]float64{}}
	for e := range z.mass {
		out.mass[e] = k * z.mass[e]
	}
	for name, by := range z.stiffness {
		for e := range by {
			by[e] *= k
		}
		out.stiffness[name] = by
	}
	return out
}

// Class is the tolerance that the parts are taken to keep.
func (m Making) Class() asmade.Class {
	if m.Tolerance == "" {
		return defaultClass
	}
	return m.Tolerance
}

// measureSizes finds what the tolerance does to the mass of both parts.
func (s *situation) measureSizes() {
	if s.c.Making.Tolerance == "" {
		s.assume("Sizes are taken to keep class %s of ISO 2768-1: give --tolerance", defaultClass)
	}
	for side, p := range []*part{&s.old, &s.new} {
		var err error
		if p.deviations, err = p.made.Deviations(s.c.Making.Class()); err != nil {
			s.warnings = append(s.warnings, fmt.Sprintf("%s: its sizes count as exact: %v", sideName(side), err))
			continue
		}
		for e := range sizeErrors {
			if m, err := asmade.Drifted(p.made, p.lower(e)); err == nil {
				p.sizes.mass[e] = math.Log(p.made.Mesh.SignedVolume() / m.SignedVolume())
			} else { // faces that cannot be moved: as a solid bar or plate
				p.sizes.mass[e] = p.solidly(e)
			}
		}
	}
}

// lower is how far faces move along the part's own axes where it is at the lower limit
// of an error, mm.
func (p part) lower(e int) (by [3]float64) {
	thin := p.made.Thinnest()
	for k := range by {
		if (k == thin) == (e == depth) {
			by[k] = -p.deviations[k] / 2
		}
	}
	return by
}

// solidly is the share that an error has of the mass of a solid bar.
func (p part) solidly(e int) float64 {
	sum, by := 0.0, p.lower(e)
	for k, d := range p.made.Square {
		sum -= 2 * by[k] / p.made.Thickness(d)
	}
	return sum
}

// loose is how far its sizes may move the mass of a part, as a share.
func (z sizes) loose() float64 { return z.mass[depth] + z.mass[outline] }

// settleSizes finds what the tolerance does to the stiffness of both parts.
func (s *situation) settleSizes(ctx context.Context) error {
	return each(ctx, 2, nil, func(ctx context.Context, side int) (err error) {
		p := [2]*part{&s.old, &s.new}[side]
		p.sizes.stiffness, err = s.static().stiffnessBySize(ctx, side)
		return err
	})
}

// stiffnessBySize solves a part as drawn, and at the lower limit of each error, on one
// coarse grid whose error all share.
func (s *situation) stiffnessBySize(ctx context.Context, side int) (map[string][sizeErrors]float64, error) {
	p, cases := s.part(side), s.sizedCases()
	drawn, err := s.sketched(ctx, side)
	if p.sizes.none() || err != nil {
		return nil, err
	}
	out := map[string][sizeErrors]float64{}
	for e := range sizeErrors {
		less := make([]response, len(cases))
		if smaller, err := p.drifted(p.lower(e)); err == nil {
			q := p
			q.mesh, q.solver = smaller.mesh, smaller
			less, err = s.respond(ctx, q, side, cases, sketch, nil)
			if ctx.Err() != nil {
				return nil, err
			}
		}
		for i, c := range cases {
			of := out[c.name]
			if of[e] = plate * p.sizes.mass[e]; i < len(less) && drawn[i].perModulus > 0 && less[i].perModulus > 0 {
				of[e] = math.Log(drawn[i].perModulus / less[i].perModulus)
			}
			out[c.name] = of
		}
	}
	return out, nil
}

// drifted is the part with its faces moved outward along its own axes, in the frame that
// it is solved in. It is made once.
func (p part) drifted(by [3]float64) (*solver, error) {
	return kept(&p.solver.keeping, &p.solver.drifts, by, func() func() (*solver, error) {
		return sync.OnceValues(func() (*solver, error) {
			m, err := asmade.Drifted(p.made, by)
			if err == nil && p.motion != mesh.Identity() {
				m = m.Transformed(p.motion)
			}
			return &solver{mesh: m}, err
		})
	})()
}

// plate is the power of its thickness with which a plate bends, the most that any shape
// has: it stands where a part at its limit cannot be solved.
const plate = 3

// sizedCases are the load cases, and those with the force along the other axis where
// its direction is assumed: the same deviation does another thing there.
func (s *situation) sizedCases() []loadCase {
	if len(s.c.Loading.Along) > 0 || s.c.Loading.named() {
		return s.cases
	}
	return append(s.cases[:len(s.cases):len(s.cases)], s.turned(s.across())...)
}

// sketched is a part solved on one coarse grid, in the cases that deviations are solved
// for, those of the comparison first.
func (s *situation) sketched(ctx context.Context, side int) ([]response, error) {
	return s.static().respond(ctx, s.part(side), side, s.sizedCases(), sketch, nil)
}
