package swap

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"swapworth/beam"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/solid"
)

// budget says how finely a part is solved in three dimensions.
type budget int

// The budgets, coarsest first. A sketch is one coarse grid: good for the ratio of
// one part with itself, where the error of the grid cancels, and for nothing else.
const (
	sketch budget = iota
	quick
	refined
	full
)

// options are those of the solid room. A refined quick budget keeps the grids of
// the quick one and what was solved on them.
func (b budget) options() solid.Options {
	switch b {
	case sketch:
		return solid.Options{Unknowns: 4_000, Grids: 1}
	case quick:
		return solid.Quick()
	case refined:
		return solid.Quick().Refined()
	}
	return solid.Options{}
}

// solver is a part made ready to be solved. Its grids are built once and serve
// every way of holding and loading it. What was asked once is not solved again.
type solver struct {
	lock sync.Mutex
	mesh *mesh.Mesh
	body *solid.Body

	keeping  sync.Mutex
	answered map[string]func() ([]response, error)  // by question
	brought  map[mesh.Transform]func() moved        // by motion
	drifts   map[[3]float64]func() (*solver, error) // at the limits of its sizes, by how far faces move
}

// moved is a part in another frame.
type moved struct {
	mesh     *mesh.Mesh
	features feature.Features
	solver   *solver
}

// answer returns what was found for a question, or finds it.
func (s *solver) answer(question string, find func() ([]response, error)) ([]response, error) {
	return kept(&s.keeping, &s.answered, question, func() func() ([]response, error) { return sync.OnceValues(find) })()
}

// moved returns the part in the frame that a motion brings it to.
func (s *solver) moved(t mesh.Transform) moved {
	return kept(&s.keeping, &s.brought, t, func() func() moved {
		return sync.OnceValue(func() moved {
			m := s.mesh.Transformed(t)
			return moved{m, feature.Find(m), &solver{mesh: m}}
		})
	})()
}

// kept returns what a map holds for a key, made if it is new.
func kept[K comparable, V any](lock *sync.Mutex, in *map[K]V, key K, make func() V) V {
	lock.Lock()
	defer lock.Unlock()
	v, ok := (*in)[key]
	if !ok {
		if *in == nil {
			*in = map[K]V{}
		}
		v = make()
		(*in)[key] = v
	}
	return v
}

// check solves a problem; one at a time, for the problems share the grids.
func (s *solver) check(ctx context.Context, e materials.Elastic, p solid.Problem, o solid.Options) (solid.Result, error) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if err := s.prepare(); err != nil {
		return solid.Result{}, err
	}
	return s.body.Check(ctx, e, p, o)
}

// locate finds the places of a problem without solving it.
func (s *solver) locate(e materials.Elastic, p solid.Problem) error {
	s.lock.Lock()
	defer s.lock.Unlock()
	if err := s.prepare(); err != nil {
		return err
	}
	return s.body.Locate(e, p)
}

func (s *solver) prepare() (err error) {
	if s.body == nil {
		s.body, err = solid.NewBody(s.mesh)
	}
	return err
}

// respondBoth solves both parts side by side in every load case.
func (s *situation) respondBoth(ctx context.Context, cases []loadCase, b budget) ([]direction, error) {
	out := make([]direction, len(cases))
	for i, c := range cases {
		out[i] = direction{loadCase: c, method: s.solvedBy()}
	}
	told := shares(s.c.Progress, 2)
	err := each(ctx, 2, nil, func(ctx context.Context, side int) error {
		responses, err := s.respond(ctx, s.part(side), side, cases, b, told[side])
		for k := range responses {
			*of(side)(&out[k]) = responses[k]
		}
		return err
	})
	return out, err
}

func (s *situation) part(side int) part { return [2]part{s.old, s.new}[side] }

// respond computes one part in every load case.
func (s *situation) respond(ctx context.Context, p part, side int, cases []loadCase, b budget, told func(float64)) ([]response, error) {
	return s.respondWith(ctx, p, side, cases, b, solid.Options{Progress: told})
}

// respondWith is respond with what else is asked of the solid room.
func (s *situation) respondWith(ctx context.Context, p part, side int, cases []loadCase, b budget, more solid.Options) ([]response, error) {
	if s.method() == ByBeam {
		return s.respondBeams(p, side, cases), nil
	}
	if s.method() == BySolid && b >= quick {
		b = full
	}
	options := b.options()
	options.Progress, options.Peaks = more.Progress, more.Peaks
	if b != sketch && s.rings() {
		options.Modes = 1
	}
	options.NoStress = b == sketch || s.staticOnly && s.c.Loading.Force == 0 && !s.c.Loading.named()
	return p.solver.answer(s.question(p, side, cases, options), func() ([]response, error) {
		out := make([]response, len(cases))
		for _, group := range alike(cases, side) {
			if err := s.respondSolid(ctx, p, side, cases, group, options, out); err != nil {
				return nil, err
			}
		}
		return out, nil
	})
}

