package swap

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/solid"
)

// parsePlaces reads places of the stock part.
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

// matched finds the places of the stock part on the redesign, as it was moved into
// the stock part's frame: the hole, flat face or round wall that takes the place
// of each. Ends, boxes and sections are where they are in the common frame.
func (s *situation) matched(flag string, places []solid.Place) ([]solid.Place, error) {
	var out []solid.Place
	for _, p := range places {
		there, err := s.match(p)
		if err != nil {
			return nil, fmt.Errorf("--%s %s: %w: say where it is on the redesign with --new-%s", flag, p, err, flag)
		}
		out = append(out, there)
	}
	return out, nil
}

func (s *situation) match(p solid.Place) (solid.Place, error) {
	if n := p.Hole(); n > 0 {
		there, err := s.fitted.HoleAmong(n, s.new.features.Holes)
		return p.Numbered(there), err
	}
	if n := p.Rim(); n > 0 {
		return s.matchRim(p, n)
	}
	if point, normal, ok := p.Face(); ok {
		at, look, err := s.fitted.Face(point, normal)
		return solid.FaceAt(at, look), err
	}
	return p, nil
}

func (s *situation) matchRim(p solid.Place, n int) (solid.Place, error) {
	rims := s.old.features.Rims()
	if n > len(rims) {
		return p, fmt.Errorf("the stock part has %d outer round walls that go fully round", len(rims))
	}
	there, err := s.fitted.Round(rims[n-1])
	if err != nil {
		return p, err
	}
	number, far := nearest(s.new.features.Rims(), func(r feature.Round) r3.Vec { return r.Centre }, there.Centre)
	if !(far < sameFeature) {
		return p, fmt.Errorf("its match on the redesign does not go fully round")
	}
	return p.Numbered(number), nil
}

// sameFeature is how far in mm the centres of one feature may lie apart when it is
// looked up again after a rigid motion: the rounding of float32 coordinates up to
// three metres, the largest part that is taken without a warning, tenfold.
const sameFeature = 10 * 3000.0 / (1 << 23)

// nearest returns the number, from 1, of the item that lies nearest to a point,
// and how far; 0 and infinity for no items.
func nearest[T any](items []T, at func(T) r3.Vec, point r3.Vec) (number int, far float64) {
	far = math.Inf(1)
	for i, item := range items {
		if d := r3.Norm(r3.Sub(at(item), point)); d < far {
			number, far = i+1, d
		}
	}
	return number, far
}

// ownPlaces reads places that were named on the redesign, in its own file, and
// brings them into the stock part's frame.
func (s *situation) ownPlaces(flag string, texts []string) ([]solid.Place, error) {
	places, err := s.parsePlaces(flag, texts)
	if err != nil || s.moved == nil {
		return places, err
	}
	for i, p := range places {
		if places[i], err = s.broughtIn(p); err != nil {
			return nil, fmt.Errorf("--%s %s: %w", flag, p, err)
		}
	}
	return places, nil
}

// broughtIn returns a place of the redesign's file in the stock part's frame.
func (s *situation) broughtIn(p solid.Place) (solid.Place, error) {
	t := *s.moved
	if n := p.Hole(); n > 0 {
		own := s.new.made.Features.Holes
		if n > len(own) {
			return p, fmt.Errorf("the redesign has %d holes; fit lists them", len(own))
		}
		number, _ := nearest(s.new.features.Holes, func(h feature.Hole) r3.Vec { return h.Centre }, t.Apply(own[n-1].Centre))
		return p.Numbered(number), nil
	}
	if n := p.Rim(); n > 0 {
		own := s.new.made.Features.Rims()
		if n > len(own) {
			return p, fmt.Errorf("the redesign has %d outer round walls that go fully round", len(own))
		}
		number, _ := nearest(s.new.features.Rims(), func(r feature.Round) r3.Vec { return r.Centre }, t.Apply(own[n-1].Centre))
		return p.Numbered(number), nil
	}
	if point, normal, ok := p.Face(); ok {
		return solid.FaceAt(t.Apply(point), t.Turn(normal)), nil
	}
	if low, high, ok := p.Box(); ok {
		return movedBox(p, low, high, t)
	}
	return p, nil
}

// movedBox moves a box by a motion that keeps it along the axes.
func movedBox(p solid.Place, low, high r3.Vec, t mesh.Transform) (solid.Place, error) {
	for _, row := range t.Rotation {
		for _, c := range row {
			if a := math.Abs(c); a > 1e-6 && a < 1-1e-6 {
				return p, fmt.Errorf("the redesign lies askew to the stock part, and a box does not turn: name a face or a hole")
			}
		}
	}
	a, b := t.Apply(low), t.Apply(high)
	return solid.Inside(mesh.Box{
		Min: r3.Vec{X: min(a.X, b.X), Y: min(a.Y, b.Y), Z: min(a.Z, b.Z)},
		Max: r3.Vec{X: max(a.X, b.X), Y: max(a.Y, b.Y), Z: max(a.Z, b.Z)},
	}), nil
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

func sideName(side int) string { return [2]string{"stock part", "redesign"}[side] }
