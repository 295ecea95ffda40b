package beam

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// normalStress returns the normal stress of largest size on a cut, in MPa, and
// its place in the section.
func (p problem) normalStress(c *cutSection, f sectionForces) (worst float64, at r2.Vec) {
	stress := p.stressField(c, f)
	for _, piece := range c.Region {
		for _, q := range piece.Outer {
			if s := stress(q); abs(s) > abs(worst) {
				worst, at = s, q
			}
		}
	}
	return worst, at
}

// stressField returns the normal stress in MPa as a function of the place in
// the section.
func (p problem) stressField(c *cutSection, f sectionForces) func(r2.Vec) float64 {
	flex, err := rigidityOf(c.Section, p.u0, p.v0).strainFlex(1)
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
		return strain[0] - (q.X-p.u0)*strain[1] - (q.Y-p.v0)*strain[2]
	}
}

// point returns a place in the model's frame.
func (p problem) point(s float64, q r2.Vec) r3.Vec {
	ax := p.setup.Span
	v := r3.Scale(p.where.model(s), ax.Unit())
	v = r3.Add(v, r3.Scale(q.X, ax.Next().Unit()))
	return r3.Add(v, r3.Scale(q.Y, ax.Next().Next().Unit()))
}
