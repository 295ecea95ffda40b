package beam

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r2"
)

// Where the axis of a part turns aside, it is longer than the span and the load
// passes beside it. With t the tangent of the angle between axis and span:
//
// Along the load, the section at right angles to the axis has cos^3 of the second
// moment of the cut and the axis 1/cos of the length: the curvature along the
// span is M/(E I) (1+t^2)^2.
//
// Across the load, the load's line lies the distance h from the axis and twists
// it with T = T0 - V h; bending and torsion of the turned bar have the energy
//
//	(M + T t)^2/(2 E I) + (T - M t)^2/(2 G J)
//
// per length of the span, E I and G J of the cut, as for any bar bent and twisted
// in space (Timoshenko, Strength of Materials, bars curved out of plane). T0 is
// what the ends of a beam held at both take, from least energy; a free end has
// none. J is A^4/(40 Ip), Saint-Venant's estimate for solid sections.
func (a *analysis) crank(cuts []*cut, moment, shear []float64) {
	along, across := a.turns(cuts)
	t := a.twists(cuts, moment, shear, across)
	most := floats.Norm(moment, math.Inf(1))
	for i, c := range cuts {
		m := moment[i]
		by := (1 + along[i]*along[i]) * (1 + along[i]*along[i])
		if abs(m) > 0.02*most && t.torque != nil {
			by *= t.energy(i, t.torque[i], across[i]) / (m * m / t.bend[i])
		}
		by = min(by, mostTurned)
		c.Turned[a.plane] = by
		c.soften(a.plane, by)
	}
}

// mostTurned bounds the softening where the moment all but vanishes.
const mostTurned = 20

// turns returns the tangents of the axis along and across the load at every cut.
// A section moves aside as far as both of its edges do; a taper or a notch, of
// which one edge stays, does not turn the axis.
func (a *analysis) turns(cuts []*cut) (along, across []float64) {
	along, across = make([]float64, len(cuts)), make([]float64, len(cuts))
	i := 0
	for _, p := range a.profile.panels {
		n := len(p.cuts)
		if first, last := &p.cuts[0], &p.cuts[n-1]; n > 1 && len(first.Region) == len(last.Region) {
			low := r2.Scale(1/(last.S-first.S), r2.Sub(last.Section.Low, first.Section.Low))
			high := r2.Scale(1/(last.S-first.S), r2.Sub(last.Section.High, first.Section.High))
			u, v := common(low.X, high.X), common(low.Y, high.Y)
			if a.plane == 1 {
				u, v = v, u
			}
			for k := range n {
				along[i+k], across[i+k] = u, v
			}
		}
		i += n
	}
	return along, across
}

// common is what two motions share: the smaller if they go the same way.
func common(a, b float64) float64 {
	if a*b <= 0 {
		return 0
	}
	if abs(a) < abs(b) {
		return a
	}
	return b
}

// offAxis is the torsion of a bar whose axis wanders across the load.
type offAxis struct {
	torque      []float64 // nil where the axis stays
	moment      []float64
	bend, twist []float64 // E I and G J
}

// energy is twice the energy per length at cut i.
func (o offAxis) energy(i int, torque, t float64) float64 {
	b, w := o.moment[i]+torque*t, torque-o.moment[i]*t
	return b*b/o.bend[i] + w*w/o.twist[i]
}

// twists finds the torque at every cut. Where sections are not symmetric about
// the load, twist.go has it already.
func (a *analysis) twists(cuts []*cut, moment, shear, across []float64) offAxis {
	o := offAxis{moment: moment}
	line := a.profile.nearest(a.where.At).Section.Centroid
	free := make([]float64, len(cuts))
	wanders := false
	for i, c := range cuts {
		s := c.Section
		off := r2.Sub(s.Centroid, line)
		h := [2]float64{off.Y, off.X}[a.plane]
		free[i] = -shear[i] * h
		o.bend = append(o.bend, a.elastic.YoungsModulus*along(s, a.plane))
		o.twist = append(o.twist, a.shearModulus()*math.Pow(s.Area, 4)/(40*(s.Ixx+s.Iyy)))
		wanders = wanders || abs(h) > 0.01*a.result.Depth
	}
	if a.twist.known() || !wanders {
		return o
	}
	o.torque = free
	if a.setup.Support == Cantilever {
		return o
	}
	// least energy over a torque T0 that is the same everywhere
	var slope, curve float64
	for i, c := range cuts {
		if c.S < a.where.From || c.S > a.where.To {
			continue
		}
		t, w := across[i], c.Weight
		slope += w * ((moment[i]+free[i]*t)*t/o.bend[i] + (free[i]-moment[i]*t)/o.twist[i])
		curve += w * (t*t/o.bend[i] + 1/o.twist[i])
	}
	for i := range free {
		free[i] -= slope / curve
	}
	return o
}
