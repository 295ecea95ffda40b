package swap

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"swapworth/materials"
	"swapworth/mesh"
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
// every way of holding and loading it.
type solver struct {
	lock sync.Mutex
	mesh *mesh.Mesh
	body *solid.Body
}

// check solves a problem; one at a time, for the problems share the grids.
func (s *solver) check(ctx context.Context, e materials.Elastic, p solid.Problem, o solid.Options) (solid.Result, error) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.body == nil {
		body, err := solid.NewBody(s.mesh)
		if err != nil {
			return solid.Result{}, err
		}
		s.body = body
	}
	return s.body.Check(ctx, e, p, o)
}

// respondBoth solves both parts side by side in every load case.
func (s *situation) respondBoth(ctx context.Context, cases []loadCase, b budget) ([]direction, error) {
	out := make([]direction, len(cases))
	for i, c := range cases {
		out[i] = direction{loadCase: c, method: s.solvedBy()}
	}
	sides := []struct {
		part part
		to   func(*direction) *response
	}{{s.old, ofStock}, {s.new, ofRedesign}}
	told := shares(s.c.Progress, len(sides))
	err := each(ctx, len(sides), nil, func(ctx context.Context, i int) error {
		find := func() ([]response, error) { return s.respond(ctx, sides[i].part, i == 1, cases, b, told[i]) }
		if i == 0 {
			find = s.stock.once(fmt.Sprint(cases, b, s.staticOnly), find)
		}
		responses, err := find()
		for k := range responses {
			*sides[i].to(&out[k]) = responses[k]
		}
		return err
	})
	return out, err
}

func ofStock(d *direction) *response    { return &d.old }
func ofRedesign(d *direction) *response { return &d.new }

// respond computes one part in every load case.
func (s *situation) respond(ctx context.Context, p part, redesign bool, cases []loadCase, b budget, told func(float64)) ([]response, error) {
	if s.method() == ByBeam {
		return s.respondBeams(p, redesign, cases)
	}
	if s.method() == BySolid && b >= quick {
		b = full
	}
	return s.respondSolid(ctx, p, redesign, cases, b, told)
}

// respondSolid solves the cases in three dimensions: those that hold the part
// alike in one set-up, which costs little more than one of them.
func (s *situation) respondSolid(ctx context.Context, p part, redesign bool, cases []loadCase, b budget, told func(float64)) ([]response, error) {
	options := b.options()
	options.Progress = told
	if b != sketch && !s.staticOnly {
		options.Modes = 1
	}
	out := make([]response, len(cases))
	done := make([]bool, len(cases))
	for i := range cases {
		if done[i] {
			continue
		}
		problem, err := cases[i].problem(p, redesign, s.force())
		if err != nil {
			return nil, err
		}
		problem.AttachedMass = s.c.Loading.AttachedMass
		alike := []int{i}
		for k := i + 1; k < len(cases); k++ {
			other, err := cases[k].problem(p, redesign, s.force())
			if err != nil {
				return nil, err
			}
			if !done[k] && slices.Equal(other.Supports, problem.Supports) {
				problem.Cases = append(problem.Cases, other.Cases...)
				alike = append(alike, k)
			}
		}
		r, err := p.solver.check(ctx, p.elastic(), problem, options)
		if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
			return nil, err
		}
		for n, k := range alike {
			done[k] = true
			if err != nil { // the rest of the comparison stands without a stiffness
				out[k] = response{refused: err.Error(), warnings: []string{fmt.Sprintf("%s, %s: %v", sideName(redesign), cases[k].words(), err)}}
				continue
			}
			out[k] = responseOf(r, r.Cases[n])
			out[k].warnings = about(sideName(redesign), cases[k], r.Warnings)
		}
	}
	return out, nil
}

// responseOf frees one solved case of its material.
func responseOf(r solid.Result, c solid.CaseResult) response {
	return response{
		perModulus: c.Stiffness / r.YoungsModulus,
		within:     c.ErrorPercent / 100,
		frequency:  r.Frequency,
		stress:     stressOf(c),
	}
}

// stressOf is the peak of a case over its load. Where the peak has no limit the
// stress away from it bounds it from below alone, and it stays open.
func stressOf(c solid.CaseResult) stress {
	if !(c.MaxStress > 0) {
		return stress{}
	}
	out := stress{perLoad: within(c.MaxStress/c.Load, stressError), open: c.GridBound}
	if c.GridBound {
		out.perLoad.Low = min(c.AwayStress, c.MaxStress) / c.Load
	}
	return out
}

func sideName(redesign bool) string {
	if redesign {
		return "redesign"
	}
	return "stock part"
}

// about says of every warning which part and load case it is about.
func about(name string, c loadCase, warnings []string) []string {
	var out []string
	for _, w := range warnings {
		out = append(out, fmt.Sprintf("%s, %s: %s", name, c.words(), w))
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
