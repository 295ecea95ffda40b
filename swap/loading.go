package swap

import (
	"cmp"
	"fmt"

	"swapworth/beam"
	"swapworth/mesh"
)

// loadings is how both parts are held and loaded.
type loadings struct {
	span    mesh.Axis
	support beam.Support
	cases   []loadCase // at least one
	remarks
}

// holdAndLoad takes the span along the longest side of the stock part's box
// and the load along its shortest, unless the person said otherwise. A load along
// the span bends nothing and is refused.
func holdAndLoad(c Case, on laid) (loadings, error) {
	l := c.Loading
	span, spanned := spanOf(l, on.old.mesh)
	along, directed := alongOf(l, on.old.mesh, span)
	support, supported := supportOf(l)
	grain := grainOf(span, on.old.known, on.new.known)
	for _, a := range along {
		if a == span && l.supportOpen() {
			return loadings{}, fmt.Errorf("the load along %s lies along the span: give another --load-along or --span", span)
		}
	}
	cases, err := casesOf(l, loadCase{span: span, support: support}, along, finder{on.old, on.new, on.fitted, span, c.Old.Bar})
	return loadings{span, support, cases, spanned.and(directed, supported, grain)}, err
}

func spanOf(l Loading, stock *mesh.Mesh) (span mesh.Axis, r remarks) {
	if l.Span != nil {
		return *l.Span, r
	}
	size, longest := stock.Bounds().Size(), mesh.X
	for _, a := range []mesh.Axis{mesh.Y, mesh.Z} {
		if a.Of(size) > longest.Of(size) {
			longest = a
		}
	}
	if l.usesEnds() {
		r = r.assuming("The span runs along %s, the longest side of the stock part: give --span", longest)
	}
	return longest, r
}

func alongOf(l Loading, stock *mesh.Mesh, span mesh.Axis) (along []mesh.Axis, r remarks) {
	if len(l.Along) > 0 {
		return l.Along, r
	}
	shortest := thinnestAxis(stock)
	if shortest == span {
		shortest = span.Next()
	}
	if !l.named() {
		r = r.assuming("The load acts along %s, the shortest side of the stock part: give --load-along", shortest)
	}
	return []mesh.Axis{shortest}, r
}

func supportOf(l Loading) (support beam.Support, r remarks) {
	if l.Support != nil {
		return *l.Support, r
	}
	if l.supportOpen() {
		r = r.assuming("The part is held as a %s: give --support, or --fix where it is bolted", beam.Cantilever)
	}
	return beam.Cantilever, r
}

// grainOf says how fibres are taken to run, once for each of the materials that has some.
func grainOf(span mesh.Axis, old, new knowledge) (r remarks) {
	for _, k := range []knowledge{old, new} {
		if m := k.material; m.Directional != nil {
			r = r.assuming("Fibres or grain of %s are taken to run along %s, as strong as they are there: across them it has less", m.Name, span)
		}
	}
	r.assumptions = unique(r.assumptions)
	return r
}

// casesOf settles what holds and loads both parts: usual, with a force along axes or with
// loads of its own. Along an axis, a force of unknown size stands for any.
func casesOf(l Loading, usual loadCase, along []mesh.Axis, find finder) ([]loadCase, error) {
	usual.along = along[0]
	var out []loadCase
	taken := map[string]bool{}
	if l.Loads.none() && len(l.Cases) == 0 || l.Force > 0 || len(l.Along) > 0 {
		for _, a := range along {
			c := usual
			c.name, c.along = a.String(), a
			c, err := find.holding(c, l.Places, Loads{})
			if err != nil {
				return nil, err
			}
			out, taken[c.name] = append(out, c), true
		}
	}
	named := l.Cases
	if !l.Loads.none() {
		named = append([]LoadCase{{Name: l.Loads.name(), Loads: l.Loads}}, named...)
	}
	for i, n := range named {
		c := usual
		turned := n.Loads.turned(find.old.motion)
		c.name, c.loads = cmp.Or(n.Name, fmt.Sprint(i+1)), &turned
		if taken[c.name] {
			return nil, fmt.Errorf("load case %q is there twice: give each its own name", c.name)
		}
		if n.Loads.none() {
			return nil, fmt.Errorf("load case %q: nothing loads it: give a force, moment, pressure or acceleration", c.name)
		}
		c, err := find.holding(c, n.Places.over(l.Places), n.Loads)
		if err != nil {
			return nil, err
		}
		out, taken[c.name] = append(out, c), true
	}
	return out, nil
}

func thinnestAxis(m *mesh.Mesh) mesh.Axis {
	size, thin := m.Bounds().Size(), mesh.X
	for _, a := range []mesh.Axis{mesh.Y, mesh.Z} {
		if a.Of(size) <= thin.Of(size) {
			thin = a
		}
	}
	return thin
}
