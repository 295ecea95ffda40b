package swap

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/solid"
	"swapworth/swap/fit"
)

// finder finds places that are named on the stock part on both parts.
type finder struct {
	old, new placedPart
	fitted   fit.Result
	span     mesh.Axis
	bar      bool // the stock part is a simple section and has no places
}

// holding is a case held and loaded at places, which are read on the stock part and found
// on the redesign.
func (f finder) holding(c loadCase, p Places, l Loads) (loadCase, error) {
	if l.Pressure != 0 && len(p.LoadAt) == 0 {
		return c, fmt.Errorf("%s: a pressure acts on the places of --load-at: name a face, a bore or a rim", c.words())
	}
	if p.none() && len(l.Riders) == 0 {
		return c, nil
	}
	if f.bar {
		return c, errors.New("--fix and --load-at name places of a mesh, and the stock part is a simple section: give its STL file, or use --support")
	}
	held, err := f.onBoth("fix", p.Fix, p.NewFix)
	if err != nil {
		return c, err
	}
	loaded, err := f.onBoth("load-at", p.LoadAt, p.NewLoadAt)
	if err != nil {
		return c, err
	}
	for side := range c.on {
		c.on[side] = holds{held: held.there[side], heldAs: held.named[side], loaded: loaded.there[side]}
	}
	for _, r := range l.Riders {
		at, err := f.onBoth("load-at", []string{r.Place}, nil)
		if err != nil {
			return c, err
		}
		for side := range c.on {
			c.on[side].riding = append(c.on[side].riding, solid.Mass{Place: at.there[side][0], Grams: r.Grams})
		}
	}
	return c, f.check(c)
}

// both are the same places on both parts, stock part first: as each part's own file
// names them, and in the frame that both are solved in.
type both struct{ named, there [2][]solid.Place }

// onBoth reads places of the stock part and finds them on both parts: on the
// redesign those of its own that were named, or else the matching ones.
func (f finder) onBoth(flag string, texts, own []string) (b both, err error) {
	if len(own) > 0 && len(texts) == 0 {
		return b, fmt.Errorf("--new-%s says where the redesign takes the place of --%s: name that on the stock part too", flag, flag)
	}
	if b.named[onStock], err = f.parse(flag, texts); err != nil {
		return b, err
	}
	if b.there[onStock], err = brought(flag, f.old, b.named[onStock]); err != nil {
		return b, err
	}
	if len(own) > 0 {
		if b.named[onRedesign], err = f.parse("new-"+flag, own); err != nil {
			return b, err
		}
		b.there[onRedesign], err = brought("new-"+flag, f.new, b.named[onRedesign])
		return b, err
	}
	b.named[onRedesign], b.there[onRedesign], err = f.matched(flag, b.named[onStock])
	return b, err
}

// parse reads places, each in the file of its part.
func (f finder) parse(flag string, texts []string) ([]solid.Place, error) {
	var out []solid.Place
	for _, text := range texts {
		p, err := solid.ParsePlace(text, f.span)
		if err != nil {
			return nil, fmt.Errorf("--%s: %w", flag, err)
		}
		out = append(out, p)
	}
	return out, nil
}

// brought takes places of a part's own file into the frame that both parts are
// solved in.
func brought(flag string, p placedPart, places []solid.Place) ([]solid.Place, error) {
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
func (f finder) matched(flag string, places []solid.Place) (named, there []solid.Place, err error) {
	for _, p := range places {
		name, at, err := f.match(p)
		if err != nil {
			return nil, nil, fmt.Errorf("--%s %s: %w: say where it is on the redesign with --new-%s", flag, p, err, flag)
		}
		named, there = append(named, name), append(there, at)
	}
	return named, there, nil
}

// match returns the redesign's place as its own file names it, where it does, and in
// the frame that both parts are solved in.
func (f finder) match(p solid.Place) (name, there solid.Place, err error) {
	if n := p.Hole(); n > 0 {
		own, ok := f.fitted.Hole(n)
		if !ok {
			return p, p, errors.New("it has no match in the redesign")
		}
		name = p.Numbered(own)
		there, err = name.Carried(f.new.motion, f.new.made.Features, f.new.features)
		return name, there, err
	}
	if n := p.Rim(); n > 0 {
		there, err = f.matchRim(p, n)
		return there, there, err
	}
	if point, normal, ok := p.Face(); ok {
		at, look, err := f.fitted.Face(point, normal)
		return solid.FaceAt(at, look), solid.FaceAt(f.old.motion.Apply(at), f.old.motion.Turn(look)), err
	}
	there, err = p.Carried(f.old.motion, f.old.made.Features, f.old.features)
	return p, there, err
}

func (f finder) matchRim(p solid.Place, n int) (solid.Place, error) {
	rims := f.old.made.Features.Rims()
	if n > len(rims) {
		return p, fmt.Errorf("the stock part has %d outer round walls that go fully round", len(rims))
	}
	there, err := f.fitted.Round(rims[n-1])
	if err != nil {
		return p, err
	}
	number, far := 0, math.Inf(1)
	for i, r := range f.new.features.Rims() {
		if d := r3.Norm(r3.Sub(r.Centre, f.old.motion.Apply(there.Centre))); d < far {
			number, far = i+1, d
		}
	}
	if number == 0 || far > there.Radius {
		return p, errors.New("its match on the redesign does not go fully round")
	}
	return p.Numbered(number), nil
}

// check makes sure that every place of a case is there on both parts, so
// that a slip in a name is one line and not a stiffness that is missing.
func (f finder) check(c loadCase) error {
	for side, p := range []placedPart{f.old, f.new} {
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
