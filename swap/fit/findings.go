package fit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"swapworth/internal/textwrap"
	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// compareHoles judges every old hole and every new one that has no forerunner.
func (c *comparison) compareHoles() {
	for _, m := range c.matches {
		c.pair(m)
	}
	for _, k := range left(len(c.old.holes), c.matches, func(m match) int { return m.old }) {
		h := c.old.holes[k]
		c.add(Finding{Kind: "hole", Blocks: true, Where: where(h.Centre), Old: ref(h.Diameter), Unit: "mm"},
			"hole %d of the old part (%s) is missing", h.Number, describe(h))
	}
	c.added(left(len(c.new.holes), c.matches, func(m match) int { return m.new }))
	c.thickness()
}

// added reports new holes, those of one size together.
func (c *comparison) added(holes []int) {
	told := map[int]bool{}
	for i, k := range holes {
		if told[k] {
			continue
		}
		h := c.new.holes[k]
		alike := []string{strconv.Itoa(h.Number)}
		for _, o := range holes[i+1:] {
			if size(c.new.holes[o]) == size(h) {
				alike = append(alike, strconv.Itoa(c.new.holes[o].Number))
				told[o] = true
			}
		}
		f := Finding{Kind: "hole", Where: where(h.Centre), New: ref(h.Diameter), Unit: "mm"}
		if len(alike) == 1 {
			c.add(f, "hole %d of the new part is new (%s)", h.Number, describe(h))
			continue
		}
		c.add(f, "holes %s of the new part are new (%s)", strings.Join(alike, ", "), withThreads(size(h), h))
	}
}

const (
	// deliberate is the change that no rounding makes, mm: drawings are dimensioned
	// in hundredths, and the fitted measures are good to 0.005 mm.
	deliberate = 0.02
	// axisTilt is the tilt of a hole in degrees that a screw feels: 0.1 mm over 57.
	axisTilt = 0.1
	// coneTilt is the change of a countersink's angle in degrees that is told: the
	// nearest two of ISO 7721 and the inch series, 90 and 82, differ by 8.
	coneTilt = 0.5
)

func (c *comparison) pair(m match) {
	o, n := c.old.holes[m.old], c.new.holes[m.new]
	name := label(o.Number, n.Number)
	at := where(o.Centre)
	if m.aside > deliberate {
		c.add(Finding{Kind: "hole", Blocks: m.aside > c.opt.Position, Where: at, Old: ref(0), New: ref(m.aside), Unit: "mm"},
			"%s moved by %s mm, from %s to %s", name, number(m.aside), place(o.Centre), place(n.Centre))
	}
	c.bore(name, o, n)
	if tilt := math.Acos(min(1, math.Abs(r3.Dot(o.Axis, n.Axis)))) * 180 / math.Pi; tilt > axisTilt {
		c.add(Finding{Kind: "hole", Blocks: true, Where: at, Old: ref(0), New: ref(tilt), Unit: "deg"}, "%s is tilted by %s degrees", name, number(tilt))
	}
	switch {
	case o.Open != n.Open:
		c.add(Finding{Kind: "hole", Blocks: true, Where: at}, "%s was %s and is %s now", name, ends(o), ends(n))
	case sided(o) && sided(n) && r3.Dot(o.Axis, n.Axis) < 0:
		c.add(Finding{Kind: "hole", Blocks: true, Where: at, side: true}, "%s opens on the other side: its %s is towards %s now",
			name, mouthName(n), nameOf(n.Axis))
	case o.Kind != n.Kind:
		c.add(Finding{Kind: "head", Where: at}, "%s was a %s hole and is %s now", name, o.Kind, describe(n))
	case o.HeadDiameter > 0:
		c.head(name, o, n)
	}
}

func mouthName(h feature.Hole) string {
	if h.Kind == feature.Blind {
		return "mouth"
	}
	return string(h.Kind)
}

