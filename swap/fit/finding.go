package fit

import (
	"fmt"

	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// Finding is one difference between the parts. Old and New are what was measured
// of it on either part, in Unit; null where there is nothing to measure.
type Finding struct {
	Kind     string      `json:"kind"` // hole, fit, head, seat, pad, edge, slot, window, bore with flats, spigot, thickness, envelope, frame, mirror, unit, numbering
	Text     string      `json:"text"` // as in Result.Findings
	Where    *[3]float64 `json:"where_mm"`
	Old      *float64    `json:"old"`
	New      *float64    `json:"new"`
	Unit     string      `json:"unit"` // mm, deg, mm2 or %
	Blocks   bool        `json:"blocks"`
	Accepted bool        `json:"accepted"` // would block, but the person said that it is meant

	// side marks a hole that changed side and nothing else: no reason to call the
	// part a mirror image.
	side bool
}

func where(p r3.Vec) *[3]float64 { a := array(p); return &a }

func ref(x float64) *float64 { return &x }

// comparison gathers what differs between the old part and the new one as laid
// on it.
type comparison struct {
	opt     Options
	old     *shape
	new     *laid
	matches []match
	along   map[int]*[2]float64 // by old hole, how far its two seats lie further out, mm
	found   []Finding
	told    map[string]bool
	looked  int // seats compared
	sides   int // outer sides compared
}

// add notes a finding once.
func (c *comparison) add(f Finding, format string, args ...any) {
	f.Text = fmt.Sprintf(format, args...)
	if !c.told[f.Text] {
		c.told[f.Text] = true
		c.found = append(c.found, f)
	}
}

// blocking lists the findings that stop the part from bolting on.
func (c *comparison) blocking() []Finding {
	var out []Finding
	for _, f := range c.found {
		if f.Blocks {
			out = append(out, f)
		}
	}
	return out
}

// paired reports whether a hole of the old part has a partner.
func (c *comparison) paired(old int) bool {
	_, ok := c.partner(old)
	return ok
}

func (c *comparison) partner(old int) (feature.Hole, bool) {
	for _, m := range c.matches {
		if m.old == old {
			return c.new.holes[m.new], true
		}
	}
	return feature.Hole{}, false
}
