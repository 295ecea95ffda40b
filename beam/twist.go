package beam

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/internal/gauss"
	"swapworth/beam/section"
	"swapworth/mesh"
)

// torque is a moment about the span in N mm at a distance along the beam in mm.
type torque struct{ at, value float64 }

// twist is the beam's torsion: GJ along it, and how far the load's line passes
// from the shear centre. Ends that are held do not turn about the span; the
// free end of a cantilever does.
type twist struct {
	steps    []twistStep
	from, to float64 // mm along the beam, where the section is held
	free     bool    // at to
	at       float64 // the load's place
	off      r2.Vec  // mm, from the mean shear centre to the load's line
	unit     float64 // mm/N, what the twist of a unit force adds in its plane
	loose    float64 // mm/N, the same if the load's place held no warping
}

// twistStep is a stretch of like sections.
type twistStep struct {
	from, to  float64 // mm along the beam
	stiffness float64 // G J in N mm2, held warping included
	loose     float64 // the same without what the load's place holds
	j, thick  float64
	off       r2.Vec // mm, from its shear centre to the load's line
}

// twistSections is the largest number of different sections that are solved for
// torsion; what differs from them takes the result of one roughly like it.
const twistSections = 6

// The relative error of each section's solution, with a torque and where only
// the load's line passes beside the shear centre.
const (
	torqueTolerance = 1e-3
	offsetTolerance = 1e-2
)

// known reports whether torsion was solved.
func (t twist) known() bool { return len(t.steps) > 0 }

// arm is the torque of a unit force in a plane, which is also the sideways
// displacement at the load's line for a unit angle.
func (t twist) arm(plane int) float64 { return [2]float64{-t.off.Y, t.off.X}[plane] }

// give is the displacement that the twist of a unit force adds in its plane, for
// the shear force that it causes at every cut. The torque is V times the distance
// of the load's line from the shear centre of the section there, and between held
// ends a constant more, from least energy.
func (t twist) give(plane int, cuts []*cut, shear []float64) float64 {
	if !t.known() {
		return 0
	}
	var square, first, flex float64
	for i, c := range cuts {
		if c.S < t.from || c.S > t.to {
			continue
		}
		step := t.nearest(c.S)
		torque, w := shear[i]*[2]float64{-step.off.Y, step.off.X}[plane], c.Weight/step.stiffness
		square, first, flex = square+w*torque*torque, first+w*torque, flex+w
	}
	if t.free {
		return square
	}
	return square - first*first/flex
}

// loosened returns the twist if the load's place held no warping.
func (t twist) loosened() twist {
	t.steps = slices.Clone(t.steps)
	for i := range t.steps {
		t.steps[i].stiffness = t.steps[i].loose
	}
	return t
}

// beyondMean is what the unit force's own twist adds beyond that of the mean
// shear centre.
func (t twist) beyondMean(plane int) float64 {
	arm := t.arm(plane)
	return t.unit - arm*t.angle([]torque{{t.at, arm}}, t.at)
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
		return t.flex(t.from, lo)
	}
	return t.flex(t.from, lo) * t.flex(hi, t.to) / t.flex(t.from, t.to)
}

