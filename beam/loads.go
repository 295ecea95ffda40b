package beam

import (
	"fmt"
	"math"
)

// acted is the beam under everything that acts on it.
type acted struct {
	solution *solution
	turned   turned
}

// loads finds displacements and stresses under everything that acts, and the
// force at which the beam yields.
func (p problem) loads(f *frame, bar *torsionBar, r *Result) error {
	if p.elastic.Yield > 0 {
		sol := f.solve(p.unit(f, p.plane), nil)
		one, _ := p.stress(f, acted{sol, bar.under(f, sol, nil)})
		if one.Equivalent > 0 {
			force := p.elastic.Yield / one.Equivalent
			r.YieldForce = &force
		}
	}
	if !p.setup.loaded() {
		r.Curve = p.curve(f, nil)
		return nil
	}
	if n, node := p.axial(); n != 0 {
		if err := f.pull(n, p.from, node); err != nil {
			return err
		}
	}
	forces, lines, torques := p.actions(f)
	sol := f.solve(forces, lines)
	a := acted{sol, bar.under(f, sol, torques)}
	p.displacements(f, bar, a, r)
	stress, unfit := p.stress(f, a)
	r.Stress, r.MaxStress = &stress, &stress.Equivalent
	if p.elastic.Yield > 0 && stress.Equivalent > 0 {
		safety := p.elastic.Yield / stress.Equivalent
		r.SafetyFactor = &safety
	}
	r.Warnings = append(r.Warnings, p.stressWarnings(*r, unfit)...)
	r.Curve = p.curve(f, &a)
	return nil
}

// axial returns the steady axial force in N and the node it acts at.
func (p problem) axial() (force float64, node int) {
	node = p.at
	for _, l := range p.setup.Loads {
		if l.Kind == AxialForce {
			force += l.Value
			node = p.nodeOf(l)
		}
	}
	return force, node
}

func (p problem) nodeOf(l Load) int {
	if l.At == nil {
		return p.at
	}
	f := frame{nodes: p.profile.nodes}
	return f.nodeAt(p.where.beam(*l.At))
}

// actions sorts the setup's loads onto nodes, elements and, as torques, nodes.
func (p problem) actions(f *frame) (nodeForces, [][2]float64, map[int]float64) {
	forces := make(nodeForces, len(f.nodes))
	lines := make([][2]float64, len(f.elements))
	torques := map[int]float64{}
	forces[p.at][dof(p.plane)] += p.setup.Force
	for _, l := range p.setup.Loads {
		node := p.nodeOf(l)
		switch l.Kind {
		case PointForce:
			forces[node][dof(p.setup.plane(l.Along))] += l.Value
		case UniformForce, SpreadForce:
			perLength := l.Value
			if l.Kind == SpreadForce {
				perLength /= p.where.To - p.where.From
			}
			for e := p.from; e < p.to; e++ {
				lines[e][p.setup.plane(l.Along)] += perLength
			}
		case Couple:
			forces[node][dof(p.setup.plane(l.Along))+1] += l.Value
		case Torque:
			torques[node] += l.Value
		case AxialForce:
			forces[node][dofA] += l.Value
		}
	}
	if p.setup.OwnWeight {
		for e, el := range f.elements {
			lines[e][p.plane] += p.weightOn(el)
		}
	}
	return forces, lines, torques
}

// weightOn returns an element's weight per length, in N/mm.
func (p problem) weightOn(el *element) float64 {
	var volume float64
	for _, s := range el.stations {
		volume += s.Weight * s.Area
	}
	grams := volume * p.elastic.Density * 1e-6
	return grams / gramsPerTonne * standardGravity / (el.to - el.from)
}

