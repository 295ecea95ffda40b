package beam

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// stress finds the worst stresses along the beam: the normal stress at the
// corners of every cut, the shear stress at its neutral axis.
func (a *analysis) stress(sol *solution, torques []torque) Stress {
	var out Stress
	for _, p := range a.profile.panels {
		// the section of the cut with the forces at the panel's end, where the
		// moment is largest
		a.worst(&out, sol, torques, &p.cuts[0], p.from, a.frame.elementAt(p.from, 1))
		a.worst(&out, sol, torques, &p.cuts[len(p.cuts)-1], p.to, a.frame.elementAt(p.to, -1))
	}
	out.Equivalent = out.Nominal
	a.concentrate(&out, sol)
	return out
}

// worst takes the stresses at the place s into account, with the section of a
// cut beside it.
func (a *analysis) worst(out *Stress, sol *solution, torques []torque, c *cut, s float64, e int) {
	f := a.frame.forcesIn(sol, e, s)
	normal, where := a.normalStress(c, f)
	if abs(normal) > abs(out.Bending) {
		out.Bending, out.BendingAt = normal, a.point(s, where)
	}
	twist := a.twist.stress(c, torques)
	shear := math.Hypot(f.VU*c.Flow[0].Peak, f.VV*c.Flow[1].Peak) + twist
	if shear > out.Shear {
		out.Shear, out.ShearAt = shear, a.where.model(s)
	}
	// the outer fibre carries no shear of bending, the neutral axis no normal
	// stress of bending
	axial := f.N / c.Section.Area
	for _, p := range []struct {
		normal, shear float64
		at            r2.Vec
	}{{normal, twist, where}, {axial, shear, c.Section.Centroid}} {
		if eq := math.Sqrt(p.normal*p.normal + 3*p.shear*p.shear); eq > out.Nominal {
			out.Nominal, out.EquivalentAt = eq, a.point(s, p.at)
		}
	}
}

// iterator returns a function that yields the cuts one by one.
func (p *profile) iterator() func() *cut {
	i, k := 0, -1
	return func() *cut {
		k++
		for k >= len(p.panels[i].cuts) {
			i, k = i+1, 0
		}
		return &p.panels[i].cuts[k]
	}
}

// normalStress returns the normal stress of largest size on a cut, in MPa, and
// its place in the section. It is nominal: plane sections of the whole cut. A
// fibre in the shade of an opening or a step, such as the rim of a hub that
// rises from a thin arm, carries none of it.
func (a *analysis) normalStress(c *cut, f sectionForces) (float64, r2.Vec) {
	stress := a.stressField(c, f)
	var worst, shaded float64
	var at, atShaded r2.Vec
	for _, p := range c.Region {
		for _, q := range p.Outer {
			s := stress(q)
			switch {
			case abs(s) <= abs(worst):
			case !c.idle(q):
				worst, at = s, q
			case abs(s) > abs(shaded):
				shaded, atShaded = s, q
			}
		}
	}
	if worst == 0 { // walls too thin for the cells
		return shaded, atShaded
	}
	return worst, at
}

// stressField returns the normal stress in MPa as a function of the place in
// the section.
func (a *analysis) stressField(c *cut, f sectionForces) func(r2.Vec) float64 {
	raw := whole(c.Section).rigidity(a.u0, a.v0)
	flex, err := raw.strainFlex(1)
	if err != nil {
		return func(r2.Vec) float64 { return 0 }
	}
	n := [3]float64{f.N, f.MU, f.MV}
	var strain [3]float64 // times E
	for i := range 3 {
		for j := range 3 {
			strain[i] += flex[i][j] * n[j]
		}
	}
	return func(q r2.Vec) float64 {
		return strain[0] - (q.X-a.u0)*strain[1] - (q.Y-a.v0)*strain[2]
	}
}

// point returns a place in the model's frame.
func (a *analysis) point(s float64, q r2.Vec) r3.Vec {
	ax := a.setup.Span
	p := r3.Scale(a.where.model(s), ax.Unit())
	p = r3.Add(p, r3.Scale(q.X, ax.Next().Unit()))
	return r3.Add(p, r3.Scale(q.Y, ax.Next().Next().Unit()))
}

// yieldForce finds the force at the load's place that brings the equivalent
// stress to yield, on its own.
func (a *analysis) yieldForce() {
	if !(a.elastic.Yield > 0) {
		return
	}
	sol := a.frame.solve(a.unit(a.at, a.plane), nil)
	one := a.stress(sol, []torque{{a.where.At, a.twist.arm(a.plane)}})
	if one.Equivalent > 0 {
		f := a.elastic.Yield / one.Equivalent
		a.result.YieldForce = &f
	}
}