// question is all that a response depends on. Stiffness, stress and frequency are free
// of Young's modulus, of the density and of the strength; see response.
func (s *situation) question(p part, side int, cases []loadCase, o solid.Options) string {
	e := p.elastic()
	e.YoungsModulus, e.Density, e.Yield = 0, 0, 0
	o.Progress = nil
	text := fmt.Sprintf("%d %+v %+v %g %g", side, e, o, s.c.Loading.AttachedMass, s.force())
	for _, c := range cases {
		loads := Loads{}
		if c.loads != nil {
			loads = *c.loads
		}
		text += fmt.Sprintf("; %s %v %v %v %v %+v %+v", c.name, c.span, c.along, c.support, c.loads == nil, loads, c.on[side])
	}
	return text
}

// alike groups the load cases that hold a part alike: they share one set-up, which
// costs little more than one of them.
func alike(cases []loadCase, side int) [][]int {
	var out [][]int
	for i, c := range cases {
		k := slices.IndexFunc(out, func(group []int) bool { return cases[group[0]].holdsLike(c, side) })
		if k < 0 {
			out = append(out, nil)
			k = len(out) - 1
		}
		out[k] = append(out[k], i)
	}
	return out
}

// holdsLike reports whether two cases hold a part alike. A propped part is held
// along its load.
func (c loadCase) holdsLike(d loadCase, side int) bool {
	if len(c.on[side].held) > 0 || len(d.on[side].held) > 0 {
		return slices.Equal(c.on[side].held, d.on[side].held)
	}
	return c.support == d.support && (c.support != beam.Propped || c.along == d.along)
}

// respondSolid solves a group of cases in three dimensions, and writes what it
// finds into their places of out. A part that cannot be solved is refused, and the
// rest of the comparison stands without it.
func (s *situation) respondSolid(ctx context.Context, p part, side int, cases []loadCase, group []int, options solid.Options, out []response) error {
	var problem solid.Problem
	for n, k := range group {
		one, err := cases[k].problem(p.mesh, side, s.force())
		if err != nil {
			return err
		}
		if n == 0 {
			problem = one
			problem.AttachedMass = s.c.Loading.AttachedMass
		} else {
			problem.Cases = append(problem.Cases, one.Cases...)
		}
	}
	r, err := p.solver.check(ctx, p.elastic(), problem, options)
	if ctx.Err() != nil {
		return ctx.Err()
	}
	for n, k := range group {
		if err != nil {
			out[k] = response{refused: err.Error(), warnings: about(side, cases[k], []string{err.Error()})}
			continue
		}
		out[k] = responseOf(r, r.Cases[n], cases[k], s.force())
		out[k].warnings, out[k].solvedAs = aboutGroup(side, cases, group, r.Warnings), p.elastic()
	}
	return nil
}

// responseOf frees one solved case of its material, and of a force along an axis.
func responseOf(r solid.Result, c solid.CaseResult, of loadCase, force float64) response {
	size := 1.0 // the loads as they are stated
	if of.loads == nil {
		size = force
	}
	return response{
		kind:       c.Kind,
		perModulus: c.Measure() / r.YoungsModulus,
		within:     c.ErrorPercent / 100,
		frequency:  r.Frequency,
		deflection: c.Deflection * r.YoungsModulus / size,
		stress:     stressOf(c, size),
		reactions:  c.Reactions,
	}
}

// stressOf is the peak of a case over its load, with what grids or submodels leave
// open of it.
func stressOf(c solid.CaseResult, size float64) stress {
	if !(c.MaxStress > 0) {
		return stress{}
	}
	return stress{perLoad: c.Stress.Scale(1 / size), resolved: c.Resolved}
}

// about says of every warning which part and load case it is about.
func about(side int, c loadCase, warnings []string) []string {
	var out []string
	for _, w := range warnings {
		out = append(out, fmt.Sprintf("%s, %s: %s", sideName(side), c.words(), w))
	}
	return out
}

// aboutGroup is about for cases that were solved together: what holds for one of
// several names it itself.
func aboutGroup(side int, cases []loadCase, group []int, warnings []string) []string {
	if len(group) == 1 {
		return about(side, cases[group[0]], warnings)
	}
	var out []string
	for _, w := range warnings {
		out = append(out, sideName(side)+": "+w)
	}
	return out
}

// static returns the situation for mechanics of parts that are only tried: their
// frequencies are spared.
func (s *situation) static() *situation {
	spare := *s
	spare.staticOnly = true
	return &spare
}

func (s *situation) method() Method {
	if s.c.Loading.Method == "" {
		return Auto
	}
	return s.c.Loading.Method
}

// rings reports whether frequencies are wanted: for the parts as they are, and for what
// is only tried where one is asked for.
func (s *situation) rings() bool { return !s.staticOnly || s.c.Limits.MinFrequency != nil }

// solvedBy names the theory behind the numbers: beam or solid.
func (s *situation) solvedBy() Method {
	if s.method() == ByBeam {
		return ByBeam
	}
	return BySolid
}

func (s *situation) force() float64 {
	if f := s.c.Loading.Force; f > 0 {
		return f
	}
	return 1
}

// elastic is the part's material with the density the part really has.
func (p part) elastic() materials.Elastic {
	e := p.known.material.Elastic()
	e.Density = p.known.density.Nominal
	return e
}
