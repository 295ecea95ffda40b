package fit

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/feature"
)

// compareNotches says what became of slots that are open to the side.
func (c *comparison) compareNotches() {
	theirs := c.new.rounds
	taken := make([]bool, len(theirs))
	for _, o := range c.old.notches {
		best, least := -1, math.Inf(1)
		for k, n := range theirs {
			if !n.Concave || n.ArcDeg < halfRound || taken[k] || math.Abs(r3.Dot(n.Axis, o.Axis)) < sameWay {
				continue
			}
			along, radial := axial(o.Round, n.Centre)
			far := r3.Norm(radial) + math.Abs(n.Radius-o.Radius)
			if far < reach && math.Abs(along) < (o.To-o.From+n.To-n.From)/2 && far < least {
				best, least = k, far
			}
		}
		if best < 0 {
			c.add(Finding{Kind: "slot", Blocks: true, Where: where(o.Centre), Old: ref(2 * o.Radius), New: ref(0), Unit: "mm"}, "%s is gone", o.name())
			continue
		}
		taken[best] = true
		c.notchPair(o, theirs[best])
	}
}

func (o notch) name() string {
	return fmt.Sprintf("the open slot %s mm wide that ends at %s", number(2*o.Radius), place(r3.Add(o.Centre, r3.Scale(o.Radius, o.deep))))
}

// notchPair compares the width, the place across and the end of an open slot. A
// deeper one takes the same bolt.
func (c *comparison) notchPair(o notch, n feature.Round) {
	name := o.name()
	f := Finding{Kind: "slot", Where: where(o.Centre), Unit: "mm"}
	_, moved := axial(o.Round, n.Centre)
	deeper := r3.Dot(moved, o.deep)
	aside := r3.Norm(r3.Sub(moved, r3.Scale(deeper, o.deep)))
	if aside > deliberate {
		f.Blocks, f.Old, f.New = aside > c.opt.Position, ref(0), ref(aside)
		c.add(f, "%s moved sideways by %s mm", name, number(aside))
	}
	if change := 2 * (n.Radius - o.Radius); math.Abs(change) > deliberate {
		f.Blocks, f.Old, f.New = math.Abs(change) > c.opt.Diameter, ref(2*o.Radius), ref(2*n.Radius)
		c.add(f, "%s is %s mm wide now", name, number(2*n.Radius))
	}
	if deeper += n.Radius - o.Radius; math.Abs(deeper) > deliberate {
		f.Blocks, f.Old, f.New = deeper < -c.opt.Position, ref(0), ref(deeper)
		what := "deeper"
		if deeper < 0 {
			what = "less deep"
		}
		c.add(f, "%s is %s mm %s now", name, number(math.Abs(deeper)), what)
	}
}
