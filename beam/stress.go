package beam

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// stress finds the worst stresses along the beam, the normal stress at the
// corners of every cut and the shear stress at its neutral axis, and the holes
// whose stress no chart gives.
func (p problem) stress(f *frame, a acted) (Stress, []string) {
	var out Stress
	for i := range p.profile.panels {
		q := &p.profile.panels[i]
		// the section of the cut with the forces at the panel's end, where the
		// moment is largest
		p.worst(&out, f, a, &q.cuts[0], q.from, f.elementAt(q.from, 1))
		p.worst(&out, f, a, &q.cuts[len(q.cuts)-1], q.to, f.elementAt(q.to, -1))
	}
	out.Equivalent = out.Nominal
	unfit := p.concentrate(&out, f, a.solution)
	return out, unfit
}

// worst takes the stresses at the place s into account, with the section of a
// cut beside it.
func (p problem) worst(out *Stress, f *frame, a acted, c *cutSection, s float64, e int) {
	forces := f.forcesIn(a.solution, e, s)
	normal, where := p.normalStress(c, forces)
	if abs(normal) > abs(out.Bending) {
		out.Bending, out.BendingAt = normal, p.point(s, where)
	}
	twist := a.turned.stress(s)
	shear := math.Hypot(forces.VU*c.Flow[0].Peak, forces.VV*c.Flow[1].Peak) + twist
	if shear > out.Shear {
		out.Shear, out.ShearAt = shear, p.where.model(s)
	}
	// the outer fibre carries no shear of bending, the neutral axis no normal
	// stress of bending
	axial := forces.N / c.Section.Area
	for _, x := range []struct {
		normal, shear float64
		at            r2.Vec
	}{{normal, twist, where}, {axial, shear, c.Section.Centroid}} {
		if eq := math.Sqrt(x.normal*x.normal + 3*x.shear*x.shear); eq > out.Nominal {
			out.Nominal, out.EquivalentAt = eq, p.point(s, x.at)
		}
	}
}

// largeDeflection is the share of the span from which on the small-deflection
// theory is left, common practice: a cantilever that sags by a tenth is stiffer by
// half a per cent (K. E. Bisshopp and D. C. Drucker 1945, from memory).
const largeDeflection = 0.1

// stressWarnings say what the stresses leave out, and when the load goes beyond
// the elastic range.
func (p problem) stressWarnings(r Result, unfit []string) (w []string) {
	if y := p.elastic.Yield; y > 0 && r.Stress.Equivalent > y {
		w = append(w, fmt.Sprintf("the stress of %s MPa is above the yield strength of %s MPa: deflection and stress hold only below it",
			short(r.Stress.Equivalent), short(y)))
	}
	if d := r.Deflection; d != nil && abs(*d) > largeDeflection*p.where.arm(p.setup.Support) {
		w = append(w, fmt.Sprintf("the deflection of %s mm is over a tenth of the span: the small-deflection theory overrates it", short(abs(*d))))
	}
	if len(unfit) > 0 {
		noun := "hole"
		if len(unfit) > 1 {
			noun = "holes"
		}
		w = append(w, fmt.Sprintf("the stress at %s %s is nominal: no chart fits there, the peak may be up to three times as high",
			noun, strings.Join(unfit, ", ")))
	}
	if at, ok := p.shoulder(); ok {
		w = append(w, fmt.Sprintf("the stress at the step at %s = %s mm is nominal: a shoulder raises it; use the solid check for strength", p.setup.Span, short(p.where.model(at))))
	}
	return w
}

// shoulder finds the sharpest step of the section.
func (p problem) shoulder() (at float64, ok bool) {
	if p.handbook {
		return 0, false
	}
	least := 1 - fileDigits
	_, share := p.reached()
	i := 0
	for c := range p.profile.cuts() {
		if p.strained(c.S) && share[i] < least {
			least, at, ok = share[i], c.S, true
		}
		i++
	}
	return at, ok
}
