package swap

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/solid"
)

// parsePlaces reads places, each in the file of its part.
func (s *situation) parsePlaces(flag string, texts []string) ([]solid.Place, error) {
	var out []solid.Place
	for _, text := range texts {
		p, err := solid.ParsePlace(text, s.span)
		if err != nil {
			return nil, fmt.Errorf("--%s: %w", flag, err)
		}
		out = append(out, p)
	}
	return out, nil
}

// brought takes places of a part's own file into the frame that both parts are
// solved in.
func (s *situation) brought(flag string, p part, places []solid.Place) ([]solid.Place, error) {
	var out []solid.Place
	for _, place := range places {
		there, err := place.Carried(p.motion, p.made.Features, p.features)
		if err != nil {
			return nil, fmt.Errorf("--%s %s: %w", flag, place, err)
		}
		out = append(out, there)
	}
	return out, nil
}

// matched finds places of the stock part's file on the redesign: the hole, flat face
// or round wall that takes the place of each. Ends, boxes and sections are where they
// are in the frame that both parts are solved in.
func (s *situation) matched(flag string, places []solid.Place) (named, there []solid.Place, err error) {
	for _, p := range places {
		name, at, err := s.match(p)
		if err != nil {
			return nil, nil, fmt.Errorf("--%s %s: %w: say where it is on the redesign with --new-%s", flag, p, err, flag)
		}
		named, there = append(named, name), append(there, at)
	}
	return named, there, nil
}

// match returns the redesign's place as its own file names it, where it does, and in
// the frame that both parts are solved in.
func (s *situation) match(p solid.Place) (name, there solid.Place, err error) {
	if n := p.Hole(); n > 0 {
		own, ok := s.fitted.Hole(n)
		if !ok {
			return p, p, errors.New("it has no match in the redesign")
		}
		name = p.Numbered(own)
		there, err = name.Carried(s.new.motion, s.new.made.Features, s.new.features)
		return name, there, err
	}
	if n := p.Rim(); n > 0 {
		there, err = s.matchRim(p, n)
		return there, there, err
	}
	if point, normal, ok := p.Face(); ok {
		at, look, err := s.fitted.Face(point, normal)
		return solid.FaceAt(at, look), solid.FaceAt(s.old.motion.Apply(at), s.old.motion.Turn(look)), err
	}
	there, err = p.Carried(s.old.motion, s.old.made.Features, s.old.features)
	return p, there, err
}

func (s *situation) matchRim(p solid.Place, n int) (solid.Place, error) {
	rims := s.old.made.Features.Rims()
	if n > len(rims) {
		return p, fmt.Errorf("the stock part has %d outer round walls that go fully round", len(rims))
	}
	there, err := s.fitted.Round(rims[n-1])
	if err != nil {
		return p, err
	}
	number, far := 0, math.Inf(1)
	for i, r := range s.new.features.Rims() {
		if d := r3.Norm(r3.Sub(r.Centre, s.old.motion.Apply(there.Centre))); d < far {
			number, far = i+1, d
		}
	}
	if number == 0 || far > there.Radius {
		return p, errors.New("its match on the redesign does not go fully round")
	}
	return p.Numbered(number), nil
}

// checkPlaces makes sure that every place of a case is there on both parts, so
// that a slip in a name is one line and not a stiffness that is missing.
func (s *situation) checkPlaces(c loadCase) error {
	for side, p := range []part{s.old, s.new} {
		problem, err := c.problem(p.mesh, side, 1)
		if err == nil {
			err = p.solver.locate(p.elastic(), problem)
		}
		if err != nil {
			return fmt.Errorf("%s, %s: %w", sideName(side), c.words(), err)
		}
	}
	return nil
}
