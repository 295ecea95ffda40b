package beam

import (
	"fmt"
	"math"

	"swapworth/materials"
	"swapworth/mesh"
)

// gramsPerTonne turns g into t, the mass that goes with N, mm and s.
const gramsPerTonne = 1e6

// standardGravity is in mm/s2.
const standardGravity = 9806.65

// analysis carries one beam from its sections to its results.
type analysis struct {
	profile *profile
	elastic materials.Elastic
	setup   Setup
	where   places
	plane   int // of the load: 0 along the first axis of the sections, 1 along the second

	// handbook leaves out what beam tables leave out: the hold of a support on
	// the section's width, and the twist of a load beside the shear centre.
	handbook bool

	frame        *frame
	twist        twist
	u0, v0       float64  // reference line
	from, to, at int      // nodes
	walls        float64  // mm/N, what walls across the load at an open end give way by
	braced       bool     // slanted webs cross an opening
	cornered     bool     // the part turns a corner
	walled       bool     // thin walls across the span were left out of torsion
	unfit        []string // numbers of holes whose stress stays nominal
	result       Result
}

func analyse(p *profile, e materials.Elastic, s Setup, w places, handbook bool) (Result, error) {
	a := &analysis{profile: p, elastic: e, setup: s, where: w, plane: s.plane(s.Load), handbook: handbook}
	a.describe()
	a.judgeShape()
	if a.result.Refused != "" {
		return a.result, nil
	}
	a.spread()
	a.sway()
	if !handbook {
		a.holdWidth()
	}
	if err := a.build(); err != nil {
		return Result{}, err
	}
	if !handbook {
		if err := a.followMoments(); err != nil {
			return Result{}, err
		}
	}
	steps := []func() error{a.stiffness, a.loads}
	if !s.StaticOnly {
		steps = append(steps, a.frequencies, a.buckling)
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return Result{}, err
		}
	}
	if err := a.judgeMethod(); err != nil {
		return Result{}, err
	}
	a.curve()
	return a.result, nil
}

// describe fills in what the setup amounts to.
func (a *analysis) describe() {
	s, w := a.setup, a.where
	r := &a.result
	r.YoungsModulus = a.elastic.YoungsModulus
	r.Support = s.Support.String()
	r.Span = w.To - w.From
	if s.Force != 0 {
		r.Load = &s.Force
	}
	r.Direction, r.SpanAxis = s.Load.String(), s.Span.String()
	r.From, r.To, r.LoadAt = w.model(w.From), w.model(w.To), w.model(w.At)
	r.Warnings = []string{}
	r.Cuts = a.profile.count()
	r.IntegrationPct = 100 * a.profile.error
}

// build makes the frame and what it needs.
func (a *analysis) build() error {
	p := a.profile
	a.u0, a.v0 = p.line()
	nodeAt := func(x float64) int {
		f := frame{nodes: p.nodes}
		return f.nodeAt(x)
	}
	a.from, a.to, a.at = nodeAt(a.where.From), nodeAt(a.where.To), nodeAt(a.where.At)
	var err error
	if a.frame, err = a.newFrame(); err != nil {
		return err
	}
	a.twist, err = a.newTwist()
	return err
}

// newFrame makes the frame from the cuts as they are.
func (a *analysis) newFrame() (*frame, error) {
	p, e := a.profile, a.elastic.YoungsModulus
	return newFrame(p.nodes, p.stations(a.u0, a.v0, e), e, a.shearModulus(), a.setup.Support, a.from, a.to)
}

// followMoments weakens the cuts by what depends on how the moment runs, and
// makes the frame anew.
func (a *analysis) followMoments() error {
	cuts, moment, shear := a.unitForces(a.unitSolution())
	a.lag(cuts, moment)
	a.crank(cuts, moment, shear)
	var err error
	a.frame, err = a.newFrame()
	return err
}

// unitSolution is the frame under a unit force at the load's place.
func (a *analysis) unitSolution() *solution {
	return a.frame.solve(a.unit(a.at, a.plane), nil)
}

// unitForces returns the cuts with the moment and the shear force that the unit
// force causes there.
func (a *analysis) unitForces(sol *solution) (cuts []*cut, moment, shear []float64) {
	next := a.profile.iterator()
	for e, el := range a.frame.elements {
		for _, st := range el.stations {
			f := a.frame.forcesIn(sol, e, st.S)
			m, v := f.MU, f.VU
			if a.plane == 1 {
				m, v = f.MV, f.VV
			}
			cuts, moment, shear = append(cuts, next()), append(moment, m), append(shear, v)
		}
	}
	return cuts, moment, shear
}

