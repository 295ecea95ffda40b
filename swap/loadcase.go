package swap

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

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
	on      [2]placed
}

// placed is where one part is held and loaded; an empty list means the usual
// places at the ends of the span. What is held is named as in the part's own file.
type placed struct {
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

// direction is the axis of the force, empty where the case has its own loads.
func (c loadCase) direction() string {
	if c.loads == nil {
		return c.name
	}
	return ""
}

// atEnds reports whether the case holds and loads the ends of the span alone, as
// a beam is.
func (c loadCase) atEnds() bool {
	return c.loads == nil && len(c.on[onStock].held) == 0 && len(c.on[onStock].loaded) == 0
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

// settleCases settles what holds and loads both parts. Along an axis, a force of
// unknown size stands for any.
func (s *situation) settleCases(along []mesh.Axis) error {
	l := s.c.Loading
	usual := loadCase{span: s.span, along: along[0], support: s.support}
	if l.Loads.none() && len(l.Cases) == 0 || l.Force > 0 || len(l.Along) > 0 {
		for _, a := range along {
			c := usual
			c.name, c.along = a.String(), a
			if err := s.settlePlaces(&c, l.Places, Loads{}); err != nil {
				return err
			}
			s.cases = append(s.cases, c)
		}
	}
	named := l.Cases
	if !l.Loads.none() {
		named = slices.Concat([]LoadCase{{Name: l.Loads.name(), Loads: l.Loads}}, named)
	}
	for i, n := range named {
		c := usual
		turned := n.Loads.turned(s.old.motion)
		c.name, c.loads = cmp.Or(n.Name, fmt.Sprint(i+1)), &turned
		if slices.ContainsFunc(s.cases, func(o loadCase) bool { return o.name == c.name }) {
			return fmt.Errorf("load case %q is there twice: give each its own name", c.name)
		}
		if n.Loads.none() {
			return fmt.Errorf("load case %q: nothing loads it: give a force, moment, pressure or acceleration", c.name)
		}
		if err := s.settlePlaces(&c, n.Places.over(l.Places), n.Loads); err != nil {
			return err
		}
		s.cases = append(s.cases, c)
	}
	return nil
}

// settlePlaces reads the places of a case on the stock part and finds them on the
// redesign.
func (s *situation) settlePlaces(c *loadCase, p Places, l Loads) error {
	if l.Pressure != 0 && len(p.LoadAt) == 0 {
		return fmt.Errorf("%s: a pressure acts on the places of --load-at: name a face, a bore or a rim", c.words())
	}
	if p.none() && len(l.Riders) == 0 {
		return nil
	}
	if s.c.Old.Bar {
		return errors.New("--fix and --load-at name places of a mesh, and the stock part is a simple section: give its STL file, or use --support")
	}
	held, err := s.onBoth("fix", p.Fix, p.NewFix)
	if err != nil {
		return err
	}
	loaded, err := s.onBoth("load-at", p.LoadAt, p.NewLoadAt)
	if err != nil {
		return err
	}
	for side := range c.on {
		c.on[side].held, c.on[side].heldAs, c.on[side].loaded = held.there[side], held.named[side], loaded.there[side]
	}
	for _, r := range l.Riders {
		at, err := s.onBoth("load-at", []string{r.Place}, nil)
		if err != nil {
			return err
		}
		for side := range c.on {
			c.on[side].riding = append(c.on[side].riding, solid.Mass{Place: at.there[side][0], Grams: r.Grams})
		}
	}
	return s.checkPlaces(*c)
}

// both are the same places on both parts, stock part first: as each part's own file
// names them, and in the frame that both are solved in.
type both struct{ named, there [2][]solid.Place }

// onBoth reads places of the stock part and finds them on both parts: on the
// redesign those of its own that were named, or else the matching ones.
func (s *situation) onBoth(flag string, texts, own []string) (b both, err error) {
	if len(own) > 0 && len(texts) == 0 {
		return b, fmt.Errorf("--new-%s says where the redesign takes the place of --%s: name that on the stock part too", flag, flag)
	}
	if b.named[onStock], err = s.parsePlaces(flag, texts); err != nil {
		return b, err
	}
	if b.there[onStock], err = s.brought(flag, s.old, b.named[onStock]); err != nil {
		return b, err
	}
	if len(own) > 0 {
		if b.named[onRedesign], err = s.parsePlaces("new-"+flag, own); err != nil {
			return b, err
		}
		b.there[onRedesign], err = s.brought("new-"+flag, s.new, b.named[onRedesign])
		return b, err
	}
	b.named[onRedesign], b.there[onRedesign], err = s.matched(flag, b.named[onStock])
	return b, err
}
