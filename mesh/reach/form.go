package reach

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// turnedShare is how much of the surface around the axis has to be round about
	// it: a keyway, a flat or a cross hole leaves a turned part a turned part.
	turnedShare = 0.8
	// fullLength is which share of its length the walls of a tube have to run
	// through, and tubeShare how much of its surface they have to be: slots and
	// cross holes leave a tube a tube.
	fullLength = 0.9
	tubeShare  = 0.8
	slender    = 1.5 // length of a tube over its next side: shorter is a frame or a ring
)

// Turned returns the axis of a part that a lathe makes: its outermost round goes
// fully about the axis, nothing reaches beyond it, and most of the surface is round
// about the same axis, drilled holes beside it left out.
func (v *View) Turned() (axis r3.Vec, ok bool) {
	widest := -1
	for i, r := range v.Features.Rounds {
		if !r.Concave && r.ArcDeg >= fullArc && (widest < 0 || r.Radius > v.Features.Rounds[widest].Radius) {
			widest = i
		}
	}
	if widest < 0 {
		return r3.Vec{}, false
	}
	r := v.Features.Rounds[widest]
	radial := func(p r3.Vec) r3.Vec {
		d := r3.Sub(p, r.Centre)
		return r3.Sub(d, r3.Scale(r3.Dot(d, r.Axis), r.Axis))
	}
	for _, p := range v.Mesh.Vertices {
		if r3.Norm(radial(p)) > r.Radius*(1+roundness)+v.lift {
			return r3.Vec{}, false
		}
	}
	around, all := 0.0, 0.0
	for _, s := range v.Samples {
		if math.Abs(r3.Dot(s.Normal, r.Axis)) > parallel {
			continue // an end or a shoulder
		}
		own := v.round(s.Face)
		about := own != nil && math.Abs(r3.Dot(own.Axis, r.Axis)) > parallel && r3.Norm(radial(own.Centre)) < roundness*r.Radius+v.lift
		if own != nil && own.Concave && own.ArcDeg >= fullArc && !about {
			continue // a drilled hole
		}
		if p := radial(s.At); !about && own == nil && r3.Norm(p) > v.lift {
			about = math.Abs(r3.Dot(s.Normal, r3.Cross(r.Axis, r3.Unit(p)))) < upright*2
		}
		all += s.Area
		if about {
			around += s.Area
		}
	}
	return r.Axis, around >= turnedShare*all
}

// roundness is how far, as a share of the radius, a turned part may depart from
// the circle: its chords.
const roundness = 0.01

// Tube returns the square direction along which a part is a length of tube: longer
// than wide, most of its surface walls that run through its whole length, and some
// of those inside.
func (v *View) Tube() (direction int, ok bool) {
	size := v.Box.Size()
	extent := [3]float64{size.X, size.Y, size.Z}
	for k := range extent {
		if extent[k] > extent[direction] {
			direction = k
		}
	}
	for k := range extent {
		if k != direction && extent[direction] < slender*extent[k] {
			return 0, false
		}
	}
	long, inside, all := 0.0, 0.0, 0.0
	for _, s := range v.Samples {
		along := math.Abs(r3.Dot(s.Normal, v.Square[direction]))
		if along > parallel {
			continue // an end
		}
		all += s.Area
		if along > upright || v.extent(s.Face, direction) < fullLength*extent[direction] {
			continue
		}
		long += s.Area
		if r := v.round(s.Face); v.onlyAlong(s, direction) && (r == nil || extent[direction] > bored*2*r.Radius) {
			inside += s.Area
		}
	}
	// the inside of a tube is a fair share of it; a drilled bore down a bar is not
	return direction, long >= tubeShare*all && inside >= insideShare*all
}

// insideShare is how much of a tube's surface is inside: with a wall of a fifth of
// the width, the inside is three fifths of the outside around, that is 3/8 of
// all; half of that still counts, for slots take of it.
const insideShare = 0.19

// bored is up to how many diameters a hole along a bar is drilled rather than the
// inside of a tube: what a jobber drill does (DIN 338).
const bored = 10

// onlyAlong reports whether a sample is seen along no square direction but one.
func (v *View) onlyAlong(s Sample, direction int) bool {
	mask := uint32(3) << (2 * direction)
	return s.Seen&0b111111&^mask == 0
}

// AlongTube reports whether a sample is on a wall that runs through the length of
// a tube.
func (v *View) AlongTube(s Sample, direction int) bool {
	size := v.Box.Size()
	extent := [3]float64{size.X, size.Y, size.Z}[direction]
	return math.Abs(r3.Dot(s.Normal, v.Square[direction])) < upright && v.extent(s.Face, direction) >= fullLength*extent
}

// Cavity is a hollow without a way in.
type Cavity struct {
	At      r3.Vec  // the middle of its box
	Longest float64 // side of its box, mm
	Faces   map[int32]bool
}

// Cavities finds the closed surfaces that look inwards.
func (v *View) Cavities() []Cavity {
	shell := make([]int32, len(v.Mesh.Faces))
	for f := range shell {
		shell[f] = -1
	}
	var out []Cavity
	for f := range shell {
		if shell[f] >= 0 {
			continue
		}
		faces := []int32{int32(f)}
		shell[f] = int32(f)
		six := 0.0
		for i := 0; i < len(faces); i++ {
			a, b, c := v.Mesh.Triangle(int(faces[i]))
			o := v.Mesh.Vertices[v.Mesh.Faces[f][0]]
			six += r3.Dot(r3.Sub(a, o), r3.Cross(r3.Sub(b, o), r3.Sub(c, o)))
			for _, g := range v.Features.Skin.Neighbour[faces[i]] {
				if g >= 0 && shell[g] < 0 {
					shell[g] = int32(f)
					faces = append(faces, g)
				}
			}
		}
		if six >= 0 {
			continue
		}
		low, high := v.Mesh.Vertices[v.Mesh.Faces[f][0]], v.Mesh.Vertices[v.Mesh.Faces[f][0]]
		c := Cavity{Faces: make(map[int32]bool, len(faces))}
		for _, g := range faces {
			c.Faces[g] = true
			for _, id := range v.Mesh.Faces[g] {
				p := v.Mesh.Vertices[id]
				low = r3.Vec{X: min(low.X, p.X), Y: min(low.Y, p.Y), Z: min(low.Z, p.Z)}
				high = r3.Vec{X: max(high.X, p.X), Y: max(high.Y, p.Y), Z: max(high.Z, p.Z)}
			}
		}
		size := r3.Sub(high, low)
		c.At, c.Longest = r3.Scale(0.5, r3.Add(low, high)), max(size.X, size.Y, size.Z)
		out = append(out, c)
	}
	return out
}
