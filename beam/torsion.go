package beam

import (
	"errors"
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/internal/gauss"
	"swapworth/beam/section"
)

// torsionBar is the beam as it twists: Vlasov's bar, of the energy
//
//	1/2 integral (G J t'^2 + E Cw t''^2) ds
//
// with the angle t, which a held section keeps at zero and a clamped one level
// (no warping); V. Z. Vlasov, Thin-walled Elastic Beams. A nil bar does not
// twist: nothing acts beside its shear centre.
type torsionBar struct {
	nodes   []float64
	places  []twisted // one a cut, in order
	index   [][3]int  // equations of the angle and of its slopes before and after, -1 where held
	size    int
	young   float64
	factor  bandFactor
	uniform bool // one section all along

	support  Support
	from, to int // nodes
}

// twisted is what a cut does in torsion.
type twisted struct {
	s, weight float64
	gj        float64 // N mm2
	warping   float64 // E Cw, N mm4
	modulus   float64 // mm3, torque over the largest shear stress
	off       r2.Vec  // mm, from the shear centre to the load's line
}

// alikeTwist is how far area and second moments may differ for two sections to
// share one solution, whose J then follows A^4/(Ixx+Iyy), as Saint-Venant found
// for compact sections of any outline, and whose shear centre follows the size.
// A thin strip that widens or thickens is followed too. Over so little the rule
// is off by 2 % at most, as a test shows on every family of sections.
const alikeTwist = 0.03

// torsionBar solves torsion where a torque acts or the load's line may miss the
// shear centre.
func (p problem) torsionBar() (*torsionBar, error) {
	if !p.twists() {
		return nil, nil
	}
	b := &torsionBar{nodes: p.profile.nodes, young: p.elastic.YoungsModulus, uniform: true}
	type solved struct {
		section section.Properties
		res     section.TorsionResult
	}
	var known []solved
	line := p.profile.nearest(p.where.At).Section.Centroid
	for c := range p.profile.cuts() {
		k := -1
		for i := range known {
			if alike(known[i].section, c.Section) {
				k = i
			}
		}
		if k < 0 {
			res, err := p.torsion(c)
			if err == nil && !(res.J > 0) {
				err = errors.New("a section has no torsional stiffness")
			}
			if err != nil {
				return nil, err
			}
			k = len(known)
			known = append(known, solved{c.Section, res})
		}
		b.uniform = b.uniform && same(known[0].section, c.Section)
		b.places = append(b.places, p.twistedAt(c, known[k].section, known[k].res, line))
	}
	b.support, b.from, b.to = p.setup.Support, p.from, p.to
	b.hold(b.support, b.from, b.to)
	return b, b.solve()
}

// twistedAt scales the solution of a like section.
func (p problem) twistedAt(c *cutSection, like section.Properties, res section.TorsionResult, line r2.Vec) twisted {
	saintVenant := func(s section.Properties) float64 { return math.Pow(s.Area, 4) / (s.Ixx + s.Iyy) }
	grown := saintVenant(c.Section) / saintVenant(like)
	size := math.Pow(grown, 0.25) // J is of the fourth degree
	t := twisted{s: c.S, weight: c.Weight, gj: p.shearModulus() * res.J * grown, modulus: res.Modulus * size * size * size}
	if res.Pieces == 1 {
		t.warping = p.elastic.YoungsModulus * res.Warping * grown * size * size
	}
	if !p.handbook && res.Pieces == 1 {
		centre := r2.Add(c.Section.Centroid, r2.Scale(size, r2.Sub(res.ShearCentre, like.Centroid)))
		t.off = p.besides(r2.Sub(line, centre), c)
	}
	return t
}

// besides drops what a mesh of a symmetric part is off by.
func (p problem) besides(off r2.Vec, c *cutSection) r2.Vec {
	size := max(c.Section.High.X-c.Section.Low.X, c.Section.High.Y-c.Section.Low.Y)
	for _, x := range []*float64{&off.X, &off.Y} {
		if abs(*x) < symmetricWithin*size {
			*x = 0
		}
	}
	return off
}

func alike(a, b section.Properties) bool {
	near := func(x, y float64) bool { return abs(x-y) <= alikeTwist*max(abs(x), abs(y)) }
	return a.Outlines == b.Outlines && a.Holes == b.Holes && near(a.Area, b.Area) && near(a.Ixx, b.Ixx) && near(a.Iyy, b.Iyy)
}

// layer is the share of an element from which on what holds the warping shows: a
// hold fades over sqrt(E Cw/(G J)). Where it fades sooner the slope of the angle
// may jump, as it does at a torque on a round bar; what a hold takes off the
// twist there is less than a hundredth.
const layer = 1. / 3

