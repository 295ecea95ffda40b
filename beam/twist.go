package beam

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/mesh"
)

// torque is a moment about the span in N mm at a distance along the beam in mm.
type torque struct{ at, value float64 }

// twist is the beam's torsion: GJ along it, and how far the load's line passes
// from the shear centre. Ends that are held do not turn about the span; the
// free end of a cantilever does. Warping is free (Saint-Venant) except at the
// clamp of a cantilever, where it is held, see warped.
type twist struct {
	steps    []twistStep
	length   float64
	from, to float64 // mm along the beam, where the section is held
	free     bool    // at to
	at       float64 // the load's place
	off      r2.Vec  // mm, from the shear centre to the load's line
	warp     float64 // mm, sqrt(E Cw/(G J)): how far a clamp's hold on warping reaches
}

type twistStep struct {
	s, weight, stiffness float64 // G J in N mm2
	j, thick             float64
}

// twistSections is the largest number of different sections that are solved for
// torsion.
const twistSections = 5

// twistTolerance is the relative error of each section's solution.
const twistTolerance = 2e-3

// known reports whether torsion was solved.
func (t twist) known() bool { return len(t.steps) > 0 }

// arm is the torque of a unit force in a plane, which is also the sideways
// displacement at the load's line for a unit angle.
func (t twist) arm(plane int) float64 { return [2]float64{-t.off.Y, t.off.X}[plane] }

// give is the displacement that the twist of a unit force adds in its plane.
func (t twist) give(plane int) float64 {
	arm := t.arm(plane)
	if arm == 0 {
		return 0
	}
	return arm * t.angle([]torque{{t.at, arm}}, t.at)
}

// angle returns the angle of twist in rad at a place.
func (t twist) angle(loads []torque, at float64) float64 {
	var sum float64
	for _, l := range loads {
		if l.value == 0 || !t.known() {
			continue
		}
		sum += l.value * t.influence(l.at, at)
	}
	return sum
}

// influence is the angle at one place for a unit torque at another. For a beam
// held at both ends it is the product of the flexibilities on either side over
// their sum.
func (t twist) influence(load, at float64) float64 {
	lo, hi := max(min(load, at), t.from), min(max(load, at), t.to)
	if t.free {
		return t.flex(t.from, lo) * t.warped(lo-t.from)
	}
	all := t.flex(t.from, t.to)
	return t.flex(t.from, lo) * t.flex(hi, t.to) / all
}

// warped is the share of the free twist that is left over a length next to a
// clamp that holds warping: 1 - tanh(k L)/(k L) with k = sqrt(G J/(E Cw)), after
// V. Z. Vlasov's theory of thin-walled bars.
func (t twist) warped(length float64) float64 {
	if !(t.warp > 0) || length <= 0 {
		return 1
	}
	x := length / t.warp
	if x < 1e-3 {
		return x * x / 3
	}
	return 1 - math.Tanh(x)/x
}

// flex is the integral of 1/(G J) between two places.
func (t twist) flex(from, to float64) float64 {
	var sum float64
	for _, s := range t.steps {
		if part := min(to, s.s+s.weight/2) - max(from, s.s-s.weight/2); part > 0 {
			sum += part / s.stiffness
		}
	}
	return sum
}

// stress is the largest shear stress of torsion at a cut, in MPa, by the
// elementary formulas: T t/J in an open or solid section of greatest thickness
// t, T/(2 A t) in a tube of enclosed area A and least wall t.
func (t twist) stress(c *cut, loads []torque) float64 {
	if !t.known() {
		return 0
	}
	moment := 0.0
	for _, l := range loads {
		if t.free {
			if l.at >= c.S {
				moment += l.value
			}
			continue
		}
		share := t.flex(l.at, t.to) / t.flex(t.from, t.to)
		if l.at < c.S {
			share--
		}
		moment += l.value * share
	}
	if moment == 0 {
		return 0
	}
	step := t.nearest(c.S)
	return abs(moment) * step.thick / step.j
}

func (t twist) nearest(s float64) twistStep {
	best := t.steps[0]
	for _, x := range t.steps {
		if abs(x.s-s) < abs(best.s-s) {
			best = x
		}
	}
	return best
}

