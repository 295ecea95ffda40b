package fit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/textwrap"
)

// seat is a flat face of the old part that something may lie on, and where the
// new part has it.
type seat struct {
	face  *flat
	holes []int   // holes of the old part that open in it, by index
	shift float64 // of the new face along the old one's normal, mm
	tilt  float64 // degrees
	left  float64 // share of the looked-at points that the new part has at all

	// Along the direction: what the seat moved against the others of its side, and
	// that side against what holds the part, mm.
	apart, whole float64
}

// tiltSeen is the angle in degrees from which a face is said to be tilted.
const tiltSeen = 0.3

// seats measures the faces around holes, and faces parallel to them that stand
// out furthest or all around.
func (c *comparison) seats() []seat {
	var out []seat
	for k := range c.old.flats {
		f := &c.old.flats[k]
		if f.facet {
			continue
		}
		var points []r3.Vec
		var holes []int
		for _, h := range f.mouths {
			if !c.paired(h) || slices.Contains(holes, h) {
				continue
			}
			holes = append(holes, h)
			_, on := c.old.seatOf(c.old.holes[h], f.Normal)
			points = append(points, on...)
		}
		if len(holes) == 0 {
			if !c.standsOut(f) {
				continue
			}
			points = f.samples
		}
		s := seat{face: f, holes: holes}
		s.shift, s.tilt, s.left = c.new.probe(points, f.Normal)
		out = append(out, s)
	}
	return out
}

// direction is a set of seats that are parallel, whichever side they look to.
type direction struct {
	along r3.Vec
	seats []seat
}

func parallels(seats []seat) []direction {
	var out []direction
	for _, s := range seats {
		k := slices.IndexFunc(out, func(d direction) bool { return math.Abs(r3.Dot(d.along, s.face.Normal)) > halfDegree })
		if k < 0 {
			k = len(out)
			out = append(out, direction{along: s.face.Normal})
		}
		out[k].seats = append(out[k].seats, s)
	}
	return out
}

// side returns 1 for a seat that looks along the direction, else -1.
func (d direction) side(s seat) float64 { return math.Copysign(1, r3.Dot(d.along, s.face.Normal)) }

// usual returns the shift along the direction that the seats of a side have by the
// number of their holes, the least among equals; and whether there are any.
func (d direction) usual(side, within float64) (shift float64, any bool) {
	most := 0
	for _, s := range d.seats {
		if d.side(s) != side || s.left == 0 || len(s.holes) == 0 {
			continue
		}
		votes := 0
		for _, o := range d.seats {
			if d.side(o) == side && o.left > 0 && math.Abs(o.shift-s.shift) <= within {
				votes += len(o.holes)
			}
		}
		if at := side * s.shift; votes > most || votes == most && math.Abs(at) < math.Abs(shift) {
			most, shift = votes, at
		}
	}
	return shift, most > 0
}

// compareSeats says which seats lie on another level. Holes across a direction
// hold the part along it; where none does, one side may move as a whole: that is
// a thickness.
func (c *comparison) compareSeats() {
	seats := c.seats()
	c.looked = len(seats)
	for _, d := range parallels(seats) {
		d.settle(c.opt.Position, c.pinned(d.along))
		for k := range d.seats {
			c.judgeSeat(d, &d.seats[k])
		}
	}
}

// settle finds what of every seat's shift is that of the part as a whole or of its
// side as a whole.
func (d *direction) settle(within float64, pinned bool) {
	up, anyUp := d.usual(1, within)
	down, anyDown := d.usual(-1, within)
	base := 0.0
	switch {
	case pinned:
	case anyUp && anyDown && math.Abs(down) <= math.Abs(up), anyDown && !anyUp:
		base = down
	case anyUp:
		base = up
	}
	for k := range d.seats {
		s := &d.seats[k]
		usual := base
		if d.side(*s) > 0 && anyUp {
			usual = up
		} else if d.side(*s) < 0 && anyDown {
			usual = down
		}
		s.apart, s.whole = d.side(*s)*s.shift-usual, usual-base
	}
}

