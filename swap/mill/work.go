package mill

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

// Work is what has to be cut to make a part out of a sawn blank. Lengths in mm,
// areas in mm2, volumes in mm3. Times follow from Work alone, so it may be filled
// in by hand.
type Work struct {
	Axis  r3.Vec     // milling direction, out of the side milled first
	Part  [3]float64 // length, width, thickness
	Blank [3]float64 // the same of the blank
	Faced []Facing

	Outline       float64 // area inside the outline, windows left out
	PartVolume    float64
	RoughVolume   float64 // chips of pockets, steps and ribs: not facing, outline or holes
	WallLength    float64 // of pockets, along their edge
	WallDepth     float64 // of the deepest pocket
	FloorArea     float64 // of pockets and steps
	ContourLength float64 // outline and windows
	ContourDepth  float64
	Holes         []HoleCut
	ChamferLength float64
	SetUps        int
	Hard          Hard
}

// blankVolume is the volume of the sawn blank, mm3.
func (w Work) blankVolume() float64 { return w.Blank[0] * w.Blank[1] * w.Blank[2] }

// Facing is one side milled flat over the whole blank.
type Facing struct{ Area, Depth float64 }

// HoleCut is a round hole; the head is a counterbore, or a cone with Sink.
type HoleCut struct {
	Diameter, Depth         float64
	HeadDiameter, HeadDepth float64
	Sink                    bool
}

// Plan is how a person means to make the part. The zero value leaves everything
// to the profile.
type Plan struct {
	Axis           *r3.Vec // milling direction; nil for asmade.MillAxis
	BlankThickness float64 // mm; 0 takes the thinnest plate that covers the part
	SetUps         int     // 0 counts them from the part

	CAM, Saw, Measure *float64 // min; nil for the profile's
	InchPlate         bool     // the shop buys inch plate: the next thicker one of those is taken
}

// Over returns the profile with the times that the person gave.
func (p Plan) Over(profile Profile) Profile {
	for _, t := range []struct {
		given *float64
		in    *float64
	}{{p.CAM, &profile.Handling.CAM}, {p.Saw, &profile.Handling.Saw}, {p.Measure, &profile.Handling.Measure}} {
		if t.given != nil {
			*t.in = *t.given
		}
	}
	return profile
}

// Measure works out what has to be cut. The blank is the part's box in the
// directions in which the part is square, with the profile's margin all round and
// the thickness of a plate as sold. A plate as thick as the part is not faced; a
// thicker one is faced on both sides, or on one when less than 0.4 mm has to go.
func Measure(p asmade.Part, profile Profile, plan Plan) (Work, error) {
	axis := asmade.MillAxis(p)
	if plan.Axis != nil {
		axis = r3.Unit(*plan.Axis)
	}
	frame := frameOf(p, axis)
	box := frame.Box(p.Mesh)
	size := box.Size()
	w := Work{Axis: axis, Part: [3]float64{size.X, size.Y, size.Z}, PartVolume: p.Mesh.SignedVolume()}
	if !(w.PartVolume > 0) {
		return Work{}, fmt.Errorf("the part has a volume of %.3g mm3; a blank needs a closed part", w.PartVolume)
	}
	thick, err := profile.Stock.plate(size.Z, plan.BlankThickness, plan.InchPlate)
	if err != nil {
		return Work{}, err
	}
	m := profile.Stock.Margin
	w.Blank = [3]float64{size.X + 2*m, size.Y + 2*m, thick}
	w.face()
	if err := w.outline(p, frame, box); err != nil {
		return Work{}, err
	}
	w.pockets(p)
	w.holes(p)
	for _, c := range asmade.Chamfers(p) {
		w.ChamferLength += c.Length
	}
	w.rough()
	w.SetUps = plan.SetUps
	if w.SetUps == 0 {
		w.SetUps = w.countSetUps(p)
	}
	return w, nil
}

