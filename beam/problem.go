package beam

import (
	"fmt"

	"swapworth/beam/section"
	"swapworth/materials"
)

// gramsPerTonne turns g into t, the mass that goes with N, mm and s.
const gramsPerTonne = 1e6

// standardGravity is in mm/s2.
const standardGravity = 9806.65

// problem is a beam to be solved: its sections and what acts on it. It does not
// change.
type problem struct {
	profile  *profile
	elastic  materials.Elastic
	setup    Setup
	where    places
	plane    int // of the load: 0 along the first axis of the sections, 1 along the second
	u0, v0   float64
	from, to int // nodes where it is held
	at       int // node of the load

	// handbook leaves out what beam tables leave out: the twist of a load beside
	// the shear centre, and the hold of a clamp on the section's width.
	handbook bool

	torsion func(c *cutSection) (section.TorsionResult, error) // Saint-Venant's, of a cut
}

func newProblem(p *profile, e materials.Elastic, s Setup, w places, handbook bool) problem {
	f := frame{nodes: p.nodes}
	out := problem{profile: p, elastic: e, setup: s, where: w, plane: s.plane(s.Load), handbook: handbook,
		from: f.nodeAt(w.From), to: f.nodeAt(w.To), at: f.nodeAt(w.At)}
	out.u0, out.v0 = p.line()
	out.torsion = func(c *cutSection) (section.TorsionResult, error) { return section.Torsion(c.Region, e.Poisson) }
	return out
}

// shearModulus returns G = E/(2(1+v)) in MPa.
func (p problem) shearModulus() float64 {
	return p.elastic.YoungsModulus / (2 * (1 + p.elastic.Poisson))
}

// stations are the frame's integration points, as the sections are.
func (p problem) stations() []station {
	var out []station
	for c := range p.profile.cuts() {
		out = append(out, c.station(p.u0, p.v0))
	}
	return out
}

func (p problem) frameOf(st []station) (*frame, error) {
	return newFrame(p.profile.nodes, st, p.elastic.YoungsModulus, p.shearModulus(), p.setup.Support, p.from, p.to)
}

// dof is the sideways freedom of a plane, 0 or 1.
func dof(plane int) int { return [2]int{dofU, dofV}[plane] }

// unit is a unit force at the load's place.
func (p problem) unit(f *frame, plane int) nodeForces {
	n := make(nodeForces, len(f.nodes))
	n[p.at][dof(plane)] = 1
	return n
}

// answer solves the beam.
func answer(p problem) (Result, error) {
	r := p.describe()
	if r.Refused = p.notABeam(r); r.Refused != "" {
		r.Warnings = append(r.Warnings, r.Refused)
		return r, nil
	}
	f, err := p.frameOf(p.stations())
	if err != nil {
		return Result{}, err
	}
	bar, err := p.torsionBar()
	if err != nil {
		return Result{}, err
	}
	give, err := p.give(f, bar)
	if err != nil {
		return Result{}, err
	}
	if why := p.twistsOpenly(f, bar, give); why != "" {
		r.Refused = why
		r.Warnings = append(r.Warnings, why)
		return r, nil
	}
	k := 1 / give
	r.Stiffness = &k
	if r.MethodError, err = p.methodError(give, bar); err != nil {
		return Result{}, err
	}
	steps := []func(*frame, *torsionBar, *Result) error{p.loads}
	if !p.setup.StaticOnly {
		steps = append(steps, p.frequencies, p.buckling)
	}
	r.Warnings = append(r.Warnings, p.shapeWarnings(r)...)
	for _, step := range steps {
		if err := step(f, bar, &r); err != nil {
			return Result{}, err
		}
	}
	return r, nil
}

// describe fills in what the setup amounts to and the beam's shape.
func (p problem) describe() Result {
	s, w := p.setup, p.where
	r := Result{
		YoungsModulus: p.elastic.YoungsModulus,
		Support:       s.Support.String(),
		Span:          w.To - w.From,
		Direction:     s.Load.String(), SpanAxis: s.Span.String(),
		From: w.model(w.From), To: w.model(w.To), LoadAt: w.model(w.At),
		Warnings: []string{},
		Cuts:     p.profile.count(), IntegrationPct: 100 * p.profile.error,
	}
	if s.Force != 0 {
		r.Load = &s.Force
	}
	for c := range p.profile.cuts() {
		if !p.strained(c.S) {
			continue
		}
		size := reachOf(c, p.plane)
		r.Depth, r.Width = max(r.Depth, size.high[0]-size.low[0]), max(r.Width, size.high[1]-size.low[1])
	}
	r.Slenderness = w.arm(s.Support) / r.Depth
	return r
}

// strained reports whether a place lies where the beam bends: from the clamp of
// a cantilever to its load, else between the supports. What hangs over only
// weighs.
func (p problem) strained(s float64) bool {
	if p.setup.Support == Cantilever {
		return s <= p.where.At
	}
	return p.where.From <= s && s <= p.where.To
}

// give is the displacement of the load's place along the load for a unit force,
// in mm/N.
func (p problem) give(f *frame, bar *torsionBar) (float64, error) {
	sol := f.solve(p.unit(f, p.plane), nil)
	give := sol.nodes[p.at][dof(p.plane)] + bar.give(f, sol)
	if !(give > 0) {
		return 0, fmt.Errorf("load at %s = %.6g mm: the beam does not move there; place the load away from the supports", p.setup.Span, p.where.model(p.where.At))
	}
	return give, nil
}
