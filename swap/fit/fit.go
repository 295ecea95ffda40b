package fit

import (
	"math"
	"slices"

	"swapworth/internal/parallel"
	"swapworth/mesh"
	"swapworth/mesh/feature"
)

// Options sets what still counts as fitting. The zero value takes the defaults.
type Options struct {
	Position float64 // how far a hole may have moved, mm; default 0.1
	Diameter float64 // how much a hole may have changed, mm; default 0.1

	// SameFrame says that both files share a frame, however little alike the
	// parts are.
	SameFrame bool

	// Accept lists the texts of findings that are meant to be so: they do not block.
	Accept []string
}

func (o Options) withDefaults() Options {
	if o.Position == 0 {
		o.Position = 0.1
	}
	if o.Diameter == 0 {
		o.Diameter = 0.1
	}
	return o
}

// Result is what `fit` prints, with its stable JSON keys.
//
// Findings lists everything found, what stops the part from bolting on first.
// Blocking repeats those alone; OK is true when there are none.
type Result struct {
	OK       bool     `json:"ok"`
	Holes    []Hole   `json:"holes"`
	Pairs    []Pair   `json:"pairs"`
	Findings []string `json:"findings"`

	Blocking []string `json:"blocking"`
	Frame    Frame    `json:"frame"`
	Envelope Envelope `json:"envelope"`

	Details     []Finding `json:"details"`      // Findings with place, old and new value
	Accepted    []string  `json:"accepted"`     // findings that would block, accepted by the person
	Unmet       []string  `json:"unmet"`        // accepted findings that are none any more
	Compared    []string  `json:"compared"`     // what of the old part besides holes was looked for in the new one
	NotCompared []string  `json:"not_compared"` // what of the old part was not looked for in the new one

	old, new Part // in the frames of their files
}

// Open reports whether nothing but a guessed motion stands against the new part.
func (r Result) Open() bool { return r.Frame.Guess && len(r.Blocking) == 1 }

// Hole is one hole of either part, in that part's own file frame. Number is its
// number within its part, as places such as hole:3 use it. The centre is the
// point of the axis halfway between the ends of the hole.
type Hole struct {
	Part     string     `json:"part"` // old or new
	Number   int        `json:"number"`
	Kind     string     `json:"kind"`
	Axis     [3]float64 `json:"axis"`
	Centre   [3]float64 `json:"centre_mm"`
	Diameter float64    `json:"diameter_mm"`
	Depth    float64    `json:"depth_mm"`

	HeadDiameter *float64 `json:"head_diameter_mm"` // counterbore or countersink
	HeadDepth    *float64 `json:"head_depth_mm"`
	HeadAngle    *float64 `json:"head_angle_deg"` // countersink, full angle
	Suits        []string `json:"suits"`
}

// Pair is a hole of the old part and the hole of the new part that takes its
// place. Old and New are the numbers of the holes within their parts, from 1.
// Moved is measured in the old part's frame in all directions: Aside square to the
// old hole's axis, Along it by the level of the face that the hole starts from. A
// thicker plate, one face of which is where it was, moves no hole.
type Pair struct {
	Old            int     `json:"old"`
	New            int     `json:"new"`
	Moved          float64 `json:"moved_mm"`
	Aside          float64 `json:"aside_mm"`
	Along          float64 `json:"along_mm"`           // along the old hole's axis
	DiameterChange float64 `json:"diameter_change_mm"` // new less old
	DepthChange    float64 `json:"depth_change_mm"`    // new less old
}

// Frame says how the parts were brought together: p_old = Rotation p_new + Shift.
type Frame struct {
	Method   Method        `json:"method"`
	Rotation [3][3]float64 `json:"rotation"`
	Shift    [3]float64    `json:"shift_mm"`
	Mirrored bool          `json:"mirrored"`
	Guess    bool          `json:"guess"` // neither holes nor shape say how the parts lie
}

// Compare looks for the holes of both parts and says whether the new one fits
// where the old one did.
func Compare(old, new *mesh.Mesh, opt Options) Result {
	a, b := read(old, new)
	return CompareFeatures(a, b, opt)
}

// read finds the features of both parts at the same time.
func read(old, new *mesh.Mesh) (a, b Part) {
	parallel.Both(
		func() { a = Part{old, feature.Find(old)} },
		func() { b = Part{new, feature.Find(new)} })
	return a, b
}

// Part is a mesh with the features found in it.
type Part struct {
	Mesh     *mesh.Mesh
	Features feature.Features
}