// frameOf returns the part's square directions with the milling axis last and
// the longer of the other two first, right-handed.
func frameOf(p asmade.Part, axis r3.Vec) feature.Square {
	u := p.Square[0]
	for _, d := range p.Square {
		if math.Abs(r3.Dot(d, axis)) < math.Abs(r3.Dot(u, axis))-1e-9 {
			u = d
		}
	}
	u = r3.Unit(r3.Sub(u, r3.Scale(r3.Dot(u, axis), axis)))
	f := feature.Square{u, r3.Cross(axis, u), axis}
	if size := f.Box(p.Mesh).Size(); size.Y > size.X {
		f[0], f[1] = f[1], r3.Scale(-1, f[0])
	}
	return f
}

// plate returns the thickness of the blank for a part: a metric or inch plate of
// just its thickness, else the next metric one, or the next inch one where inches says
// that those are bought.
func (s Stock) plate(part, asked float64, inches bool) (float64, error) {
	if asked > 0 {
		if asked < part-samePlate {
			return 0, fmt.Errorf("a blank of %.4g mm is thinner than the part's %.4g mm", asked, part)
		}
		return asked, nil
	}
	for _, t := range s.Thicknesses {
		if math.Abs(t-part) <= samePlate {
			return t, nil
		}
	}
	for _, t := range s.Inches {
		if t *= inch; math.Abs(t-part) <= samePlate {
			return t, nil
		}
	}
	sold, unit := s.Thicknesses, 1.0
	if inches && len(s.Inches) > 0 {
		sold, unit = s.Inches, inch
	}
	for _, t := range sold {
		if t *= unit; t >= part-samePlate {
			return t, nil
		}
	}
	return sawn * math.Ceil(part/sawn), nil // sawn off a block
}

const (
	// samePlate is how far a drawn thickness may be from a plate's and still be the
	// plate's, mm: drawings in inches are rounded to two digits of a millimetre.
	samePlate = 0.02
	inch      = 25.4 // mm
)

// sawn is the step, mm, in which blocks thicker than plate are sawn.
const sawn = 5

// face splits what the blank is too thick by over its sides.
func (w *Work) face() {
	excess := w.Blank[2] - w.Part[2]
	area := w.Blank[0] * w.Blank[1]
	switch {
	case excess <= samePlate:
	case excess < 0.4:
		w.Faced = []Facing{{area, excess}}
	default:
		w.Faced = []Facing{{area, excess / 2}, {area, excess / 2}}
	}
}

// rough is what is left inside the outline: the prism over it less the part and
// its holes.
func (w *Work) rough() {
	drilled := 0.0
	for _, h := range w.Holes {
		drilled += math.Pi / 4 * h.Diameter * h.Diameter * h.Depth
		if h.HeadDiameter > 0 {
			head := math.Pi / 4 * (h.HeadDiameter*h.HeadDiameter - h.Diameter*h.Diameter) * h.HeadDepth
			if h.Sink { // a cone's ring holds less
				r, R := h.Diameter/2, h.HeadDiameter/2
				head = math.Pi*h.HeadDepth*(R*R+R*r+r*r)/3 - math.Pi*r*r*h.HeadDepth
			}
			drilled += head
		}
	}
	w.RoughVolume = max(0, w.Outline*w.Part[2]-w.PartVolume-drilled)
	if w.RoughVolume < 1e-3*w.PartVolume {
		w.RoughVolume = 0 // facets of round holes and broken edges
	}
}

// outline measures the area inside the outline and its length, on the fullest of
// five cuts square to the axis, and adds windows to the length.
func (w *Work) outline(p asmade.Part, frame feature.Square, box mesh.Box) error {
	w.ContourDepth = w.Part[2]
	var cuts []cut.Region
	fullest, most := -1, 0.0
	for _, part := range [5]float64{0.02, 0.25, 0.5, 0.75, 0.98} {
		h := box.Min.Z + part*(box.Max.Z-box.Min.Z)
		region, err := cut.Section(p.Mesh, mesh.Plane{Origin: r3.Scale(h, frame[2]), U: frame[0], V: frame[1], Normal: frame[2]})
		if err != nil {
			return fmt.Errorf("outline of the part: %w", err)
		}
		area := 0.0
		for _, poly := range region {
			area += math.Abs(cut.LoopArea(poly.Outer))
		}
		if area > most {
			fullest, most = len(cuts), area
		}
		cuts = append(cuts, region)
	}
	if fullest < 0 {
		return fmt.Errorf("the part has no section square to its milling direction")
	}
	w.Outline = most
	for _, poly := range cuts[fullest] {
		w.ContourLength += perimeter(poly.Outer)
		for _, hole := range poly.Holes {
			if w.window(p, frame, hole, cuts) {
				w.ContourLength += perimeter(hole)
				w.Outline -= math.Abs(cut.LoopArea(hole))
			}
		}
	}
	return nil
}