// hold numbers the free freedoms. Every support holds the section from turning,
// a clamp from warping too.
func (b *torsionBar) hold(sup Support, from, to int) {
	warps := b.warps()
	clampFrom, clampTo := sup.clampedEnds()
	turns := func(i int) bool { return i != from && (i != to || sup == Cantilever) }
	level := func(i int) bool { return i == from && clampFrom || i == to && clampTo }
	b.index, b.size = make([][3]int, len(b.nodes)), 0
	number := func(free bool) int {
		if !free {
			return -1
		}
		b.size++
		return b.size - 1
	}
	for i := range b.nodes {
		before, after := i > 0 && warps[i-1], i < len(warps) && warps[i]
		eq := &b.index[i]
		eq[0] = number(turns(i))
		if i > 0 {
			eq[1] = number(!(before && level(i)))
		}
		switch {
		case i == len(warps):
		case before && after:
			eq[2] = eq[1]
		default:
			eq[2] = number(!(after && level(i)))
		}
	}
}

// warps tells in which elements what holds the warping shows.
func (b *torsionBar) warps() []bool {
	out := make([]bool, len(b.nodes)-1)
	for e := range out {
		h := b.nodes[e+1] - b.nodes[e]
		t := b.nearest(b.nodes[e] + h/2)
		out[e] = t.warping > layer*layer*h*h*t.gj
	}
	return out
}

// each calls f with the weight of every point of integration, its cut, the
// equations of its element and the slopes and curvatures of the element's four
// shape functions there. A cut stands for the length that it weighs.
func (b *torsionBar) each(f func(w float64, k int, eq [4]int, slope, curve [4]float64)) {
	e, x := 0, b.nodes[0]
	for k, t := range b.places {
		for _, g := range gauss.Three(x, x+t.weight) {
			for e+2 < len(b.nodes) && g.X > b.nodes[e+1] {
				e++
			}
			h := b.nodes[e+1] - b.nodes[e]
			y := (g.X - b.nodes[e]) / h
			eq := b.equations(e)
			f(g.W, k, eq,
				[4]float64{(-6*y + 6*y*y) / h, 1 - 4*y + 3*y*y, (6*y - 6*y*y) / h, 3*y*y - 2*y},
				[4]float64{(-6 + 12*y) / (h * h), (-4 + 6*y) / h, (6 - 12*y) / (h * h), (6*y - 2) / h})
		}
		x += t.weight
	}
}

// equations are those of an element's angles and slopes at both ends.
func (b *torsionBar) equations(e int) [4]int {
	return [4]int{b.index[e][0], b.index[e][2], b.index[e+1][0], b.index[e+1][1]}
}

func (b *torsionBar) solve() error {
	k := mat.NewSymBandDense(b.size, min(4, b.size-1), nil)
	b.each(func(w float64, i int, eq [4]int, slope, curve [4]float64) {
		t := b.places[i]
		for r, p := range eq {
			for c, q := range eq {
				if p >= 0 && q >= p {
					k.SetSymBand(p, q, k.At(p, q)+w*(t.gj*slope[r]*slope[c]+t.warping*curve[r]*curve[c]))
				}
			}
		}
	})
	var ok bool
	if b.factor, ok = factorBand(k); !ok {
		return errors.New("the beam has no torsional stiffness")
	}
	return nil
}

// loosely is the same bar with warping at its softest. Where its section
// changes nothing resists, for what a change does to the warping is not known.
// Elsewhere flanges that bend against the warping shear too, which Vlasov leaves
// out: as beams of the section's larger side w they lose 1 + (E/G) w^2/10 q^2 of
// their stiffness in waves of the length 2 pi/q, I/A_s of a rectangle being
// w^2/10; q is pi over Euler's length of the column with the same supports.
func (b *torsionBar) loosely(p problem) *torsionBar {
	if b == nil {
		return nil
	}
	out := *b
	out.places = append([]twisted{}, b.places...)
	q := math.Pi / (p.where.arm(b.support) * eulerLength[b.support])
	i := 0
	for c := range p.profile.cuts() {
		w := max(c.Section.High.X-c.Section.Low.X, c.Section.High.Y-c.Section.Low.Y)
		if b.uniform {
			out.places[i].warping /= 1 + 2*(1+p.elastic.Poisson)/10*w*w*q*q
		} else {
			out.places[i].warping = 0
		}
		i++
	}
	out.hold(b.support, b.from, b.to)
	if out.solve() != nil {
		return b
	}
	return &out
}

// eulerLength is the length of the buckling wave over the span.
var eulerLength = map[Support]float64{Cantilever: 2, SimplySupported: 1, FixedFixed: 0.5, Propped: 0.699}

