package feature

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
)

const (
	// FullArc is the arc from which an inward round is a hole, degrees: an opening
	// narrower than the radius still holds a bolt.
	FullArc   = 300.0
	sinkRatio = 1.4  // a cone at least so much wider than its bore is a countersink
	stepRatio = 1.02 // radii closer than this are one diameter

	// oneLine is the angle in degrees between axes of one hole: a tilt of 0.5 degrees
	// is 0.04 mm on a step of 5 mm, well above what fits of short walls leave.
	oneLine = 0.5
	// stepGap and stepShare are how far apart, in mm and as a share of the radius, the
	// ends and axes of two steps of one hole may lie: a fillet of that size may part
	// them.
	stepGap, stepShare = 0.02, 0.01
	// equalPart is how near the largest component of a direction another counts as
	// equal: the first then decides, not the rounding.
	equalPart = 0.99
)

// bore is a full inward round with what stands at its two ends. Index 0 is the
// end at Round.From, 1 the end at Round.To.
type bore struct {
	Round
	closed [2]bool
	cone   [2]cone
}

// holes groups full inward rounds on one axis into holes and names them.
func (s *surface) holes(rounds []Round) []Hole {
	var bores []bore
	for _, r := range rounds {
		if !r.Concave || r.ArcDeg < FullArc {
			continue
		}
		b := bore{Round: r}
		var hollow bool
		if b.closed, hollow = s.closures(r); !hollow {
			continue
		}
		b.cone[0], b.cone[1] = s.coneAt(r, -1), s.coneAt(r, 1)
		bores = append(bores, b)
	}
	var out []Hole
	for _, stack := range stacks(bores) {
		if h, ok := s.hole(stack); ok {
			out = append(out, h)
		}
	}
	var centres []r3.Vec
	for _, h := range out {
		centres = append(centres, h.Centre)
	}
	out = inOrder(out, byPlace(centres, oneCoordinate))
	for i := range out {
		out[i].Number = i + 1
	}
	return out
}

// closures finds which ends of a bore have a floor: a face reached from the
// wall without leaving the bore's circle that the axis passes through. A bore
// whose axis runs through material (a ring groove) is not hollow.
func (s *surface) closures(r Round) (closed [2]bool, hollow bool) {
	c := r.cylinder()
	u, v := across(c.axis)
	within := c.radius + s.tolerance(c.radius) // corners where a floor meets the wall belong to both
	seen := make(map[int32]bool, 2*len(r.Faces))
	for _, f := range r.Faces {
		seen[f] = true
	}
	queue := slices.Clone(r.Faces)
	hollow = true
	for len(queue) > 0 {
		f := queue[0]
		queue = queue[1:]
		for _, g := range s.neighbour[f] {
			if g < 0 || seen[g] {
				continue
			}
			seen[g] = true
			if !s.insideCircle(c, g, within) {
				continue
			}
			queue = append(queue, g)
			along, hit := s.pierced(c, g, u, v)
			if !hit {
				continue
			}
			end := 0
			if along > 0 {
				end = 1
			}
			// a floor faces the bore; a face that looks away tops a core
			if (r3.Dot(s.normal[g], c.axis) > 0) == (end == 0) {
				closed[end] = true
			} else {
				hollow = false
			}
		}
	}
	return closed, hollow
}

func (s *surface) insideCircle(c cylinder, f int32, radius float64) bool {
	a, b, d := s.Triangle(int(f))
	for _, p := range [3]r3.Vec{a, b, d} {
		if _, radial := c.at(p); vector.Length(radial) > radius {
			return false
		}
	}
	return true
}

// pierced returns where along the axis a face is met by it. Neighbours judge their
// edge by the same products, so the axis slips between no two.
func (s *surface) pierced(c cylinder, f int32, u, v r3.Vec) (along float64, hit bool) {
	a, b, d := s.Triangle(int(f))
	var x, y, z [3]float64
	for k, p := range [3]r3.Vec{a, b, d} {
		t, radial := c.at(p)
		x[k], y[k], z[k] = r3.Dot(radial, u), r3.Dot(radial, v), t
	}
	twice := (x[1]-x[0])*(y[2]-y[0]) - (x[2]-x[0])*(y[1]-y[0])
	if twice == 0 { // the axis runs along it
		return 0, false
	}
	for k := range 3 {
		i, j := (k+1)%3, (k+2)%3
		part := x[i]*y[j] - x[j]*y[i]
		if math.Copysign(1, twice)*part < 0 {
			return 0, false
		}
		along += part / twice * z[k]
	}
	return along, true
}

// stacks groups bores that share an axis and follow one another without a gap.
func stacks(bores []bore) [][]bore {
	group := make([]int, len(bores))
	for i := range group {
		group[i] = i
	}
	for i := range bores {
		for j := range i {
			if group[i] != group[j] && follows(bores[i], bores[j]) {
				from, to := group[i], group[j]
				for k := range group {
					if group[k] == from {
						group[k] = to
					}
				}
			}
		}
	}
	var out [][]bore
	for g := range bores {
		var stack []bore
		for k, b := range bores {
			if group[k] == g {
				stack = append(stack, b)
			}
		}
		if len(stack) > 0 {
			out = append(out, stack)
		}
	}
	return out
}

