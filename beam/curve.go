package beam

// curve lists the beam along its span: at every joint, and on both sides of
// every change of the section.
func (a *analysis) curve() {
	bent := a.underLoad()
	joints := map[float64]bool{}
	for _, x := range a.frame.nodes {
		joints[x] = true
	}
	panels := a.profile.panels
	for i, p := range panels {
		here := along(p.cuts[len(p.cuts)-1].Section, a.plane)
		if i == 0 {
			a.result.Curve = append(a.result.Curve, a.curvePoint(bent, &p.cuts[0], p.from, 1))
		}
		steps := i+1 < len(panels) && changed(along(panels[i+1].cuts[0].Section, a.plane), here)
		if joints[p.to] || steps {
			a.result.Curve = append(a.result.Curve, a.curvePoint(bent, &p.cuts[len(p.cuts)-1], p.to, -1))
		}
		if steps {
			a.result.Curve = append(a.result.Curve, a.curvePoint(bent, &panels[i+1].cuts[0], p.to, 1))
		}
	}
}

func changed(x, before float64) bool { return abs(x-before) > 0.01*before }

// response is the beam under everything that acts on it.
type response struct {
	solution *solution
	torques  []torque
}

// underLoad returns nil without a load.
func (a *analysis) underLoad() *response {
	if !a.setup.loaded() {
		return nil
	}
	forces, lines, torques := a.actions()
	return &response{a.frame.solve(forces, lines), torques}
}

// curvePoint is the beam at a place, on the side that the cut lies on.
func (a *analysis) curvePoint(r *response, c *cut, x float64, side int) Point {
	p := Point{At: a.where.model(x), EI: a.elastic.YoungsModulus * along(c.Section, a.plane), Area: c.Section.Area}
	if r == nil {
		return p
	}
	e := a.frame.elementAt(x, side)
	f := a.frame.forcesIn(r.solution, e, x)
	moment, shear := f.MU, f.VU
	if a.plane == 1 {
		moment, shear = f.MV, f.VV
	}
	w := a.frame.sag(r.solution, e, x, dof(a.plane)) + a.twist.angle(r.torques, x)*a.twist.arm(a.plane)
	p.Deflection, p.Moment, p.Shear = &w, &moment, &shear
	return p
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