// drive is the load vector of a torque that varies along the beam: the shear
// forces of a solution times the distance of their line from the shear centre.
func (b *torsionBar) drive(f *frame, sol *solution) []float64 {
	torque := make([]float64, len(b.places))
	for k, t := range b.places {
		e := f.elementAt(t.s, 1)
		v := f.forcesIn(sol, e, t.s)
		torque[k] = v.VV*t.off.X - v.VU*t.off.Y
	}
	out := make([]float64, b.size)
	b.each(func(w float64, k int, eq [4]int, slope, _ [4]float64) {
		for r, q := range eq {
			if q >= 0 {
				out[q] += w * torque[k] * slope[r]
			}
		}
	})
	return out
}

// give is what the twist of a unit force's own torque adds to its displacement.
func (b *torsionBar) give(f *frame, sol *solution) float64 {
	if b == nil {
		return 0
	}
	load := b.drive(f, sol)
	return dot(load, b.factor.solveVec(load))
}

func dot(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// turned is the bar under torque.
type turned struct {
	bar  *torsionBar
	free []float64 // angles and slopes by equation
}

// under solves for the torques of a frame's solution and those on nodes, in
// N mm.
func (b *torsionBar) under(f *frame, sol *solution, torques map[int]float64) turned {
	if b == nil {
		return turned{}
	}
	load := b.drive(f, sol)
	for node, m := range torques {
		if q := b.index[node][0]; q >= 0 {
			load[q] += m
		}
	}
	return turned{bar: b, free: b.factor.solveVec(load)}
}

// at is the angle in rad at a place, and its slope.
func (t turned) at(x float64) (angle, slope float64) {
	if t.bar == nil {
		return 0, 0
	}
	n := t.bar.nodes
	e := min(max(sort.SearchFloat64s(n, x)-1, 0), len(n)-2)
	h := n[e+1] - n[e]
	y := (x - n[e]) / h
	var v [4]float64 // angle and slope at both ends
	for i, q := range t.bar.equations(e) {
		if q >= 0 {
			v[i] = t.free[q]
		}
	}
	angle = v[0]*(1-3*y*y+2*y*y*y) + v[1]*h*(y-2*y*y+y*y*y) + v[2]*(3*y*y-2*y*y*y) + v[3]*h*(y*y*y-y*y)
	slope = (v[0]-v[2])*(-6*y+6*y*y)/h + v[1]*(1-4*y+3*y*y) + v[3]*(3*y*y-2*y)
	return angle, slope
}

// stress is the largest shear stress of free torsion at a place, in MPa.
func (t turned) stress(x float64) float64 {
	if t.bar == nil {
		return 0
	}
	_, slope := t.at(x)
	place := t.bar.nearest(x)
	return abs(place.gj*slope) / place.modulus
}

// off is how far the load's line passes from the shear centre at a place.
func (t turned) off(x float64) r2.Vec {
	if t.bar == nil {
		return r2.Vec{}
	}
	return t.bar.nearest(x).off
}

func (b *torsionBar) nearest(x float64) twisted {
	best := b.places[0]
	for _, t := range b.places {
		if abs(t.s-x) < abs(best.s-x) {
			best = t
		}
	}
	return best
}

// symmetricWithin is the share of a section's size that a mesh of a symmetric
// part may be off: sides drawn with chords, a file's digits.
const symmetricWithin = 1e-3

// twists reports whether a torque acts or some section is not symmetric about
// the lines of the loads.
func (p problem) twists() bool {
	planes := map[int]bool{p.plane: true}
	for _, l := range p.setup.Loads {
		switch l.Kind {
		case Torque:
			return true
		case PointForce, UniformForce, SpreadForce, Couple:
			planes[p.setup.plane(l.Along)] = true
		}
	}
	if p.handbook {
		return false
	}
	var last *cutSection
	for c := range p.profile.cuts() {
		if last != nil && same(last.Section, c.Section) {
			continue
		}
		last = c
		for plane := range planes {
			if !symmetric(c, plane) {
				return true
			}
		}
	}
	return false
}

// symmetric tests the odd moments of area about the line of the load through
// the centroid: the product of area and the two of third order.
func symmetric(c *cutSection, plane int) bool {
	s := c.Section
	polar := s.Ixx + s.Iyy
	if abs(s.Ixy) > symmetricWithin*polar {
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
	limit := symmetricWithin * polar * math.Sqrt(polar/s.Area)
	return abs(cubic) < limit && abs(mixed) < limit
}

// turnedBy is what the angle of twist at a place adds to the displacement of
// the load's line there.
func (p problem) turnedBy(a acted, x float64) float64 {
	angle, _ := a.turned.at(x)
	off := a.turned.off(x)
	return angle * [2]float64{-off.Y, off.X}[p.plane]
}