// window reports whether an inner loop goes through the whole part and is no
// round hole.
func (w *Work) window(p asmade.Part, frame feature.Square, loop []r2.Vec, cuts []cut.Region) bool {
	alone := cut.Polygon{Outer: turned(loop)}
	for _, h := range p.Features.Holes {
		at := r2.Vec{X: r3.Dot(h.Centre, frame[0]), Y: r3.Dot(h.Centre, frame[1])}
		if math.Abs(r3.Dot(h.Axis, frame[2])) > 0.999 && alone.Contains(at) &&
			math.Abs(cut.LoopArea(loop)) < 1.1*math.Pi/4*math.Pow(max(h.Diameter, h.HeadDiameter), 2) {
			return false
		}
	}
	for _, region := range cuts {
		open := false // some inner loop of every cut must lie around this one's middle
		for _, poly := range region {
			for _, hole := range poly.Holes {
				open = open || cut.Polygon{Outer: turned(hole)}.Contains(middle(loop))
			}
		}
		if !open {
			return false
		}
	}
	return true
}

func turned(loop []r2.Vec) []r2.Vec {
	if cut.LoopArea(loop) > 0 {
		return loop
	}
	out := make([]r2.Vec, len(loop))
	for k, v := range loop {
		out[len(loop)-1-k] = v
	}
	return out
}

func middle(loop []r2.Vec) r2.Vec {
	var sum r2.Vec
	for _, v := range loop {
		sum = r2.Add(sum, v)
	}
	return r2.Scale(1/float64(len(loop)), sum)
}

func perimeter(loop []r2.Vec) float64 {
	sum := 0.0
	for k, v := range loop {
		sum += r2.Norm(r2.Sub(loop[(k+1)%len(loop)], v))
	}
	return sum
}

// pockets adds up walls and floors on both sides.
func (w *Work) pockets(p asmade.Part) {
	for _, side := range [2]r3.Vec{w.Axis, r3.Scale(-1, w.Axis)} {
		for _, pocket := range asmade.Pockets(p, side) {
			w.FloorArea += pocket.Area
			w.WallLength += pocket.WallArea / pocket.Depth
			w.WallDepth = max(w.WallDepth, pocket.Depth)
		}
	}
}

func (w *Work) holes(p asmade.Part) {
	for _, h := range p.Features.Holes {
		w.Holes = append(w.Holes, HoleCut{
			Diameter: h.Diameter, Depth: h.Depth,
			HeadDiameter: h.HeadDiameter, HeadDepth: h.HeadDepth, Sink: h.Kind == feature.Countersink,
		})
	}
}

// countSetUps counts the directions from which everything is seen that needs a
// cutter, and the second side where it is faced. A broken edge needs none.
func (w *Work) countSetUps(p asmade.Part) int {
	v := p.View()
	first := v.Main()
	if r3.Dot(v.Ways[first], w.Axis) < 0.999 {
		for k, d := range v.Ways {
			if r3.Dot(d, w.Axis) > 0.999 {
				first = k
			}
		}
	}
	ways := v.SetUps(first)
	second := slices.ContainsFunc(ways, func(k int) bool { return r3.Dot(v.Ways[k], w.Axis) < -0.999 })
	if len(w.Faced) > 1 && !second {
		return len(ways) + 1
	}
	return len(ways)
}
