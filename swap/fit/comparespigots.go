package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// compareSpigots says what became of the round parts that stand out of the old
// part. Those that may locate it block when they changed; a boss around a screw
// only bears on less, and how high it is its seat tells.
func (c *comparison) compareSpigots() {
	theirs := make([]spigot, len(c.new.spigots))
	for k, p := range c.new.spigots {
		theirs[k] = p.moved(c.new)
	}
	taken := make([]bool, len(theirs))
	for _, p := range c.old.spigots {
		best, least := -1, math.Inf(1)
		for k, n := range theirs {
			if far, ok := p.apart(n); ok && !taken[k] && far < least {
				best, least = k, far
			}
		}
		if best < 0 {
			c.add(Finding{Kind: "spigot", Blocks: p.locates, Where: where(p.Centre), Old: ref(2 * p.Radius), New: ref(0), Unit: "mm"},
				"%s is gone", p.name())
			continue
		}
		taken[best] = true
		c.spigotPair(p, theirs[best])
	}
}

// apart returns how much another spigot differs, mm, and whether it may be this
// one.
func (p spigot) apart(n spigot) (far float64, ok bool) {
	if r3.Dot(p.out, n.out) < sameWay || math.Abs(n.Radius-p.Radius) > p.Radius/2 {
		return 0, false
	}
	along, radial := axial(p.Round, n.Centre)
	aside := r3.Norm(radial)
	return aside + math.Abs(n.Radius-p.Radius) + alongWeight*math.Abs(along), aside < reach && math.Abs(along) < reach+p.height()
}

func (p spigot) height() float64 { return p.To - p.From }

func (p spigot) name() string {
	kind := "spigot"
	if !p.locates {
		kind = "boss"
	}
	return fmt.Sprintf("the %s of %s mm diameter and %s mm height at %s", kind, number(2*p.Radius), number(p.height()), place(p.Centre))
}

func (c *comparison) spigotPair(p, n spigot) {
	name := p.name()
	f := Finding{Kind: "spigot", Where: where(p.Centre), Unit: "mm"}
	say := func(old, new float64, blocks bool, format string, args ...any) {
		f.Old, f.New, f.Blocks = ref(old), ref(new), blocks && p.locates
		c.add(f, name+" "+format, args...)
	}
	if _, radial := axial(p.Round, n.Centre); r3.Norm(radial) > deliberate {
		say(0, r3.Norm(radial), r3.Norm(radial) > c.opt.Position, "moved by %s mm, to %s", number(r3.Norm(radial)), place(n.Centre))
	}
	before, after := 2*p.Radius, 2*n.Radius
	if grade, lost := fitLost(before, after, false); lost {
		f.Kind = "fit"
		say(before, after, true, "was made for a fit and is %s mm now: %s", precise(after), grade)
		f.Kind = "spigot"
	} else if math.Abs(after-before) > deliberate {
		say(before, after, math.Abs(after-before) > c.opt.Diameter, "was resized to %s mm", number(after))
	}
	if change := n.height() - p.height(); math.Abs(change) > deliberate && p.locates {
		say(p.height(), n.height(), change > c.opt.Position, "is %s mm high now", number(n.height()))
	}
	c.spigotFlats(p, n, name)
}

// spigotFlats compares flats cut into a spigot, as of a D-shaft.
func (c *comparison) spigotFlats(p, n spigot, name string) {
	for _, k := range p.flats {
		o := &c.old.flats[k]
		shift, tilt, left := c.new.probe(o.samples, o.Normal)
		f := Finding{Kind: "spigot", Blocks: p.locates, Where: where(o.Centroid), Old: ref(0), Unit: "mm"}
		switch {
		case left == 0:
			c.add(f, "%s: its flat at %s is gone or turned", name, place(o.Centroid))
		case tilt > tiltSeen:
			f.New, f.Unit = ref(tilt), "deg"
			c.add(f, "%s: its flat at %s is turned by %s degrees", name, place(o.Centroid), number(tilt))
		case math.Abs(shift) > deliberate:
			f.New, f.Blocks = ref(shift), p.locates && math.Abs(shift) > c.opt.Position
			c.add(f, "%s: its flat at %s moved by %s mm", name, place(o.Centroid), number(math.Abs(shift)))
		}
	}
	if len(n.flats) > 0 && len(p.flats) == 0 {
		c.add(Finding{Kind: "spigot", Where: where(n.Centre)}, "%s has a flat now", name)
	}
}
