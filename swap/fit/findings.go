package fit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// findings gathers sentences: those that stop the part from bolting on, and
// those that are only worth knowing.
type findings struct {
	opt             Options
	old, new, moved []feature.Hole
	blocks, notes   []string
}

func (f *findings) lists() (blocking, all []string) {
	return append([]string{}, f.blocks...), append(append([]string{}, f.blocks...), f.notes...)
}

func (f *findings) block(format string, args ...any) {
	f.blocks = append(f.blocks, fmt.Sprintf(format, args...))
}

func (f *findings) note(format string, args ...any) {
	f.notes = append(f.notes, fmt.Sprintf(format, args...))
}

func (f *findings) frame(a Alignment) {
	if a.Mirrored {
		f.block("the new part is the mirror image of the old one: no turn brings them together")
	}
	switch {
	case a.Guess():
		f.block("%s; save both files in one frame and add --same-frame", a.Doubt)
	case a.Doubt != "":
		f.note("%s", a.Doubt)
	}
	if a.Method != Given {
		f.note("the files do not share a frame: the new part was %s", a)
	}
	if len(f.old) == 0 && len(f.new) == 0 {
		f.note("neither part has a round hole: only the envelope was compared")
	}
}

// units asks about the unit where one part is many times the size of the other.
func (f *findings) units(e Envelope) {
	const many = 8.0 // less than the ten of cm for mm
	old, new := longest(e.Old), longest(e.New)
	if times := max(old, new) / min(old, new); times > many {
		than := "larger"
		if new < old {
			than = "smaller"
		}
		f.block("the new part is %s times %s than the old one: is one file in another unit? --unit holds for both", number(times), than)
	}
}

func longest(size [3]float64) float64 { return slices.Max(size[:]) }

// holes judges every old hole and every new one that has no forerunner.
func (f *findings) holes(matches []match) {
	for _, m := range matches {
		f.pair(m)
	}
	for _, k := range left(len(f.old), matches, func(m match) int { return m.old }) {
		f.block("hole %d of the old part (%s) is missing", k+1, describe(f.old[k]))
	}
	f.added(left(len(f.new), matches, func(m match) int { return m.new }))
}

// added reports new holes, those of one size together.
func (f *findings) added(holes []int) {
	told := map[int]bool{}
	for i, k := range holes {
		if told[k] {
			continue
		}
		alike := []string{strconv.Itoa(k + 1)}
		for _, o := range holes[i+1:] {
			if size(f.new[o]) == size(f.new[k]) {
				alike = append(alike, strconv.Itoa(o+1))
				told[o] = true
			}
		}
		if len(alike) == 1 {
			f.note("hole %d of the new part is new (%s)", k+1, describe(f.new[k]))
			continue
		}
		f.note("holes %s of the new part are new (%s)", strings.Join(alike, ", "), withThreads(size(f.new[k]), f.new[k]))
	}
}

// deliberate is the change that no rounding makes, mm.
const deliberate = 0.02