// displacements are those of the load's place, twist included.
func (p problem) displacements(f *frame, bar *torsionBar, a acted, r *Result) {
	n := a.solution.nodes[p.at]
	moved := func(plane int) float64 {
		w := n[dof(plane)]
		if bar != nil {
			w += dot(bar.drive(f, f.solve(p.unit(f, plane), nil)), a.turned.free)
		}
		return w
	}
	along, across, stretch := moved(p.plane), moved(1-p.plane), n[dofA]
	r.Deflection, r.SideDeflection, r.Extension = &along, &across, &stretch
	most := along
	for i, x := range f.nodes {
		if w := a.solution.nodes[i][dof(p.plane)] + p.turnedBy(a, x); abs(w) > abs(most) {
			most = w
		}
	}
	r.MaxDeflection = &most
	if bar != nil {
		angle, _ := a.turned.at(p.where.At)
		deg := angle * 180 / math.Pi
		r.Twist = &deg
	}
}

// nearBuckling is the share of the buckling load at which an axial compression
// is warned of: it magnifies deflections by 1/(1 - 1/3), half as much again.
const nearBuckling = 1. / 3

// buckling finds the axial force that buckles the beam, if one presses on it.
func (p problem) buckling(_ *frame, _ *torsionBar, r *Result) error {
	n, node := p.axial()
	if n >= 0 {
		return nil
	}
	clean, err := p.frameOf(p.stations())
	if err != nil {
		return err
	}
	critical, err := clean.bucklingFactor(p.from, node)
	if err != nil {
		return err
	}
	r.BucklingForce = &critical
	if -n > nearBuckling*critical {
		r.Warnings = append(r.Warnings, fmt.Sprintf("axial compression of %.4g N is more than a third of the buckling load %.4g N", -n, critical))
	}
	return nil
}

// frequencies finds the lowest modes of bending with the attached mass on the
// load's place. A section whose mass lies beside its shear centre twists as it
// bends and has none here.
func (p problem) frequencies(f *frame, bar *torsionBar, r *Result) error {
	if !(p.elastic.Density > 0) {
		if p.setup.AttachedMass > 0 {
			r.Warnings = append(r.Warnings, "no frequency: the material's density is not known")
		}
		return nil
	}
	if p.coupled(bar) {
		r.Warnings = append(r.Warnings, "no frequency: the section twists as it bends (its centroid is not its shear centre); use the solid check")
		return nil
	}
	var masses []pointMass
	if p.setup.AttachedMass > 0 {
		masses = append(masses, pointMass{p.at, p.setup.AttachedMass / gramsPerTonne})
	}
	density := p.elastic.Density * 1e-12 // t/mm3
	modes, err := f.modes(density, masses, 6)
	if err != nil {
		return err
	}
	along := alongLoad(modes, p.plane)
	if len(along) < 2 { // a part that is far stiffer along the load than across it
		planar, err := f.inPlane(p.plane, p.setup.Support, p.from, p.to)
		if err != nil {
			return err
		}
		stiff, err := planar.modes(density, masses, 4)
		if err != nil {
			return err
		}
		if more := alongLoad(stiff, p.plane); len(more) > len(along) {
			along = append(along, more[len(along):]...)
		}
	}
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

func (p problem) coupled(bar *torsionBar) bool {
	if bar == nil {
		return false
	}
	for _, t := range bar.places {
		if t.off.X != 0 || t.off.Y != 0 {
			return true
		}
	}
	return false
}

// A mode counts as one along the load where at least evenly of its motion across
// the span runs that way, as both of an even angle do, and at least stretching
// of all its motion.
const (
	evenly     = 0.9
	stretching = 0.1
)

// alongLoad returns the frequencies of the modes that move along the load.
func alongLoad(modes []mode, plane int) []float64 {
	var out []float64
	for _, m := range modes {
		share, across := m.ShareU, 1-m.ShareU-m.ShareA
		if plane == 1 {
			share, across = across, share
		}
		if share > max(evenly*across, stretching) {
			out = append(out, m.FrequencyHz)
		}
	}
	return out
}

// gramsPerTonne turns g into t, the mass that goes with N, mm and s.
const gramsPerTonne = 1e6

// standardGravity is in mm/s2.
const standardGravity = 9806.65