// bore compares the diameters of a pair.
func (c *comparison) bore(name string, o, n feature.Hole) {
	change := n.Diameter - o.Diameter
	f := Finding{Kind: "hole", Where: where(o.Centre), Old: ref(o.Diameter), New: ref(n.Diameter), Unit: "mm"}
	if grade, lost := fitLost(o.Diameter, n.Diameter, true); lost {
		f.Kind, f.Blocks = "fit", true
		c.add(f, "%s: its fit is lost, from %s to %s mm: %s", name, precise(o.Diameter), precise(n.Diameter), grade)
		return
	}
	if math.Abs(change) > deliberate {
		f.Blocks = math.Abs(change) > c.opt.Diameter
		c.add(f, "%s was resized from %s to %s mm: %s", name, number(o.Diameter), number(n.Diameter), suitsText(n.Diameter))
	}
}

// head compares counterbores with counterbores and countersinks with countersinks.
// What keeps a screw's head from lying as it did blocks: a narrower counterbore, a
// countersink of another angle or one that leaves the head proud.
func (c *comparison) head(name string, o, n feature.Hole) {
	at := where(o.Centre)
	if turn := n.HeadAngle - o.HeadAngle; math.Abs(turn) > coneTilt {
		c.add(Finding{Kind: "head", Blocks: true, Where: at, Old: ref(o.HeadAngle), New: ref(n.HeadAngle), Unit: "deg"},
			"%s: its countersink was %s degrees and is %s now: the head of the screw does not lie in it", name, number(o.HeadAngle), number(n.HeadAngle))
	}
	wide, deep := n.HeadDiameter-o.HeadDiameter, n.HeadDepth-o.HeadDepth
	sunk := o.Kind == feature.Countersink
	if math.Abs(wide) > deliberate {
		c.add(Finding{Kind: "head", Blocks: wide < -c.opt.Diameter, Where: at, Old: ref(o.HeadDiameter), New: ref(n.HeadDiameter), Unit: "mm"},
			"%s: its %s was %s mm wide and is %s mm now", name, o.Kind, number(o.HeadDiameter), number(n.HeadDiameter))
	}
	if math.Abs(deep) > deliberate {
		c.add(Finding{Kind: "head", Blocks: sunk && deep < -c.opt.Position, Where: at, Old: ref(o.HeadDepth), New: ref(n.HeadDepth), Unit: "mm"},
			"%s: its %s was %s mm deep and is %s mm now", name, o.Kind, number(o.HeadDepth), number(n.HeadDepth))
	}
}

func ends(h feature.Hole) string {
	if h.Open {
		return "open at both ends"
	}
	return "blind"
}

// grip returns how much material a bolt through the hole clamps: the head sits
// on the floor of a counterbore, and in the cone of a countersink it is flush.
func grip(h feature.Hole) float64 {
	if h.Kind == feature.Counterbore {
		return h.Depth - h.HeadDepth
	}
	return h.Depth
}

// thickness reports changed grip, holes of one change together.
func (c *comparison) thickness() {
	type change struct{ from, to float64 }
	var order []change
	holes := map[change][]string{}
	for _, m := range c.matches {
		o, n := c.old.holes[m.old], c.new.holes[m.new]
		from, to := grip(o), grip(n)
		if math.Abs(to-from) <= deliberate || o.Open != n.Open { // the latter is told with its ends
			continue
		}
		if !o.Open {
			c.add(Finding{Kind: "hole", Where: where(o.Centre), Old: ref(o.Depth), New: ref(n.Depth), Unit: "mm"},
				"%s was %s mm deep and is %s mm now", label(o.Number, n.Number), number(o.Depth), number(n.Depth))
			continue
		}
		t := change{round2(from), round2(to)}
		if _, is := holes[t]; !is {
			order = append(order, t)
		}
		holes[t] = append(holes[t], strconv.Itoa(o.Number))
	}
	for _, t := range order {
		bolts := fmt.Sprintf("bolts must be %s mm longer, or engage less", number(t.to-t.from))
		if t.to < t.from {
			bolts = fmt.Sprintf("bolts stand out %s mm further, so check their length and what is behind", number(t.from-t.to))
		}
		c.add(Finding{Kind: "thickness", Old: ref(t.from), New: ref(t.to), Unit: "mm"},
			"clamped thickness %s -> %s mm at %s %s: %s",
			number(t.from), number(t.to), textwrap.Plural(len(holes[t]), "hole"), strings.Join(holes[t], ", "), bolts)
	}
}