func (f *findings) pair(m match) {
	o, n := f.old[m.old], f.moved[m.new]
	name := label(o.Number, n.Number)
	say := func(much bool) func(string, ...any) {
		if much {
			return f.block
		}
		return f.note
	}
	if m.aside > deliberate {
		say(m.aside > f.opt.Position)("%s moved by %s mm, from %s to %s", name, number(m.aside), place(o.Centre), place(n.Centre))
	}
	if change := n.Diameter - o.Diameter; math.Abs(change) > deliberate {
		say(math.Abs(change) > f.opt.Diameter)("%s was resized from %s to %s mm: %s",
			name, number(o.Diameter), number(n.Diameter), suitsText(n.Diameter))
	}
	if tilt := math.Acos(min(1, math.Abs(r3.Dot(o.Axis, n.Axis)))) * 180 / math.Pi; tilt > 0.1 {
		f.block("%s is tilted by %s degrees", name, number(tilt))
	}
	switch {
	case o.Open != n.Open:
		f.block("%s was %s and is %s now", name, ends(o), ends(n))
	case o.Kind != n.Kind:
		f.note("%s was a %s hole and is %s now", name, o.Kind, describe(n))
	case sided(o) && r3.Dot(o.Axis, n.Axis) < 0:
		f.block("%s opens on the other side", name)
	case o.Kind != feature.Through && math.Abs(o.HeadDiameter-n.HeadDiameter) > f.opt.Diameter:
		f.note("%s: its head was %s mm wide and is %s mm now", name, number(o.HeadDiameter), number(n.HeadDiameter))
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
func (f *findings) thickness(matches []match) {
	type change struct{ from, to float64 }
	var order []change
	holes := map[change][]string{}
	for _, m := range matches {
		o, n := f.old[m.old], f.moved[m.new]
		from, to := grip(o), grip(n)
		if math.Abs(to-from) <= deliberate || o.Open != n.Open { // the latter is told with its ends
			continue
		}
		if !o.Open {
			f.note("%s was %s mm deep and is %s mm now", label(o.Number, n.Number), number(o.Depth), number(n.Depth))
			continue
		}
		c := change{round2(from), round2(to)}
		if _, is := holes[c]; !is {
			order = append(order, c)
		}
		holes[c] = append(holes[c], strconv.Itoa(o.Number))
	}
	for _, c := range order {
		bolts := fmt.Sprintf("bolts must be %s mm longer, or engage less", number(c.to-c.from))
		if c.to < c.from {
			bolts = fmt.Sprintf("bolts stand out %s mm further, so check their length and what is behind", number(c.from-c.to))
		}
		f.note("clamped thickness %s -> %s mm at %s %s: %s",
			number(c.from), number(c.to), plural(len(holes[c]), "hole"), strings.Join(holes[c], ", "), bolts)
	}
}

func (f *findings) envelope(e Envelope) {
	for _, g := range e.Grew {
		f.note("the envelope grew: the new part reaches %s mm further towards %s", number(g.Amount), g.Side)
	}
	told := 0.0
	for _, g := range e.Grew {
		told = max(told, g.Amount)
	}
	const facets = 0.1 // mm, what chords of rounded outlines may differ by
	if e.Outline.Beyond > told+facets {
		at := e.Outline.At
		f.note("the outline grew: the new part stands out %s mm beyond the old one at %s",
			number(e.Outline.Beyond), place(r3.Vec{X: at[0], Y: at[1], Z: at[2]}))
	}
}

func label(old, new int) string {
	if old == new {
		return fmt.Sprintf("hole %d", old)
	}
	return fmt.Sprintf("hole %d (%d of the new part)", old, new)
}

// size says what a hole is.
func size(h feature.Hole) string {
	text := fmt.Sprintf("%s mm %s", number(h.Diameter), h.Kind)
	if !h.Open {
		text += fmt.Sprintf(", %s mm deep", number(h.Depth))
	}
	return text
}

// describe says what a hole is and where, with what it suits.
func describe(h feature.Hole) string {
	return withThreads(size(h)+" at "+place(h.Centre), h)
}

func withThreads(text string, h feature.Hole) string {
	if s := Suits(h.Diameter); len(s) > 0 {
		text += ", " + strings.Join(s, " or ")
	}
	return text
}

func suitsText(diameter float64) string {
	if s := Suits(diameter); len(s) > 0 {
		return "it suits " + strings.Join(s, " or ")
	}
	return "it suits no coarse metric size"
}

func plural(n int, noun string) string {
	if n == 1 {
		return noun
	}
	return noun + "s"
}

func place(p r3.Vec) string {
	return fmt.Sprintf("(%s, %s, %s)", number(p.X), number(p.Y), number(p.Z))
}

func round2(x float64) float64 { return math.Round(x*100) / 100 }

// number writes a length to a hundredth without trailing zeros.
func number(x float64) string {
	x = round2(x)
	if x == 0 {
		x = 0 // no minus sign
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}
