package swap

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam"
	"swapworth/mesh"
	"swapworth/solid"
)

// loadCase is one way in which both parts are held and loaded, settled.
type loadCase struct {
	name    string // an axis, or what the person called it
	span    mesh.Axis
	along   mesh.Axis // of the force where the case has no loads of its own
	support beam.Support
	loads   *Loads // nil: a force along an axis, as large as Loading says
	on      [2]holds
}

// holds is where one part is held and loaded; an empty list means the usual
// places at the ends of the span. What is held is named as in the part's own file.
type holds struct {
	held, loaded []solid.Place
	heldAs       []solid.Place
	riding       []solid.Mass
}

// words names the case in a sentence.
func (c loadCase) words() string {
	if c.loads == nil {
		return "load along " + c.name
	}
	return "load case " + c.name
}

// among names the case beside others of its kind: "along z", "in case pull".
func (c loadCase) among() string {
	if c.loads == nil {
		return "along " + c.name
	}
	return "in case " + c.name
}

// problem is what the solid room is asked about a part, under a force in N where
// the case has no loads of its own.
func (c loadCase) problem(m *mesh.Mesh, side int, force float64) (solid.Problem, error) {
	p, err := solid.EndProblem(m, c.span, c.along, c.support.String(), force)
	if err != nil {
		return p, err
	}
	on := c.on[side]
	if len(on.held) > 0 {
		p.Support, p.Supports = "", nil
		for _, place := range on.held {
			p.Supports = append(p.Supports, solid.Clamped(place))
		}
	}
	loaded := on.loaded
	if len(loaded) == 0 {
		loaded = []solid.Place{p.Cases[0].Loads[0].Place}
	}
	loads := Loads{Force: r3.Scale(force, c.along.Unit())}
	if c.loads != nil {
		loads = *c.loads
	}
	p.Cases = []solid.Case{loads.solid(on.riding).At(c.name, loaded)}
	return p, nil
}