// shearModulus returns G = E/(2(1+v)) in MPa.
func (a *analysis) shearModulus() float64 {
	return a.elastic.YoungsModulus / (2 * (1 + a.elastic.Poisson))
}

// dof is the sideways freedom of a plane, 0 or 1.
func dof(plane int) int { return [2]int{dofU, dofV}[plane] }

// stiffness applies a unit force at the load's place.
func (a *analysis) stiffness() error {
	sol := a.unitSolution()
	cuts, _, shear := a.unitForces(sol)
	a.twist.unit = a.twist.give(a.plane, cuts, shear)
	a.twist.loose = a.twist.loosened().give(a.plane, cuts, shear)
	a.walls = a.endWalls()
	give := sol.nodes[a.at][dof(a.plane)] + a.twist.unit + a.walls
	if !(give > 0) {
		return fmt.Errorf("load at %s = %.6g mm: the beam does not move there; place the load away from the supports", a.setup.Span, a.result.LoadAt)
	}
	k := 1 / give
	a.result.Stiffness = &k
	return nil
}

func (a *analysis) unit(node, plane int) nodeForces {
	f := make(nodeForces, len(a.frame.nodes))
	f[node][dof(plane)] = 1
	return f
}

// axial returns the steady axial force in N and the node it acts at.
func (a *analysis) axial() (force float64, node int) {
	node = a.at
	for _, l := range a.setup.Loads {
		if l.Kind == AxialForce {
			force += l.Value
			node = a.nodeOf(l)
		}
	}
	return force, node
}

func (a *analysis) nodeOf(l Load) int {
	if l.At == nil {
		return a.at
	}
	return a.frame.nodeAt(a.where.beam(*l.At))
}

// loads solves the beam under everything that acts on it.
func (a *analysis) loads() error {
	a.yieldForce()
	if !a.setup.loaded() {
		return nil
	}
	if n, node := a.axial(); n != 0 {
		if err := a.frame.pull(n, a.from, node); err != nil {
			return err
		}
	}
	forces, lines, torques := a.actions()
	sol := a.frame.solve(forces, lines)
	a.displacements(sol, torques)
	stress := a.stress(sol, torques)
	a.result.Stress = &stress
	a.result.MaxStress = &stress.Equivalent
	if a.elastic.Yield > 0 && stress.Equivalent > 0 {
		safety := a.elastic.Yield / stress.Equivalent
		a.result.SafetyFactor = &safety
	}
	a.warnStress(stress)
	a.warnHoles()
	return nil
}

// actions sorts the setup's loads onto nodes, elements and torques.
func (a *analysis) actions() (nodeForces, [][2]float64, []torque) {
	forces := make(nodeForces, len(a.frame.nodes))
	lines := make([][2]float64, len(a.frame.elements))
	var torques []torque
	point := func(node, plane int, f float64) {
		forces[node][dof(plane)] += f
		torques = append(torques, torque{a.frame.nodes[node], f * a.twist.arm(plane)})
	}
	point(a.at, a.plane, a.setup.Force)
	for _, l := range a.setup.Loads {
		node := a.nodeOf(l)
		switch l.Kind {
		case PointForce:
			point(node, a.setup.plane(l.Along), l.Value)
		case UniformForce, SpreadForce:
			perLength := l.Value
			if l.Kind == SpreadForce {
				perLength /= a.where.To - a.where.From
			}
			for e := a.from; e < a.to; e++ {
				lines[e][a.setup.plane(l.Along)] += perLength
			}
		case Couple:
			forces[node][dof(a.setup.plane(l.Along))+1] += l.Value
		case Torque:
			torques = append(torques, torque{a.frame.nodes[node], l.Value})
		case AxialForce:
			forces[node][dofA] += l.Value
		}
	}
	if a.setup.OwnWeight {
		for e := range lines {
			lines[e][a.plane] += a.weightOn(e)
		}
	}
	return forces, lines, torques
}

// weightOn returns an element's weight per length, in N/mm.
func (a *analysis) weightOn(e int) float64 {
	el := a.frame.elements[e]
	var volume float64
	for _, s := range el.stations {
		volume += s.Weight * s.Area
	}
	grams := volume * a.elastic.Density * 1e-6
	return grams / gramsPerTonne * standardGravity / (el.to - el.from)
}

