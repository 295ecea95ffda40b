package swap

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam"
	"swapworth/mesh"
	"swapworth/solid"
)

// LoadCase is one way in which a person says that both parts are held and
// loaded. Places are the words of solid.ParsePlace, named on the stock part; the
// lists for the redesign say where it is held and loaded when its own place
// cannot be found. What is nil or zero was not given.
type LoadCase struct {
	Name string

	Fix, LoadAt       []string
	NewFix, NewLoadAt []string

	Loads
}

// Loads act together on the loaded places, in the stock part's axes.
type Loads struct {
	Force        *r3.Vec // N, shared by the places
	Moment       *r3.Vec // N mm, shared by the places
	Pressure     float64 // MPa, on every place, pushing into the material
	Acceleration *r3.Vec // mm/s2, of the whole part
	Attached     []Rider // masses that the acceleration moves too
}

// Rider is a mass in g that sits at a place.
type Rider struct {
	Place string
	Grams float64
}

// loadCase is one way in which both parts are held and loaded, settled: at the
// ends of the span, or at the places that a person named.
type loadCase struct {
	name    string // an axis, or what the person called it
	span    mesh.Axis
	along   mesh.Axis
	support beam.Support
	named   *placed // nil: at the ends of the span
}

// placed holds the places of one case on both parts, stock part first, and what
// loads them.
type placed struct {
	held, loaded [2][]solid.Place
	loads        Loads
}

// words names the case in a sentence.
func (c loadCase) words() string {
	if c.isAxis() {
		return "load along " + c.name
	}
	return "load case " + c.name
}

// isAxis reports whether the case is a force along an axis of the stock part.
func (c loadCase) isAxis() bool { return c.name == c.along.String() }

// problem is what the solid room is asked about a part, under a force in N where
// the case does not bring its own loads.
func (c loadCase) problem(p part, redesign bool, force float64) (solid.Problem, error) {
	if c.named == nil {
		return solid.EndProblem(p.mesh, c.span, c.along, c.support.String(), force)
	}
	side := 0
	if redesign {
		side = 1
	}
	return c.named.problem(c, side, force)
}