// judgeSeat tells of a seat that does not lie as the old one did. A seat that
// moved against the others of its side blocks where something may lie flat on it,
// or where the seat at the other end of its holes moved alike: a face between two
// that did not move only changes the thickness there. A side that moved as a whole
// blocks where the part cannot sit on the other side instead.
func (c *comparison) judgeSeat(d direction, s *seat) {
	side, tol := d.side(*s), c.opt.Position
	lone := len(s.holes) == 0
	switch {
	case s.left == 0:
		c.seatGone(*s)
	case s.tilt > tiltSeen:
		c.add(Finding{Kind: "seat", Blocks: true, Where: where(s.face.Centroid), Old: ref(0), New: ref(s.tilt), Unit: "deg"},
			"%s is tilted by %s degrees", c.seatName(*s), number(s.tilt))
	case math.Abs(s.apart) > deliberate:
		if s.face.touches() || d.follows(s, func(o *seat) float64 { return o.apart }) {
			c.seatMoved(*s, s.apart*side, math.Abs(s.apart) > tol)
		}
	case math.Abs(s.whole) > deliberate && !lone:
		if s.face.extreme && !d.sits(-side) || d.follows(s, func(o *seat) float64 { return o.whole }) {
			c.seatMoved(*s, s.whole*side, math.Abs(s.whole) > tol)
		}
	}
	if s.left > 0 && s.left < wholeSeat && lone && s.tilt == 0 {
		c.cutBack(s.face, s.left, "pad", c.seatName(*s), "")
	}
}

// follows reports whether the seat at the other end of one of a seat's holes moved
// the same way.
func (d direction) follows(s *seat, moved func(*seat) float64) bool {
	return slices.ContainsFunc(d.seats, func(o seat) bool {
		if d.side(o) == d.side(*s) || math.Abs(moved(&o)) <= deliberate || moved(&o) > 0 != (moved(s) > 0) {
			return false
		}
		return slices.ContainsFunc(s.holes, func(h int) bool { return slices.Contains(o.holes, h) })
	})
}

// wholeSeat is the share of looked-at points below which a face is said to be cut
// back: two of 24 may lie in a fillet or a new hole.
const wholeSeat = 0.9

// sits reports whether the part can sit on a side: its outermost face there has
// holes.
func (d direction) sits(side float64) bool {
	return slices.ContainsFunc(d.seats, func(s seat) bool { return d.side(s) == side && s.face.extreme && len(s.holes) > 0 })
}

// pinned reports whether a hole pair or a spigot across a direction holds the part
// along it.
func (c *comparison) pinned(d r3.Vec) bool {
	for _, m := range c.matches {
		if m.aside < coincide && math.Abs(r3.Dot(c.old.holes[m.old].Axis, d)) < across {
			return true
		}
	}
	return false
}

func (c *comparison) seatName(s seat) string {
	look := nameOf(s.face.Normal)
	if len(s.holes) == 0 {
		return fmt.Sprintf("the face at %s that looks towards %s", place(s.face.Centroid), look)
	}
	return fmt.Sprintf("the face around %s %s at %s that looks towards %s",
		textwrap.Plural(len(s.holes), "hole"), c.numbers(s.holes), place(s.face.Centroid), look)
}

func (c *comparison) numbers(holes []int) string {
	list := make([]string, len(holes))
	for k, h := range slices.Sorted(slices.Values(holes)) {
		list[k] = strconv.Itoa(c.old.holes[h].Number)
	}
	if len(list) > 1 {
		return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
	}
	return strings.Join(list, "")
}

// seatMoved tells of a seat that lies further out (positive) or in.
func (c *comparison) seatMoved(s seat, by float64, blocks bool) {
	for _, h := range s.holes {
		if c.along[h] == nil {
			c.along[h] = new([2]float64)
		}
		end := 0
		if r3.Dot(s.face.Normal, c.old.holes[h].Axis) < 0 {
			end = 1
		}
		c.along[h][end] = by
	}
	lies, way := "further back", -1.0
	if by > 0 {
		lies, way = "further out", 1
	}
	level, axis := s.face.Offset(), s.face.Normal
	c.add(Finding{Kind: "seat", Blocks: blocks, Where: where(s.face.Centroid), Old: ref(level), New: ref(level + by), Unit: "mm"},
		"%s lies %s mm %s, towards %s: level %s", c.seatName(s), number(math.Abs(by)), lies, nameOf(r3.Scale(way, axis)), levels(axis, level, level+by))
}

// levels writes two levels along a direction as coordinates where it runs against an
// axis.
func levels(d r3.Vec, from, to float64) string {
	if strings.HasPrefix(nameOf(d), "-") {
		d, from, to = r3.Scale(-1, d), -from, -to
	}
	return fmt.Sprintf("%s -> %s mm along %s", number(from), number(to), nameOf(d))
}

func (c *comparison) seatGone(s seat) {
	c.add(Finding{Kind: "seat", Blocks: true, Where: where(s.face.Centroid), Old: ref(s.face.Area), New: ref(0), Unit: "mm2"},
		"%s is gone", c.seatName(s))
}
