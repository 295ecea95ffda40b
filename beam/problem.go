package beam

import (
	"swapworth/beam/section"
	"swapworth/materials"
)

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

// unit is a unit force at the load's place.
func (p problem) unit(f *frame, plane int) nodeForces {
	n := make(nodeForces, len(f.nodes))
	n[p.at][dof(plane)] = 1
	return n
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