// flex is the integral of 1/(G J) between two places.
func (t twist) flex(from, to float64) float64 {
	var sum float64
	for _, s := range t.steps {
		if part := min(to, s.to) - max(from, s.from); part > 0 {
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
	for _, x := range t.steps {
		if s <= x.to {
			return x
		}
	}
	return t.steps[len(t.steps)-1]
}

// newTwist solves torsion where a torque acts or the load's line may miss the
// shear centre.
func (a *analysis) newTwist() (twist, error) {
	w := a.where
	t := twist{from: w.From, to: w.To, free: a.setup.Support == Cantilever, at: w.At}
	if t.free {
		t.to = w.Length
	}
	if !a.needsTwist() {
		return t, nil
	}
	runs := a.twistRuns()
	var solved []solvedSection
	var centre r2.Vec
	var length float64 // with a common shear centre
	for i := range runs {
		res, err := a.solveTwist(runs[i].cut, &solved)
		if err != nil {
			return twist{}, err
		}
		runs[i].res = res
		if at, l := res.ShearCentre, runs[i].to-runs[i].from; !math.IsNaN(at.X) {
			centre, length = r2.Add(centre, r2.Scale(l, at)), length+l
		}
	}
	if length == 0 { // in separate pieces all along
		centre, length = a.profile.nearest(w.At).Section.Centroid, 1
	}
	centre = r2.Scale(1/length, centre)
	line := a.profile.nearest(w.At).Section.Centroid
	for i, r := range runs {
		at := r.res.ShearCentre
		if math.IsNaN(at.X) {
			at = centre
		}
		t.steps = append(t.steps, twistStep{from: r.from, to: r.to, j: r.res.J, off: a.beside(line, at),
			thick:     thickness(r.cut, r.res.J),
			stiffness: a.shearModulus() * r.res.J / a.freeWarping(runs, i, a.holdsWarping),
			loose:     a.shearModulus() * r.res.J / a.freeWarping(runs, i, func(float64) bool { return false })})
	}
	t.off = a.beside(line, centre)
	return t, nil
}

// beside returns how far the load's line passes from a shear centre. As in beam
// tables it passes through that of a simple section.
func (a *analysis) beside(line, centre r2.Vec) r2.Vec {
	if a.handbook {
		return r2.Vec{}
	}
	off := r2.Sub(line, centre)
	for _, p := range []*float64{&off.X, &off.Y} {
		if abs(*p) < 1e-3*a.result.Depth { // a mesh is never exactly symmetric
			*p = 0
		}
	}
	return off
}

// twistRun is a stretch of like sections, of which one is solved.
type twistRun struct {
	from, to float64
	cut      *cut
	res      section.TorsionResult
}

// deep reports whether a run is at least half as long as the smaller side of its
// section: a thinner diaphragm bends with the warping of its neighbours.
func (r twistRun) deep() bool {
	size := r.size()
	return r.to-r.from >= min(size.X, size.Y)/2
}

// size is the sides of the rectangle around the section, in mm.
func (r twistRun) size() r2.Vec { return r2.Sub(r.cut.Section.High, r.cut.Section.Low) }

type solvedSection struct {
	section section.Properties
	res     section.TorsionResult
}

// solveTwist solves a section unless a like one has been.
func (a *analysis) solveTwist(c *cut, solved *[]solvedSection) (section.TorsionResult, error) {
	for _, s := range *solved {
		if alike(s.section, c.Section, 0.02) || (len(*solved) >= twistSections && alike(s.section, c.Section, 0.3)) {
			return s.res, nil
		}
	}
	tolerance := offsetTolerance
	if a.twisted() {
		tolerance = torqueTolerance
	}
	res, err := section.TorsionWithin(c.Region, a.elastic.Poisson, tolerance)
	if err == nil && !(res.J > 0) {
		err = errors.New("a section has no torsional stiffness")
	}
	*solved = append(*solved, solvedSection{c.Section, res})
	return res, err
}

func alike(a, b section.Properties, tol float64) bool {
	near := func(x, y float64) bool { return abs(x-y) <= tol*max(abs(x), abs(y)) }
	return a.Outlines == b.Outlines && near(a.Area, b.Area) && near(a.Ixx, b.Ixx) && near(a.Iyy, b.Iyy)
}

// twistRuns joins neighbouring cuts whose area and moments differ little and
// counts very short runs to the one before them.
func (a *analysis) twistRuns() []twistRun {
	var runs []twistRun
	for i := range a.profile.panels {
		p := &a.profile.panels[i]
		c := &p.cuts[len(p.cuts)/2]
		if n := len(runs); n > 0 && (alike(runs[n-1].cut.Section, c.Section, 0.1) || p.to-runs[n-1].from < 0.02*a.where.Length) {
			runs[n-1].to = p.to
			continue
		}
		runs = append(runs, twistRun{from: p.from, to: p.to, cut: c})
	}
	return a.partedAtLoad(a.withoutDiaphragms(runs))
}

// withoutDiaphragms gives thin walls across the span to the runs beside them, as
// if they held no warping, and short holes in open profiles, which do not stop it.
func (a *analysis) withoutDiaphragms(runs []twistRun) []twistRun {
	heavier := func(r twistRun, k int) bool {
		return k >= 0 && k < len(runs) && r.cut.Section.Area > 1.5*runs[k].cut.Section.Area
	}
	var kept []twistRun

	from := runs[0].from
	for i, r := range runs {
		wall := !r.deep() && (heavier(r, i-1) || heavier(r, i+1))
		n := len(kept)
		hole := r.to-r.from < max(r.size().X, r.size().Y) && r.cut.Section.Outlines > 1 && (open(kept, n-1) || open(runs, i+1))
		a.walled = a.walled || wall
		switch {
		case (wall || hole) && n == 0 && i+1 < len(runs):
			continue // the next run starts here
		case n > 0 && (wall || hole || alike(kept[n-1].cut.Section, r.cut.Section, 0.1)):
			kept[n-1].to = r.to
		default:
			r.from = from
			kept = append(kept, r)
		}
		from = r.to
	}
	return kept
}

// partedAtLoad parts the run under a load that holds its warping.
func (a *analysis) partedAtLoad(runs []twistRun) []twistRun {
	at := a.where.At
	for i, r := range runs {
		if a.holdsWarping(at) && r.from < at && at < r.to {
			before := r
			before.to, runs[i].from = at, at
			return slices.Insert(runs, i, before)
		}
	}
	return runs
}

// holdsWarping reports whether a place is that of the load between supports: from
// there a part twists back to either side, so that its section stays plane there
// by symmetry.
func (a *analysis) holdsWarping(at float64) bool {
	return a.setup.Support != Cantilever && abs(at-a.where.At) < 1e-6*a.where.Length
}

// open reports whether a run is one piece that encloses nothing.
func open(runs []twistRun, k int) bool {
	return k >= 0 && k < len(runs) && runs[k].cut.Section.Outlines == 1 && runs[k].cut.Section.Holes == 0
}

// freeWarping is the share of a run's free twist that is left where its ends
// hold the warping, as a clamp, a much stiffer neighbour and places that stay plane do:
//
//	1 - tanh(k L)/(k L) with one end held, 1 - tanh(k L/2)/(k L/2) with both,
//
// k = sqrt(G J/(E Cw)): V. Z. Vlasov, Thin-walled Elastic Beams.
func (a *analysis) freeWarping(runs []twistRun, i int, plane func(at float64) bool) float64 {
	r := runs[i]
	if !(r.res.Warping > 0) {
		return 1
	}
	clampFrom, clampTo := a.setup.Support.clampedEnds()
	holds := func(k int) bool { return k >= 0 && k < len(runs) && runs[k].res.J > 3*r.res.J && runs[k].deep() }
	ends := 0.0
	if holds(i-1) || plane(r.from) || i == 0 && clampFrom && a.where.From == 0 {
		ends++
	}
	if holds(i+1) || plane(r.to) || i == len(runs)-1 && clampTo && a.where.To == a.where.Length {
		ends++
	}
	if ends == 0 {
		return 1
	}
	k := math.Sqrt(a.shearModulus() * r.res.J / (a.elastic.YoungsModulus * r.res.Warping))
	x := k * (r.to - r.from) / ends
	if x < 1e-3 {
		return x * x / 3
	}
	return 1 - math.Tanh(x)/x
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
	if a.twisted() {
		return true
	}
	for c := range a.profile.cuts() {
		if symmetric(c, a.plane) {
			continue
		}
		if a.handbook && (a.setup.Force != 0 || len(a.setup.Loads) > 0) {
			a.warn("the load is taken through the shear centre; beside it, it twists the section too")
		}
		return !a.handbook
	}
	return false
}

// twisted reports whether a torque is among the loads.
func (a *analysis) twisted() bool {
	for _, l := range a.setup.Loads {
		if l.Kind == Torque {
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
				for _, g := range gauss.Two(0, 1) {
					q := r2.Add(x, r2.Scale(g.X, r2.Sub(y, x)))
					u, v := q.X, q.Y
					if plane == 0 {
						u, v = v, u
					}
					cubic += cross / 5 * g.W * u * u * u
					mixed += cross / 5 * g.W * u * v * v
				}
			}
		}
	}
	limit := 1e-3 * polar * math.Sqrt(polar/s.Area)
	return abs(cubic) < limit && abs(mixed) < limit
}