// CompareFeatures is Compare for parts whose features are known already.
func CompareFeatures(old, new Part, opt Options) Result {
	opt = opt.withDefaults()
	a, b := newShape(old), newShape(new)
	r := Result{
		old: old, new: new,
		Holes: append(listed("old", old.Features.Holes), listed("new", new.Features.Holes)...),
	}
	if f := unitFinding(a, b); f != nil {
		r.Frame = Frame{Method: Given, Rotation: rigidly.Rotation}
		r.Envelope = envelope(old, new.Mesh, rigidly)
		r.conclude([]Finding{*f}, opt.Accept)
		return r
	}
	way := align(a, b, opt.SameFrame)
	c := compare(a, b.lay(way.Motion), opt)
	tells, mirrored := mirrored(a, b, way, c)
	r.Frame = Frame{Method: way.Method, Rotation: way.Motion.Rotation, Shift: array(way.Motion.Shift), Mirrored: mirrored, Guess: way.guess()}
	r.Envelope = envelope(old, new.Mesh, way.Motion)
	r.Pairs = c.pairs()
	found := frameFindings(way, a, b)
	if mirrored { // what else a mirror image does not fit says nothing of the part
		found = append([]Finding{{Kind: "mirror", Blocks: true,
			Text: "the new part is the mirror image of the old one, no turn brings them together; what tells: " + tells}}, found...)
	} else {
		c.compareEnvelope(r.Envelope)
		found = append(found, c.found...)
	}
	r.Compared, r.NotCompared = c.counted(), notCompared(a)
	r.conclude(append(found, numberingFindings(old, new)...), opt.Accept)
	return r
}

// numberingFindings say where another mesh of a part could number its holes
// otherwise.
func numberingFindings(old, new Part) (found []Finding) {
	for _, one := range []struct {
		name string
		part Part
	}{{"old", old}, {"new", new}} {
		if doubt := feature.NumberingDoubt(one.part.Features.Holes); doubt != "" {
			found = append(found, Finding{Kind: "numbering", Text: one.name + " part: " + doubt})
		}
	}
	return found
}

// rigidly is the motion that moves nothing.
var rigidly = mesh.Identity()

// pairs lists the matched holes. A hole moved along its axis by as much as both
// its seats did, or by as much as the one that has a finding.
func (c *comparison) pairs() []Pair {
	out := []Pair{}
	for _, m := range c.matches {
		o, n := c.old.holes[m.old], c.new.holes[m.new]
		p := Pair{Old: o.Number, New: n.Number, Aside: m.aside, DiameterChange: n.Diameter - o.Diameter, DepthChange: n.Depth - o.Depth}
		if at := c.along[m.old]; at != nil {
			// further out at the far end is back along the axis
			p.Along = at[0]
			if math.Abs(at[1]) > math.Abs(at[0]) {
				p.Along = -at[1]
			}
		}
		p.Moved = math.Hypot(p.Aside, p.Along)
		out = append(out, p)
	}
	return out
}

// conclude writes the findings down, those that block first.
func (r *Result) conclude(found []Finding, accepted []string) {
	for k := range found {
		if found[k].Blocks && slices.Contains(accepted, found[k].Text) {
			found[k].Blocks, found[k].Accepted = false, true
		}
	}
	slices.SortStableFunc(found, func(a, b Finding) int { return rank(a) - rank(b) })
	r.Details, r.Findings, r.Blocking, r.Accepted = append([]Finding{}, found...), []string{}, []string{}, []string{}
	for _, f := range found {
		r.Findings = append(r.Findings, f.Text)
		switch {
		case f.Blocks:
			r.Blocking = append(r.Blocking, f.Text)
		case f.Accepted:
			r.Accepted = append(r.Accepted, f.Text)
		}
	}
	for _, text := range accepted {
		if !slices.Contains(r.Findings, text) {
			r.Unmet = append(r.Unmet, text)
		}
	}
	if r.Pairs == nil {
		r.Pairs = []Pair{}
	}
	r.OK = len(r.Blocking) == 0
}

// rank orders findings: what blocks, what the person accepted, what else there is.
func rank(f Finding) int {
	switch {
	case f.Blocks:
		return 0
	case f.Accepted:
		return 1
	}
	return 2
}

func listed(part string, holes []feature.Hole) []Hole {
	out := make([]Hole, 0, len(holes))
	for _, h := range holes {
		one := Hole{
			Part: part, Number: h.Number, Kind: string(h.Kind),
			Axis: array(h.Axis), Centre: array(h.Centre),
			Diameter: h.Diameter, Depth: h.Depth, Suits: Suits(h.Diameter),
		}
		if one.Suits == nil {
			one.Suits = []string{}
		}
		if h.HeadDiameter > 0 {
			one.HeadDiameter, one.HeadDepth = &h.HeadDiameter, &h.HeadDepth
		}
		if h.HeadAngle > 0 {
			one.HeadAngle = &h.HeadAngle
		}
		out = append(out, one)
	}
	return out
}