func follows(a, b bore) bool {
	if math.Abs(r3.Dot(a.Axis, b.Axis)) < math.Cos(oneLine*math.Pi/180) {
		return false
	}
	along, radial := a.cylinder().at(b.Centre)
	slack := max(stepGap, stepShare*min(a.Radius, b.Radius))
	if vector.Length(radial) > slack {
		return false
	}
	lowB, highB := b.span(a.Round)
	gap := max(lowB-a.To-a.cone[1].length, a.From-a.cone[0].length-highB)
	return gap <= slack && !(along == 0 && a.Radius == b.Radius)
}

// span returns where the bore with its cones begins and ends along another
// round's axis, from that round's centre.
func (b bore) span(on Round) (low, high float64) {
	along, _ := on.cylinder().at(b.Centre)
	down, up := b.From-b.cone[0].length, b.To+b.cone[1].length
	if r3.Dot(b.Axis, on.Axis) < 0 {
		down, up = -up, -down
	}
	return along + down, along + up
}

// end is one end of a stack of bores.
type end struct {
	at, radius float64 // of the last bore
	wall       float64 // length of the last bore's wall
	cone       cone
	closed     bool
}

// hole measures one stack; a cavity closed at both ends is none.
func (s *surface) hole(stack []bore) (Hole, bool) {
	narrow := stack[0]
	for _, b := range stack[1:] {
		if b.Radius < narrow.Radius-2*s.tolerance(b.Radius) ||
			math.Abs(b.Radius-narrow.Radius) <= 2*s.tolerance(b.Radius) && len(b.Faces) > len(narrow.Faces) {
			narrow = b
		}
	}
	ends := [2]end{{at: math.Inf(1)}, {at: math.Inf(-1)}}
	for _, b := range stack {
		low, high := b.span(narrow.Round)
		k := 0 // which of the bore's own ends stands at the stack's low end
		if r3.Dot(b.Axis, narrow.Axis) < 0 {
			k = 1
		}
		if low < ends[0].at {
			ends[0] = end{low, b.Radius, b.To - b.From, b.cone[k], ends[0].closed}
		}
		if high > ends[1].at {
			ends[1] = end{high, b.Radius, b.To - b.From, b.cone[1-k], ends[1].closed}
		}
		ends[0].closed = ends[0].closed || b.closed[k]
		ends[1].closed = ends[1].closed || b.closed[1-k]
	}
	if ends[0].closed && ends[1].closed {
		return Hole{}, false
	}
	h := Hole{
		Axis: narrow.Axis, Diameter: 2 * narrow.Radius,
		Depth: ends[1].at - ends[0].at, Faces: narrow.Faces,
		Open:   !ends[0].closed && !ends[1].closed,
		Centre: r3.Add(narrow.Centre, r3.Scale((ends[0].at+ends[1].at)/2, narrow.Axis)),
	}
	h.name(ends, narrow.Radius)
	return h, true
}

// name settles the kind, the head, the chamfer and which way the axis points.
func (h *Hole) name(ends [2]end, radius float64) {
	up := ends[0].closed
	if h.Open {
		up = positive(h.Axis)
	}
	h.Kind = Through
	if !h.Open {
		h.Kind = Blind
	}
	for k, e := range ends {
		if e.closed {
			continue
		}
		var head Hole
		switch {
		case e.radius > radius*stepRatio:
			head = Hole{Kind: Counterbore, HeadDiameter: 2 * e.radius, HeadDepth: e.wall + e.cone.length}
		case e.cone.radius >= sinkRatio*radius:
			head = Hole{Kind: Countersink, HeadDiameter: 2 * e.cone.radius, HeadDepth: e.cone.length,
				HeadAngle: 2 * vector.Degrees(math.Atan2(e.cone.radius-e.radius, e.cone.length))}
		}
		if head.Kind != Countersink && e.cone.radius > 0 {
			h.Chamfer = max(h.Chamfer, e.cone.radius-e.radius)
		}
		if head.HeadDiameter > h.HeadDiameter {
			h.Kind, h.HeadDiameter, h.HeadDepth, h.HeadAngle = head.Kind, head.HeadDiameter, head.HeadDepth, head.HeadAngle
			up = k == 1
		}
	}
	if !up {
		h.Axis = r3.Scale(-1, h.Axis)
	}
}

// positive reports whether the largest component of v is positive; components
// within equalPart of it count as equal and the first decides.
func positive(v r3.Vec) bool {
	c := [3]float64{v.X, v.Y, v.Z}
	top := max(math.Abs(c[0]), math.Abs(c[1]), math.Abs(c[2]))
	for _, x := range c {
		if math.Abs(x) > equalPart*top {
			return x > 0
		}
	}
	return true
}