func (a *analysis) displacements(sol *solution, torques []torque) {
	r, n := &a.result, sol.nodes[a.at]
	angle := a.twist.angle(torques, a.where.At)
	along := n[dof(a.plane)] + angle*a.twist.arm(a.plane) + a.setup.Force*(a.twist.beyondMean(a.plane)+a.walls)
	across := n[dof(1-a.plane)] + angle*a.twist.arm(1-a.plane)
	deg := angle * 180 / math.Pi
	stretch := n[dofA]
	r.Deflection, r.SideDeflection, r.Extension = &along, &across, &stretch
	if a.twist.known() {
		r.Twist = &deg
	}
	most := along
	for i := range sol.nodes {
		w := sol.nodes[i][dof(a.plane)] + a.twist.angle(torques, a.frame.nodes[i])*a.twist.arm(a.plane)
		if abs(w) > abs(most) {
			most = w
		}
	}
	r.MaxDeflection = &most
}

// frequencies finds the lowest modes with the attached mass on the load's
// place.
func (a *analysis) frequencies() error {
	if !(a.elastic.Density > 0) {
		if a.setup.AttachedMass > 0 {
			a.warn("no frequency: the material's density is not known")
		}
		return nil
	}
	var masses []pointMass
	if a.setup.AttachedMass > 0 {
		masses = append(masses, pointMass{a.at, a.setup.AttachedMass / gramsPerTonne})
	}
	density := a.elastic.Density * 1e-12 // t/mm3
	modes, err := a.frame.modes(density, masses, 6)
	if err != nil {
		return err
	}
	modes = a.ring(modes, density, masses)
	along := a.alongLoad(modes)
	if len(along) < 2 { // a part that is far stiffer along the load than across it
		planar, err := a.frame.inPlane(a.plane, a.setup.Support, a.from, a.to)
		if err != nil {
			return err
		}
		stiff, err := planar.modes(density, masses, 4)
		if err != nil {
			return err
		}
		if more := a.alongLoad(a.ring(stiff, density, masses)); len(more) > len(along) {
			along = append(along, more[len(along):]...)
		}
	}
	r := &a.result
	if len(modes) > 0 {
		r.LowestFrequency = &modes[0].FrequencyHz
	}
	if len(along) > 0 {
		r.Frequency = &along[0]
	}
	if len(along) > 1 {
		r.SecondFrequency = &along[1]
	}
	return nil
}

// alongLoad returns the frequencies of the modes that move more along the load
// than across it, or as much, as those of an even angle do. A slanted part moves
// along the span as well; a mode with less than a tenth along the load is one of
// stretching.
func (a *analysis) alongLoad(modes []mode) []float64 {
	var along []float64
	for _, m := range modes {
		share, across := m.ShareU, 1-m.ShareU-m.ShareA-m.ShareT
		if a.plane == 1 {
			share, across = across, share
		}
		if share > max(0.9*across, 0.1) {
			along = append(along, m.FrequencyHz)
		}
	}
	return along
}

// buckling finds the axial force that buckles the beam, if one presses on it.
func (a *analysis) buckling() error {
	n, node := a.axial()
	if n >= 0 {
		return nil
	}
	clean, err := a.newFrame()
	if err != nil {
		return err
	}
	critical, err := clean.bucklingFactor(a.from, node)
	if err != nil {
		return err
	}
	a.result.BucklingForce = &critical
	if -n > critical/3 {
		a.warn("axial compression of %.4g N is more than a third of the buckling load %.4g N", -n, critical)
	}
	return nil
}

func (a *analysis) warn(format string, args ...any) {
	a.result.Warnings = append(a.result.Warnings, fmt.Sprintf(format, args...))
}

// nearest returns the cut closest to a place along the beam.
func (p *profile) nearest(s float64) *cut {
	var best *cut
	for c := range p.cuts() {
		if best == nil || abs(c.S-s) < abs(best.S-s) {
			best = c
		}
	}
	return best
}

// pieceExtents returns the largest extent of one connected piece along and
// across the load.
func pieceExtents(r mesh.Region, plane int) (along, across float64) {
	for _, p := range r {
		b := mesh.Region{p}.Bounds()
		d := [2]float64{b.Max.X - b.Min.X, b.Max.Y - b.Min.Y}
		along, across = max(along, d[plane]), max(across, d[1-plane])
	}
	return along, across
}