// newTwist solves torsion where a torque acts or the load's line may miss the
// shear centre.
func (a *analysis) newTwist() (twist, error) {
	w := a.where
	t := twist{length: w.Length, from: w.From, to: w.To, free: a.setup.Support == Cantilever, at: w.At}
	if t.free {
		t.to = w.Length
	}
	if !a.needsTwist() {
		return t, nil
	}
	groups := a.twistGroups()
	var centre r2.Vec
	var length, warping, stiff float64
	g := a.shearModulus()
	for _, group := range groups {
		res, err := TorsionWithin(group.cut.Region, a.elastic.Poisson, twistTolerance)
		if err != nil {
			return twist{}, err
		}
		if !(res.J > 0) {
			return twist{}, errors.New("a section has no torsional stiffness")
		}
		t.steps = append(t.steps, twistStep{s: group.cut.S, weight: group.length, stiffness: g * res.J, j: res.J, thick: thickness(group.cut, res.J)})
		off := group.cut.Section.Centroid
		if !math.IsNaN(res.ShearCentre.X) {
			off = res.ShearCentre
			warping += group.length * res.Warping
		}
		centre = r2.Add(centre, r2.Scale(group.length, off))
		length += group.length
		stiff += group.length * g * res.J
	}
	// lay the groups end to end, so that no length is counted twice
	at := 0.0
	for i := range t.steps {
		t.steps[i].weight *= w.Length / length
		t.steps[i].s = at + t.steps[i].weight/2
		at += t.steps[i].weight
	}
	t.off = r2.Sub(a.profile.nearest(w.At).Section.Centroid, r2.Scale(1/length, centre))
	for _, p := range []*float64{&t.off.X, &t.off.Y} {
		if abs(*p) < 1e-3*a.result.Depth { // a mesh is never exactly symmetric
			*p = 0
		}
	}
	if t.free && warping > 0 {
		t.warp = math.Sqrt(a.elastic.YoungsModulus * warping / stiff)
	}
	return t, nil
}

// thickness is J over the section modulus in torsion, in mm.
func thickness(c *cut, j float64) float64 {
	enclosed := 0.0
	least := math.Inf(1)
	for _, p := range c.Region {
		for _, h := range p.Holes {
			void := abs(mesh.LoopArea(h))
			enclosed += void
		}
		if len(p.Holes) > 0 {
			least = min(least, 2*p.Area()/perimeter(p))
		}
	}
	if enclosed > 0.1*c.Section.Area && !math.IsInf(least, 1) {
		mean := enclosed + c.Section.Area/2
		return j / (2 * mean * least)
	}
	// a strip of length l and thickness t: J = l t^3/3, A = l t
	return math.Sqrt(3 * j / c.Section.Area)
}

func perimeter(p mesh.Polygon) float64 {
	var sum float64
	for _, loop := range p.Loops() {
		for i, a := range loop {
			sum += r2.Norm(r2.Sub(loop[(i+1)%len(loop)], a))
		}
	}
	return sum
}

// needsTwist reports whether a torque acts or some section is not symmetric
// about the load's line.
func (a *analysis) needsTwist() bool {
	for _, l := range a.setup.Loads {
		if l.Kind == Torque {
			return true
		}
	}
	for c := range a.profile.cuts() {
		if !symmetric(c, a.plane) {
			return true
		}
	}
	return false
}

// symmetric tests the odd moments of area about the line of the load through
// the centroid: the product of area and the two of third order.
func symmetric(c *cut, plane int) bool {
	s := c.Section
	polar := s.Ixx + s.Iyy
	if abs(s.Ixy) > 1e-3*polar {
		return false
	}
	var cubic, mixed float64
	for _, p := range c.Region {
		for _, loop := range p.Loops() {
			for i, from := range loop {
				x, y := r2.Sub(from, s.Centroid), r2.Sub(loop[(i+1)%len(loop)], s.Centroid)
				cross := x.X*y.Y - y.X*x.Y
				for _, g := range gauss2(0, 1) {
					q := r2.Add(x, r2.Scale(g.x, r2.Sub(y, x)))
					u, v := q.X, q.Y
					if plane == 0 {
						u, v = v, u
					}
					cubic += cross / 5 * g.w * u * u * u
					mixed += cross / 5 * g.w * u * v * v
				}
			}
		}
	}
	limit := 1e-3 * polar * math.Sqrt(polar/s.Area)
	return abs(cubic) < limit && abs(mixed) < limit
}

// twistGroup is a stretch that one section stands for.
type twistGroup struct {
	cut    *cut
	length float64
}

// twistGroups joins neighbouring like sections; of more than a few it takes as
// many, evenly spaced.
func (a *analysis) twistGroups() []twistGroup {
	var all []twistGroup
	for c := range a.profile.cuts() {
		if n := len(all); n > 0 && same(all[n-1].cut.Section, c.Section) {
			all[n-1].length += c.Weight
			continue
		}
		all = append(all, twistGroup{c, c.Weight})
	}
	if len(all) <= twistSections {
		return all
	}
	var few []twistGroup
	for k := range twistSections {
		at := a.where.Length * (float64(k) + 0.5) / twistSections
		few = append(few, twistGroup{a.profile.nearest(at), a.where.Length / twistSections})
	}
	return few
}
