package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// counted names what of the old part was compared besides holes.
func (c *comparison) counted() []string {
	out := []string{}
	say := func(n int, one, many string) {
		if n == 1 {
			many = one
		}
		if n > 0 {
			out = append(out, fmt.Sprintf("%d %s", n, many))
		}
	}
	kinds := map[openingKind]int{}
	for _, o := range c.old.openings {
		kinds[o.kind]++
	}
	say(c.looked, "face around holes or parallel to one", "faces around holes or parallel to them")
	say(kinds[slotOpening]+len(c.old.notches), "slot", "slots")
	say(kinds[windowOpening], "window", "windows")
	say(kinds[flatOpening], "bore with flats", "bores with flats")
	say(len(c.old.spigots), "spigot or boss", "spigots and bosses")
	say(c.sides, "outer side or step", "outer sides and steps")
	return out
}

// notCompared names what of a part has no forerunner among what is compared.
func notCompared(s *shape) []string {
	out := []string{}
	say := func(n int, one, many string) {
		switch {
		case n == 1:
			out = append(out, one)
		case n > 1:
			out = append(out, fmt.Sprintf("%d %s", n, many))
		}
	}
	pockets, curved := 0, 0
	for k := range s.flats {
		f := &s.flats[k]
		if f.facet {
			curved++
			continue
		}
		for n, l := range f.loops {
			if n == 0 || l.falls < mostly || s.isHole(l) {
				continue
			}
			if _, through := s.through(l, f.Normal); !through {
				pockets++
			}
		}
	}
	fillets := 0
	for _, r := range s.Features.Rounds {
		if r.ArcDeg < spigotArc && !s.onOpening(r.Centre, r.Axis) {
			fillets++
		}
	}
	say(pockets, "a pocket with a floor", "pockets with a floor")
	say(fillets, "a rounded edge or corner", "rounded edges and corners")
	if curved > 0 {
		out = append(out, "surfaces that curve both ways")
	}
	return out
}

// onOpening reports whether a round wall belongs to an opening that is compared.
func (s *shape) onOpening(centre, axis r3.Vec) bool {
	for _, o := range s.openings {
		for _, r := range o.rounds {
			if w := s.Features.Rounds[r]; r3.Norm(r3.Sub(w.Centre, centre)) < coincide && math.Abs(r3.Dot(w.Axis, axis)) > halfDegree {
				return true
			}
		}
	}
	return false
}
