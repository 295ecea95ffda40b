package solid

import (
	"fmt"
	"strings"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// Problem is a part's surroundings: what holds it and what loads it. Load cases
// with the same supports share one set-up and cost little more than one.
type Problem struct {
	Supports []Support // of every case that names none of its own
	Cases    []Case

	// AttachedMass in g rides on the first load place and counts in the
	// frequencies only. Masses of the first case take its place.
	AttachedMass float64

	Span    mesh.Axis // places given by span end refer to it
	Support string    // the name of the usual case it came from, or ""
}

// Support holds the displacement of a place in the directions that are set, by
// model axis.
type Support struct {
	Place Place
	Hold  [3]bool
}

// Case is one set of loads that act together. Vectors are by model axis.
type Case struct {
	Name     string
	Supports []Support // in place of the problem's; nil for those
	Loads    []Load

	// Acceleration of the part itself, m/s2: its material and the masses lag
	// behind with -m a. Under gravity g downwards a part at rest counts as
	// accelerated upwards with g.
	Acceleration r3.Vec
	Masses       []Mass
}

// Load is what acts on one place; a load may have several of the three.
type Load struct {
	Place    Place
	Force    r3.Vec  // N, spread evenly
	Moment   r3.Vec  // N mm about the centre of the place, spread as a rigid disc turns
	Pressure float64 // MPa, against the surface where above zero
}

// Mass is a body that rides on a place, its centre taken to lie there.
type Mass struct {
	Place Place
	Grams float64
}

var held = [3]bool{true, true, true}

// Clamped holds a place in every direction.
func Clamped(p Place) Support { return Support{Place: p, Hold: held} }

// String says what is held and in which directions.
func (s Support) String() string {
	if s.Hold == held {
		return s.Place.String()
	}
	var along []string
	for _, a := range []mesh.Axis{mesh.X, mesh.Y, mesh.Z} {
		if s.Hold[a] {
			along = append(along, a.String())
		}
	}
	return s.Place.String() + " along " + strings.Join(along, " and ")
}

// EndProblem returns one of the usual problems: a part held at the ends of its
// span and loaded with a force (N) along an axis.
//
//   - cantilever: the whole flat face at the low end clamped, the force spread
//     over the whole flat face at the high end;
//   - simply-supported: both end faces held across the span, free to move and
//     turn along it; the force spread over the middle fiftieth of the span;
//   - fixed-fixed: both end faces clamped, the force in the middle;
//   - propped: the low end face clamped, the high one held along the load, the
//     force in the middle.
func EndProblem(m *mesh.Mesh, span, load mesh.Axis, support string, force float64) (Problem, error) {
	low, high := EndPlace(span, false), EndPlace(span, true)
	box := m.Bounds()
	middle := Section(span, (span.Of(box.Min)+span.Of(box.Max))/2)
	f := r3.Scale(force, load.Unit())
	p := Problem{Span: span, Support: strings.ToLower(support)}
	across := held
	across[span] = false
	along := [3]bool{}
	along[load] = true
	pull := [3]bool{}
	pull[span] = true
	at := middle
	switch p.Support {
	case "cantilever", "":
		p.Support = "cantilever"
		p.Supports = []Support{{low, held}}
		at = high
	case "simply-supported":
		p.Supports = []Support{{low, across}, {high, across}, {Place{kind: endPoint, axis: span}, pull}}
	case "fixed-fixed":
		p.Supports = []Support{{low, held}, {high, held}}
	case "propped":
		p.Supports = []Support{{low, held}, {high, along}}
	default:
		return p, fmt.Errorf("solid: support %q: expected cantilever, simply-supported, fixed-fixed or propped", support)
	}
	if p.Support != "cantilever" && load == span {
		return p, fmt.Errorf("solid: a load along the span %s suits a cantilever only; load across the span", span)
	}
	p.Cases = []Case{{Name: load.String(), Loads: []Load{{Place: at, Force: f}}}}
	return p, nil
}
