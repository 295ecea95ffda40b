package beam

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/quantity"
)

// Setup says how a part is held and loaded. Places are coordinates along the
// span axis in the model's frame, in mm; nil takes the default.
//
// The zero value is a cantilever along x, clamped at its low end, judged at its
// high end along x, which OfPart refuses: Load must differ from Span.
type Setup struct {
	Span    mesh.Axis
	Load    mesh.Axis // direction of Force, at right angles to Span
	Support Support

	// Force in N at the load's place, along Load. 0 means that no load is known:
	// the stiffness is still found, stress and deflection are not.
	Force float64

	// From and To are where the beam is held; a cantilever is held at From and
	// reaches to To. The defaults are the low and the high end of the part.
	// Material beyond a clamp is taken as rigid, material beyond any other
	// support or beyond the load as an overhang.
	From, To *float64
	// At is the load's place. Default: To of a cantilever, else the middle.
	At *float64

	Loads        []Load // further loads
	OwnWeight    bool   // adds the part's weight, acting along Load
	AttachedMass float64
	// AttachedMass in g sits at the load's place and counts in frequencies.

	// StaticOnly spares frequencies and buckling, which cost as much as the rest.
	StaticOnly bool

	// Slicer cuts the part along Span; nil makes one. Handing the same one to
	// several set-ups of a part spares making it again.
	Slicer *cut.Slicer

	// Holes of the part, for stress concentration; without them the stress at a
	// hole stays nominal.
	Holes []RoundHole
}

// LoadKind is the sort of a further load.
type LoadKind int

// The sorts of load. A couple or a torque follows the right-hand sense of the
// displacement it causes: a positive couple turns the beam so that what lies
// beyond it moves along Along.
const (
	PointForce   LoadKind = iota // N
	UniformForce                 // N/mm over the span between From and To
	SpreadForce                  // N in all, even over the span between From and To
	Couple                       // N mm, in the plane of the span and Along
	Torque                       // N mm about the span
	AxialForce                   // N along the span, tension positive, from From to At
)

// Load is a load beside Setup.Force.
type Load struct {
	Kind  LoadKind
	Value float64
	At    *float64  // mm along the span axis; nil takes the place of Setup.Force
	Along mesh.Axis // direction of a point force, uniform force or couple
}

// RoundHole is a round through hole: its axis as a unit vector, its centre in
// mm and its diameter in mm. Number is what the hole is called in results; 0
// takes its place in the list, from 1.
type RoundHole struct {
	Number       int
	Axis, Centre r3.Vec
	Diameter     float64
}

// check refuses what cannot be computed.
func (s Setup) check(e materials.Elastic) error {
	if !(e.YoungsModulus > 0) {
		return fmt.Errorf("stiffness of the material: Young's modulus is %g MPa, expected more than 0", e.YoungsModulus)
	}
	if s.OwnWeight && !(e.Density > 0) {
		return errors.New("own weight: the material's density is not known; give it")
	}
	for _, a := range []mesh.Axis{s.Span, s.Load} {
		if a < mesh.X || a > mesh.Z {
			return fmt.Errorf("axis %d: expected x, y or z", a)
		}
	}
	if s.Span == s.Load {
		return fmt.Errorf("load along %s: the load must be at right angles to the span, which is along %s", s.Load, s.Span)
	}
	if s.Support < Cantilever || s.Support > Propped {
		return fmt.Errorf("support %d: expected one of %v", s.Support, Supports())
	}
	for _, l := range s.Loads {
		needsAlong := l.Kind == PointForce || l.Kind == UniformForce || l.Kind == SpreadForce || l.Kind == Couple
		if needsAlong && l.Along == s.Span {
			return fmt.Errorf("load along %s: a sideways load must be at right angles to the span", l.Along)
		}
	}
	return nil
}

// loaded reports whether the setup holds any load at all.
func (s Setup) loaded() bool { return s.Force != 0 || len(s.Loads) > 0 || s.OwnWeight }

// plane returns 0 for a direction along the section's first axis, 1 for its
// second.
func (s Setup) plane(along mesh.Axis) int {
	if along == s.Span.Next() {
		return 0
	}
	return 1
}

// places are the distances along the beam, in mm from its start, and how they
// map to the model: coordinate = Origin + Sign * distance.
type places struct {
	Origin, Sign         float64
	Length, From, To, At float64
}

// model returns the coordinate along the span axis, in mm.
func (p places) model(s float64) float64 { return p.Origin + p.Sign*s }

// beam returns the distance along the beam, in mm.
func (p places) beam(coordinate float64) float64 { return (coordinate - p.Origin) * p.Sign }

// arm is the length that slenderness is judged by: from the clamp of a
// cantilever to its load, else between the supports.
func (p places) arm(sup Support) float64 {
	if sup == Cantilever {
		return p.At - p.From
	}
	return p.To - p.From
}

// places resolves the coordinates of a setup for a part that reaches from lo to
// hi along the span. A cantilever starts at its clamp and runs towards To.
func (s Setup) places(lo, hi float64) (places, error) {
	from, to := pick(s.From, lo), pick(s.To, hi)
	tol := 1e-6 * (hi - lo)
	for _, at := range []struct {
		name  string
		value float64
	}{{"from", from}, {"to", to}, {"at", pick(s.At, from)}} {
		if !(at.value >= lo-tol && at.value <= hi+tol) {
			return places{}, fmt.Errorf("%s %g: outside the part, which reaches from %g to %g mm along %s", at.name, at.value, lo, hi, s.Span)
		}
	}
	from, to = min(max(from, lo), hi), min(max(to, lo), hi)
	if s.From != nil && s.To == nil && s.Support == Cantilever && hi-from < from-lo {
		to = lo // held near the high end: the beam reaches to the low one
	}
	if abs(to-from) < 1e-3*(hi-lo) {
		return places{}, fmt.Errorf("from %g to %g: the supports coincide; give two places along %s", from, to, s.Span)
	}
	p := places{Origin: lo, Sign: 1, Length: hi - lo}
	if to < from {
		p.Origin, p.Sign = hi, -1
	}
	if s.Support == Cantilever {
		p.Length -= p.beam(from)
		p.Origin = from
	}
	p.From, p.To = p.beam(from), p.beam(to)
	p.At = (p.From + p.To) / 2
	if s.Support == Cantilever {
		p.At = p.To
	}
	if s.At != nil {
		p.At = p.beam(*s.At)
	}
	if s.Support == Cantilever && p.At <= 1e-3*p.Length {
		return places{}, fmt.Errorf("load at %g: it must lie beyond the clamp at %g, towards %g", p.model(p.At), from, to)
	}
	return p, nil
}

func pick(p *float64, otherwise float64) float64 {
	if p != nil {
		return *p
	}
	return otherwise
}

func abs(x float64) float64 { return max(x, -x) }

// short writes a number with three significant digits, or all digits before the
// point.
func short(x float64) string { return quantity.Short(x, 3) }
