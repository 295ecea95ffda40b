package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
)

// compareOpenings says what became of the old part's slots, windows and bores
// with flats. A window may grow; where it lost room, something may not pass any
// more.
func (c *comparison) compareOpenings() {
	theirs := make([]opening, len(c.new.openings))
	for k, o := range c.new.openings {
		theirs[k] = o.moved(c.new)
	}
	taken := make([]bool, len(theirs))
	for _, o := range c.old.openings {
		best, least := -1, math.Inf(1)
		for k, n := range theirs {
			if far, ok := o.apart(n); ok && !taken[k] && far < least {
				best, least = k, far
			}
		}
		if best < 0 {
			c.openingLost(o)
			continue
		}
		taken[best] = true
		c.openingPair(o, theirs[best])
	}
}

// apart returns how much another opening differs in place and size, mm, and
// whether it may be this one: within reach, or around it.
func (o opening) apart(n opening) (far float64, ok bool) {
	if math.Abs(r3.Dot(o.normal, n.normal)) < sameWay {
		return 0, false
	}
	around, near := true, true
	for _, d := range [2]r3.Vec{o.along, o.aside()} {
		low, high, _ := o.extent(d)
		low2, high2, _ := n.extent(d)
		far += math.Abs(low2-low) + math.Abs(high2-high)
		near = near && math.Abs(low2-low) < reach && math.Abs(high2-high) < reach
		around = around && low2 < low+coincide && high2 > high-coincide
	}
	return far, near || around
}

// openingLost tells of an opening without a partner: closed, or open to the
// outside now, in which case nothing stands in its way.
func (c *comparison) openingLost(o opening) {
	f := Finding{Kind: string(o.kind), Where: where(o.at), Old: ref(o.length()), Unit: "mm"}
	if c.stillOpen(o) { // a slot or a flat holds nothing any more
		f.Blocks = o.kind != windowOpening
		what := "is part of a larger opening now"
		if o.kind == flatOpening {
			what = "has lost its flat walls"
		}
		c.add(f, "%s %s", o.name(), what)
		return
	}
	f.Blocks, f.New = true, ref(0)
	c.add(f, "%s is gone", o.name())
}

// stillOpen reports whether the new part has no face across an opening.
func (c *comparison) stillOpen(o opening) bool {
	aside := o.aside()
	low, high, _ := o.extent(o.along)
	low2, high2, _ := o.extent(aside)
	for k := 1; k <= manySamples; k++ {
		q := r2.Vec{X: low + (high-low)*halton(k, 2), Y: low2 + (high2-low2)*halton(k, 3)}
		p := r3.Add(r3.Scale(r3.Dot(o.at, o.normal), o.normal), r3.Add(r3.Scale(q.X, o.along), r3.Scale(q.Y, aside)))
		if !o.holds(p) {
			continue
		}
		if _, _, met := c.new.level(p, o.normal, sameWay, reach); met {
			return false
		}
	}
	return true
}

// holds reports whether a point of the opening's face lies within its edge.
func (o opening) holds(p r3.Vec) bool {
	inside := false
	at := func(c r3.Vec) r2.Vec { return r2.Vec{X: r3.Dot(c, o.along), Y: r3.Dot(c, o.aside())} }
	q := at(p)
	for k, c := range o.edge.corners {
		a, b := at(c), at(o.edge.corners[(k+1)%len(o.edge.corners)])
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(q.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			inside = !inside
		}
	}
	return inside
}

// name says what an opening is, how large, and where.
func (o opening) name() string {
	return fmt.Sprintf("the %s of %s x %s mm at %s", o.kind, number(o.length()), number(o.breadth()), place(o.at))
}

// openingPair compares place, length, width and direction, then every flat wall
// that these do not explain.
func (c *comparison) openingPair(o, n opening) {
	name := o.name()
	type side struct{ low, high, unsure float64 }
	var moved r3.Vec
	change := [2]float64{}
	lost := 0.0 // the largest loss of room on any side
	unsure := 0.0
	for k, d := range [2]r3.Vec{o.along, o.aside()} {
		var a, b side
		a.low, a.high, a.unsure = o.extent(d)
		b.low, b.high, b.unsure = n.extent(d)
		unsure = max(unsure, a.unsure, b.unsure)
		change[k] = (b.high - b.low) - (a.high - a.low)
		moved = r3.Add(moved, r3.Scale((b.low+b.high-a.low-a.high)/2, d))
		lost = max(lost, b.low-a.low, a.high-b.high)
	}
	seen := deliberate + unsure
	guides := o.kind != windowOpening // takes a bolt or a shaft: any change counts
	if far := r3.Norm(moved); far > seen {
		blocks := far > c.opt.Position+unsure && (guides || lost > c.opt.Position)
		c.add(Finding{Kind: string(o.kind), Blocks: blocks, Where: where(o.at), Old: ref(0), New: ref(far), Unit: "mm"},
			"%s moved by %s mm, to %s", name, number(far), place(r3.Add(o.at, moved)))
	}
	told := false
	for k, what := range [2]string{"long", "wide"} {
		if math.Abs(change[k]) <= seen {
			continue
		}
		told = true
		from := [2]float64{o.length(), o.breadth()}[k]
		less := change[k] < -c.opt.Diameter-unsure
		blocks := less || guides && (k == 1 || o.kind == flatOpening) && change[k] > c.opt.Diameter+unsure
		c.add(Finding{Kind: string(o.kind), Blocks: blocks, Where: where(o.at), Old: ref(from), New: ref(from + change[k]), Unit: "mm"},
			"%s was %s mm %s and is %s mm %s now", name, number(from), what, number(from+change[k]), what)
	}
	if turn := c.turned(o, n); turn > tiltSeen {
		c.add(Finding{Kind: string(o.kind), Blocks: turn > blockTurn, Where: where(o.at), Old: ref(0), New: ref(turn), Unit: "deg"},
			"%s is turned by %s degrees", name, number(turn))
		return
	}
	if !told && r3.Norm(moved) <= seen {
		c.walls(o, name)
	}
}

