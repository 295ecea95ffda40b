// Package fit says whether a redesigned part bolts on where the old one did:
// it brings both meshes into one frame, matches their holes and lists what
// moved, what was resized, what is missing, and what else the machine will
// notice. All lengths are mm.
package fit

import (
	"math"

	"swapworth/internal/parallel"
	"swapworth/mesh"
	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// Options sets what still counts as fitting. The zero value takes the defaults.
type Options struct {
	Position float64 // how far a hole may have moved, mm; default 0.1
	Diameter float64 // how much a hole may have changed, mm; default 0.1

	// SameFrame says that both files share a frame, however little alike the
	// parts are.
	SameFrame bool
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
// Moved is measured in the old part's frame, square to the old hole's axis.
type Pair struct {
	Old            int     `json:"old"`
	New            int     `json:"new"`
	Moved          float64 `json:"moved_mm"`
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

// Transform returns the motion as a transform.
func (f Frame) Transform() mesh.Transform {
	return mesh.Transform{Rotation: f.Rotation, Shift: r3.Vec{X: f.Shift[0], Y: f.Shift[1], Z: f.Shift[2]}}
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
	a := align(newBody(old), newBody(new), opt.SameFrame)
	r := Result{
		old: old, new: new,
		Holes: append(listed("old", old.Features.Holes), listed("new", new.Features.Holes)...),
		Pairs: []Pair{},
		Frame: Frame{Method: a.Method, Rotation: a.Motion.Rotation, Shift: array(a.Motion.Shift), Mirrored: a.Mirrored, Guess: a.Guess()},
	}
	moved := movedHoles(new.Features.Holes, a.Motion)
	matches := pairAll(old.Features.Holes, moved)
	for _, m := range matches {
		o, n := old.Features.Holes[m.old], moved[m.new]
		r.Pairs = append(r.Pairs, Pair{
			Old: o.Number, New: n.Number, Moved: m.aside,
			DiameterChange: n.Diameter - o.Diameter, DepthChange: n.Depth - o.Depth,
		})
	}
	r.Envelope = envelope(old, new.Mesh, a.Motion)
	f := findings{opt: opt, old: old.Features.Holes, new: new.Features.Holes, moved: moved}
	f.units(r.Envelope)
	f.frame(a)
	if !a.Mirrored { // what else a mirror image does not fit says nothing of the part
		f.holes(matches)
		f.thickness(matches)
		f.envelope(r.Envelope)
	}
	r.Blocking, r.Findings = f.lists()
	r.OK = len(r.Blocking) == 0
	return r
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

func array(v r3.Vec) [3]float64 {
	out := [3]float64{v.X, v.Y, v.Z}
	for k := range out {
		if math.Abs(out[k]) < 1e-6 {
			out[k] = 0 // rounding noise of the file
		}
	}
	return out
}