func (c *comparison) compareEnvelope(e Envelope) {
	for _, g := range e.Grew {
		c.add(Finding{Kind: "envelope", Old: ref(0), New: ref(g.Amount), Unit: "mm"},
			"the envelope grew: the new part reaches %s mm further towards %s", number(g.Amount), g.Side)
	}
	told := 0.0
	for _, g := range e.Grew {
		told = max(told, g.Amount)
	}
	const facets = 0.1 // mm, what chords of rounded outlines may differ by
	if e.Outline.Beyond > told+facets {
		at := e.Outline.At
		c.add(Finding{Kind: "envelope", Where: &at, Old: ref(0), New: ref(e.Outline.Beyond), Unit: "mm"},
			"the outline grew: the new part stands out %s mm beyond the old one at %s",
			number(e.Outline.Beyond), place(r3.Vec{X: at[0], Y: at[1], Z: at[2]}))
	}
}

// frameFindings says how the parts were brought together and what is doubtful
// about it.
func frameFindings(a alignment, old, new *shape) []Finding {
	var out []Finding
	say := func(blocks bool, format string, args ...any) {
		out = append(out, Finding{Kind: "frame", Blocks: blocks, Text: fmt.Sprintf(format, args...)})
	}
	switch {
	case a.guess():
		say(true, "%s; save both files in one frame and add --same-frame", a.Doubt)
	case a.Doubt != "":
		say(false, "%s", a.Doubt)
	}
	if a.Method != Given {
		say(false, "the files do not share a frame: the new part was %s, %s", a, motionText(a.Motion))
	}
	if a.Alike > 1 {
		say(false, "the new part fits equally well in %d positions; this is the one of the least turn", a.Alike)
	}
	if len(old.holes) == 0 && len(new.holes) == 0 {
		say(false, "neither part has a round hole: faces, openings and the envelope were compared")
	}
	return out
}

// unitFinding asks about the unit where one part is many times the size of the
// other; then nothing else about it is worth a word.
func unitFinding(old, new *shape) *Finding {
	a, b := old.sides(), new.sides()
	before, after := a.axes.Box(old.Mesh).Size(), b.axes.Box(new.Mesh).Size()
	x, y := []float64{before.X, before.Y, before.Z}, []float64{after.X, after.Y, after.Z}
	slices.Sort(x)
	slices.Sort(y)
	if !(x[2] > 0 && y[2] > 0) {
		return nil
	}
	times, than := y[2]/x[2], "larger"
	if times < 1 {
		times, than = 1/times, "smaller"
	}
	unit := ""
	for _, u := range unitRatios {
		all := true
		for k := range x {
			ratio := y[k] / max(x[k], 1e-12)
			if than == "smaller" {
				ratio = x[k] / max(y[k], 1e-12)
			}
			all = all && math.Abs(ratio/u.times-1) < sameRatio
		}
		if all {
			unit = ", as " + u.what + " would be"
		}
	}
	if unit == "" && times < manyTimes {
		return nil
	}
	return &Finding{Kind: "unit", Blocks: true, Old: ref(x[2]), New: ref(y[2]), Unit: "mm",
		Text: fmt.Sprintf("the new part is %s times %s than the old one%s: state it with --old-unit or --new-unit; nothing else was compared",
			number(times), than, unit)}
}

// unitRatios are the ratios of the units that files come in.
var unitRatios = []struct {
	times float64
	what  string
}{
	{25.4, "inch read as mm"}, {10, "cm read as mm"}, {1000, "m read as mm"}, {2.54, "inch read as cm"}, {100, "m read as cm"}, {39.37, "m read as inch"},
}

const (
	// sameRatio is how near to a ratio of units all three sides must come: a
	// thickness changed from 5 to 6 mm does not hide one behind manyTimes, and a
	// redesign 2.54 times as long, wide and thick within 2 % is none.
	sameRatio = 0.02
	// manyTimes is the ratio of the longest sides from which it is another unit
	// whatever the other sides: less than the ten of cm for mm.
	manyTimes = 8.0
)