// blockTurn is the turn in degrees from which a slot or window blocks: 0.1 mm over
// 10 mm is 0.6.
const blockTurn = 0.5

// otherWall is the turn in degrees from which a wall is another one, not the same
// turned: half the angle between the sides of a nonagon.
const otherWall = 20.0

// turned returns the least turn between the directions of two openings, degrees;
// 0 where either has no long flat wall.
func (c *comparison) turned(o, n opening) float64 {
	if len(o.walls) == 0 || len(n.walls) == 0 {
		return 0
	}
	least := math.Inf(1)
	for _, w := range o.walls {
		if c.old.flats[w].Area < leastFace {
			continue
		}
		for _, v := range n.walls {
			least = min(least, vector.DegreesBetween(c.old.flats[w].Normal, c.new.looks[v]))
		}
		break
	}
	if math.IsInf(least, 1) || least > otherWall {
		return 0
	}
	return least
}

// walls compares the flat walls of an opening that keeps its extents; two that
// face each other, as those of a keyway, by the distance between them.
func (c *comparison) walls(o opening, name string) {
	shifts := map[int]float64{}
	for _, w := range o.walls {
		f := &c.old.flats[w]
		if f.Area < leastFace {
			continue
		}
		shift, tilt, left := c.new.probe(f.samples, f.Normal)
		at := Finding{Kind: string(o.kind), Blocks: true, Where: where(f.Centroid), Old: ref(0), Unit: "mm"}
		switch {
		case left == 0:
			c.add(at, "%s: its flat wall at %s is gone", name, place(f.Centroid))
		case tilt > tiltSeen:
			at.New, at.Unit = ref(tilt), "deg"
			c.add(at, "%s: its flat wall at %s is tilted by %s degrees", name, place(f.Centroid), number(tilt))
		case math.Abs(shift) > deliberate/2:
			shifts[w] = shift
		}
	}
	for _, w := range o.walls {
		shift, moved := shifts[w]
		if !moved {
			continue
		}
		f := &c.old.flats[w]
		blocks := func(less float64) bool {
			return less > c.opt.Position || o.kind == flatOpening && less < -c.opt.Position
		}
		if v, apart := c.facing(w, o.walls); v >= 0 && shifts[v] != 0 {
			less := shift + shifts[v]
			delete(shifts, v)
			if math.Abs(less) > deliberate {
				c.add(Finding{Kind: string(o.kind), Blocks: blocks(less), Where: where(f.Centroid), Old: ref(apart), New: ref(apart - less), Unit: "mm"},
					"%s: its flat walls at %s were %s mm apart and are %s mm now", name, place(f.Centroid), number(apart), number(apart-less))
			}
			continue
		}
		if math.Abs(shift) > deliberate {
			c.add(Finding{Kind: string(o.kind), Blocks: blocks(shift), Where: where(f.Centroid), Old: ref(0), New: ref(shift), Unit: "mm"},
				"%s: its flat wall at %s moved by %s mm %s", name, place(f.Centroid), number(math.Abs(shift)), inOut(shift))
		}
	}
}

// facing returns the wall that looks at another one, -1 for none, and how far
// apart they are.
func (c *comparison) facing(w int, walls []int) (other int, apart float64) {
	other = -1
	f := &c.old.flats[w]
	for _, v := range walls {
		o := &c.old.flats[v]
		far := r3.Dot(f.Normal, r3.Sub(o.Centroid, f.Centroid))
		if r3.Dot(f.Normal, o.Normal) < -halfDegree && far > 0 && (other < 0 || far < apart) {
			other, apart = v, far
		}
	}
	return other, apart
}

// inOut says which way a wall moved whose normal looks into the opening.
func inOut(shift float64) string {
	if shift > 0 {
		return "inwards"
	}
	return "outwards"
}
