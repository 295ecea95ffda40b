package mill

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/mesh/asmade"
)

// Kind is one way in which a part is hard to mill or cannot be milled.
type Kind string

// The kinds of finding.
const (
	Undercut     Kind = "undercut"      // hidden under what stands over it
	ClosedCavity Kind = "closed-cavity" // a hollow without a way in
	ThinWall     Kind = "thin-wall"
	ThinFloor    Kind = "thin-floor"
	InsideRadius Kind = "inside-radius" // tighter than the smallest cutter that reaches
	DeepPocket   Kind = "deep-pocket"   // deep for the cutter or drill that goes in
	Unreachable  Kind = "unreachable"   // no cutter of the profile goes in
)

// Finding is one place where milling is hard, or impossible.
type Finding struct {
	Kind   Kind       `json:"kind"`
	Where  [3]float64 `json:"where_mm"` // in the part's own file
	Value  float64    `json:"value_mm"`
	Limit  float64    `json:"limit_mm"`
	Blocks bool       `json:"blocks"`
	Count  int        `json:"count,omitempty"` // of such corners, holes or hollows, of which this is the worst
	Says   string     `json:"says"`
	Change string     `json:"change"` // what to do about it
}

// Way of making a part, by the machine that does most of it.
type Machine string

// The machines.
const (
	Mill  Machine = "mill"
	Lathe Machine = "lathe" // round about an axis
	Saw   Machine = "saw"   // a length of tube
)

// Millable says whether a part can be milled with a profile, and what is hard.
type Millable struct {
	OK       bool         `json:"ok"` // nothing blocks
	Findings []Finding    `json:"findings"`
	MadeBy   Machine      `json:"made_by"`
	SetUps   [][3]float64 `json:"set_up_axes"` // unit vectors out of the part, the first one first
	Chance   float64      `json:"chance"`      // of a good part in one attempt, by what is hard
	Corners  float64      `json:"corners_g"`   // left in inside corners by the cutters

	Hard      Hard    `json:"-"`
	Floors    []Floor `json:"-"`
	Elsewhere bool    `json:"-"` // times on the mill say nothing of it
}

// Hard is what hard places add to the time: see operations.
type Hard struct {
	Thin, Deep float64 // shares of the walls, 0 to 1
	Excess     float64 // depth of the worst over what is not deep, 1 or more
	Corners    int     // that take a smaller cutter than the finisher
	Height     float64 // of them together, mm
	Cutter     float64 // diameter of that cutter, mm
}

// Stuff is what judging needs to know of the material.
type Stuff struct {
	Kind    materials.Kind
	Density float64 // kg/m3
}

// Check judges a part by its shape alone, with the cutters and limits of a profile.
//
// 1. Hollows without a way in, and surfaces that no way sees, cannot be cut.
// 2. The set-ups are chosen that see everything else.
// 3. Walls: how thick, how high, how wide and deep the air before them.
// 4. Inside corners against the smallest cutter that reaches them.
// 5. Drilled holes: how deep, and what the drill's point leaves under them.
//
// A part that a lathe or a saw makes is not held against milling where it is round
// or tube, only where it is not.
func Check(p asmade.Part, profile Profile, stuff Stuff) Millable {
	v := p.View()
	c := checker{
		View: v, limits: profile.Limits, stuff: stuff, main: v.Main(), finisher: profile.Cutter.Finish.Diameter,
		drilled: profile.Drill.MaxDiameter,
	}
	c.wall, c.careful = c.limits.Wall, c.limits.Careful
	if stuff.Kind != materials.Metal {
		c.wall, c.careful = c.limits.PlasticWall, c.limits.CarefulPlastic
	}
	c.out = Millable{Findings: []Finding{}, MadeBy: Mill, Hard: Hard{Excess: 1}}
	c.recognise()
	c.setUps = v.SetUps(c.main)
	for _, k := range c.setUps {
		c.out.SetUps = append(c.out.SetUps, where(v.Ways[k]))
	}
	c.hollows()
	c.hidden()
	c.walls()
	c.corners()
	c.holes()
	c.out.Floors = c.floors()
	return c.conclude()
}

// recognise names a lathe or a saw for what they make.
func (c *checker) recognise() {
	if axis, ok := c.Turned(); ok {
		c.out.MadeBy, c.axis = Lathe, axis
		c.out.Elsewhere = !c.disc(axis)
		return
	}
	if direction, ok := c.Tube(); ok {
		c.out.MadeBy, c.tube, c.out.Elsewhere = Saw, direction, true
	}
}

// flat is up to which length over its diameter a turned part is a disc, that a mill
// cuts out of plate as well.
const flat = 0.5

// disc reports whether a turned part is no longer than half its diameter.
func (c *checker) disc(axis r3.Vec) bool {
	low, high, radius := math.Inf(1), math.Inf(-1), 0.0
	for _, p := range c.Mesh.Vertices {
		at := r3.Dot(p, axis)
		low, high = min(low, at), max(high, at)
	}
	for _, r := range c.Features.Rounds {
		if !r.Concave && math.Abs(r3.Dot(r.Axis, axis)) > 0.9999 {
			radius = max(radius, r.Radius)
		}
	}
	return high-low <= flat*2*radius
}

// conclude orders the findings, what blocks first, and says how likely one attempt
// succeeds.
func (c *checker) conclude() Millable {
	m := c.out
	m.Findings = slices.DeleteFunc(m.Findings, func(f Finding) bool { // the worse of one kind says it
		return !f.Blocks && slices.ContainsFunc(m.Findings, func(g Finding) bool { return g.Blocks && g.Kind == f.Kind && g.Change == f.Change })
	})
	order := []Kind{ClosedCavity, Undercut, Unreachable, ThinFloor, ThinWall, DeepPocket, InsideRadius}
	slices.SortStableFunc(m.Findings, func(a, b Finding) int {
		if a.Blocks != b.Blocks {
			if a.Blocks {
				return -1
			}
			return 1
		}
		return cmp.Compare(slices.Index(order, a.Kind), slices.Index(order, b.Kind))
	})
	m.OK, m.Chance = true, 1
	kinds := map[Kind]bool{}
	for _, f := range m.Findings {
		m.OK = m.OK && !f.Blocks
		// corners are left round by everybody, and spoil nothing
		if !kinds[f.Kind] && f.Kind != InsideRadius {
			kinds[f.Kind] = true
			m.Chance *= c.limits.HardChance
		}
	}
	return m
}

// Blocking returns the findings that no cutter of the profile gets around.
func (m Millable) Blocking() []Finding {
	var out []Finding
	for _, f := range m.Findings {
		if f.Blocks {
			out = append(out, f)
		}
	}
	return out
}
