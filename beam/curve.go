package beam

// curve lists the beam along its span: at every joint, and on both sides of
// every change of the section. Without loads a is nil.
func (p problem) curve(f *frame, a *acted) []Point {
	var out []Point
	joints := map[float64]bool{}
	for _, x := range f.nodes {
		joints[x] = true
	}
	panels := p.profile.panels
	for i, q := range panels {
		here := along(q.cuts[len(q.cuts)-1].Section, p.plane)
		if i == 0 {
			out = append(out, p.curvePoint(f, a, &q.cuts[0], q.from, 1))
		}
		steps := i+1 < len(panels) && changed(along(panels[i+1].cuts[0].Section, p.plane), here)
		if joints[q.to] || steps {
			out = append(out, p.curvePoint(f, a, &q.cuts[len(q.cuts)-1], q.to, -1))
		}
		if steps {
			out = append(out, p.curvePoint(f, a, &panels[i+1].cuts[0], q.to, 1))
		}
	}
	return out
}

// changed reports whether a figure shows two values apart.
func changed(x, before float64) bool { return abs(x-before) > 0.01*before }

// curvePoint is the beam at a place, on the side that the cut lies on.
func (p problem) curvePoint(f *frame, a *acted, c *cutSection, x float64, side int) Point {
	out := Point{At: p.where.model(x), EI: p.elastic.YoungsModulus * along(c.Section, p.plane), Area: c.Section.Area}
	if a == nil {
		return out
	}
	e := f.elementAt(x, side)
	at := f.forcesIn(a.solution, e, x)
	moment, shear := at.MU, at.VU
	if p.plane == 1 {
		moment, shear = at.MV, at.VV
	}
	w := f.sag(a.solution, e, x, dof(p.plane)) + p.turnedBy(*a, x)
	out.Deflection, out.Moment, out.Shear = &w, &moment, &shear
	return out
}

// sag interpolates a sideways displacement inside an element by the cubic
// through its ends' displacements and rotations.
func (f *frame) sag(s *solution, e int, x float64, d int) float64 {
	from, to := f.nodes[e], f.nodes[e+1]
	h := to - from
	t := (x - from) / h
	a, b := s.nodes[e], s.nodes[e+1]
	return a[d]*(1-3*t*t+2*t*t*t) + a[d+1]*h*(t-2*t*t+t*t*t) +
		b[d]*(3*t*t-2*t*t*t) + b[d+1]*h*(t*t*t-t*t)
}
