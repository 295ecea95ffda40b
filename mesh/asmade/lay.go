package asmade

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
)

// role is what a face is to a mill whose axis is given.
type role int8

const (
	fixed   role = iota // what no departure moves of itself: a cross hole, a free form
	level               // square to the axis: a top, a floor, a bottom
	wall                // along the axis, or of one slope between two levels
	breaks              // a chamfer or a rounding between a level above and the wall below
	foot                // a fillet between a wall and the level below
	unsized             // without area
)

const (
	levelCosine  = 1 - 1.4e-5 // 0.3 degrees: the first chord of a fillet in 150 leans as much
	uprightSine  = 0.02       // 1.15 degrees, the least draft that is one and no leaning facet
	smoothDegree = 46         // the turn between two strips of a quarter in two, and a little
	runDegree    = 60         // the turn between facets of a rounding where two meet at a corner in few chords
	sameSlope    = 3          // degrees between facets of one slanted wall
	mostly       = 0.5        // share of a border that decides what a slope is
	downhill     = 0.5        // cosine to the steepest way from which a border lies below or above
)

// lay is a part as it lies under a cutter that comes along an axis: what each
// face is, however the mesh splits it.
//
// Slopes, faces neither level nor along the axis, are gathered into runs that
// hang together over smooth edges. What a run is follows from what lies at its
// upper and its lower border.
type lay struct {
	part  Part
	axis  r3.Vec
	role  []role
	run   []int32 // for a slope, index into runs; -1 for other faces
	runs  []run
	shape []r3.Vec // normals, of the patch
}

// run is slopes that hang together. up is the end of the axis from which it is
// seen; lean is the sine of the angle between the walls it belongs to and the
// axis, 0 for upright ones.
type run struct {
	faces []int32
	up    r3.Vec
	lean  float64
}

// lie says what the faces of the part are along an axis.
func (p Part) lie(axis r3.Vec) *lay {
	n := len(p.Mesh.Faces)
	l := &lay{part: p, axis: axis, role: make([]role, n), run: make([]int32, n), shape: make([]r3.Vec, n)}
	for f := range n {
		l.run[f] = -1
		l.shape[f] = p.normal(int32(f))
		switch slope := math.Abs(r3.Dot(l.shape[f], axis)); {
		case l.shape[f] == (r3.Vec{}):
			l.role[f] = unsized
		case slope > levelCosine:
			l.role[f] = level
		case slope < uprightSine || p.bored(int32(f), axis):
			l.role[f] = wall
		}
	}
	l.gather()
	l.straighten()
	for i := range l.runs {
		l.judge(int32(i))
	}
	return l
}

// bored reports whether a face is part of a round wall along the axis: facets of
// an irregularly split one may lean.
func (p Part) bored(f int32, axis r3.Vec) bool {
	r := p.round[f]
	return r >= 0 && r3.Norm(r3.Cross(p.Features.Rounds[r].Axis, axis)) < uprightSine
}

// gather joins slopes over smooth edges, and over the mitres of equal ones.
func (l *lay) gather() {
	for f := range l.role {
		if l.role[f] != fixed || l.run[f] >= 0 {
			continue
		}
		id := int32(len(l.runs))
		r := run{faces: []int32{int32(f)}, up: l.axis}
		if r3.Dot(l.shape[f], l.axis) < 0 {
			r.up = r3.Scale(-1, l.axis)
		}
		l.run[f] = id
		for i := 0; i < len(r.faces); i++ {
			at := r.faces[i]
			for _, g := range l.part.Features.Skin.Neighbour[at] {
				if g >= 0 && l.run[g] < 0 && l.role[g] == fixed && l.together(at, g, r.up) {
					l.run[g] = id
					r.faces = append(r.faces, g)
				}
			}
		}
		l.runs = append(l.runs, r)
	}
}

// together reports whether two slopes next to each other are of one run.
func (l *lay) together(f, g int32, up r3.Vec) bool {
	a, b := r3.Dot(l.shape[f], up), r3.Dot(l.shape[g], up)
	if b < 0 {
		return false
	}
	return vector.DegreesBetween(l.shape[f], l.shape[g]) < runDegree ||
		math.Abs(math.Asin(min(1, a))-math.Asin(min(1, b)))*180/math.Pi < sameSlope
}

// straighten takes the facets of curved upright walls that lean for walls: a mesher
// may split an ellipse at random, and a facet between two heights leans either
// way. Slopes that lean little and border, over smooth edges, on walls or on slopes
// that lean the other way are such facets; a drafted wall borders on levels.
func (l *lay) straighten() {
	const most, share = 25, 0.4 // degrees, as a facet in 12 chords may lean; of the border
	skin := l.part.Features.Skin
	little := make([]bool, len(l.runs))
	for id, r := range l.runs {
		little[id] = !slices.ContainsFunc(r.faces, func(f int32) bool { return l.steepness(f, r.up) > most })
	}
	var leaning []int
	for id, r := range l.runs {
		smooth, all := 0.0, 0.0
		for _, f := range r.faces {
			for k, g := range skin.Neighbour[f] {
				if !little[id] || g < 0 || l.run[g] == int32(id) {
					continue
				}
				length := r3.Norm(l.part.edge(f, k))
				all += length
				other := l.role[g] == wall || l.run[g] >= 0 && little[l.run[g]] && r3.Dot(l.runs[l.run[g]].up, r.up) < 0
				if other && vector.DegreesBetween(l.shape[f], l.shape[g]) < smoothDegree {
					smooth += length
				}
			}
		}
		if smooth > share*all {
			leaning = append(leaning, id)
		}
	}
	for _, id := range leaning {
		for _, f := range l.runs[id].faces {
			l.role[f], l.run[f] = wall, -1
		}
		l.runs[id].faces = nil
	}
}

// borders are lengths of a run's border in mm, below and above it, by what lies
// beyond: a level that looks up as the run does, an upright wall over an outer
// (below) or inner (above) edge, or anything else.
type borders struct {
	below, above struct{ level, wall, all float64 }
}

// judge settles what the faces of a run are.
func (l *lay) judge(id int32) {
	r := &l.runs[id]
	b := l.measure(id)
	set := func(to role) {
		for _, f := range r.faces {
			l.role[f] = to
		}
	}
	switch {
	case b.below.wall > mostly*b.below.all && b.above.level > 0:
		set(breaks)
	case b.above.wall > mostly*b.above.all && b.below.level > mostly*b.below.all:
		set(foot)
	case b.above.level > mostly*b.above.all && b.below.all > 0:
		l.slanted(r)
	}
}

// measure adds up the borders of a run.
func (l *lay) measure(id int32) (b borders) {
	r := l.runs[id]
	for _, f := range r.faces {
		n := l.shape[f]
		down := r3.Sub(r3.Scale(r3.Dot(n, r.up), n), r.up)
		if r3.Norm(down) == 0 {
			continue
		}
		down = r3.Unit(down)
		for k, g := range l.part.Features.Skin.Neighbour[f] {
			if g < 0 || l.run[g] == id {
				continue
			}
			e := l.part.edge(f, k)
			length := r3.Norm(e)
			way := r3.Dot(r3.Cross(e, n), down) / length
			side, outer := &b.below, true
			switch {
			case !(length > 0) || math.Abs(way) < downhill:
				continue
			case way < 0:
				side, outer = &b.above, false
			}
			side.all += length
			switch {
			case l.role[g] == level && r3.Dot(l.shape[g], r.up) > 0:
				side.level += length
			case l.role[g] == wall && l.part.convex(f, g, k) == outer:
				side.wall += length
			}
		}
	}
	return b
}

// slanted takes a run between two levels for a wall of one slope, with what
// breaks its upper edge and what fills its foot; a run without one slope stays
// fixed.
func (l *lay) slanted(r *run) {
	lean := l.medianSlope(r)
	sure, all := 0.0, 0.0
	for _, f := range r.faces {
		area := l.part.area(f)
		all += area
		if math.Abs(l.steepness(f, r.up)-lean) < sameSlope/2. {
			sure += area
		}
	}
	if sure < mostly*all {
		if l.wobbles(r, lean) {
			for _, f := range r.faces {
				l.role[f] = wall
			}
		}
		return
	}
	r.lean = math.Sin(lean * math.Pi / 180)
	middle := l.middleOf(r, lean)
	for _, f := range r.faces {
		switch {
		case math.Abs(l.steepness(f, r.up)-lean) < sameSlope:
			l.role[f] = wall
		case r3.Dot(l.part.centre(f), r.up) > middle:
			l.role[f] = breaks
		default:
			l.role[f] = foot
		}
	}
}

// wobbles reports whether the facets of a run differ in slope by no more than a
// cone in few chords does that was split at random: a facet that stands on a chord
// leans less than one that hangs from one, each by up to half of what the facets
// turn from one to the next.
func (l *lay) wobbles(r *run, lean float64) bool {
	turns, all := 0.0, 0.0
	for _, f := range r.faces {
		for k, g := range l.part.Features.Skin.Neighbour[f] {
			if g < 0 || l.run[g] != l.run[f] {
				continue
			}
			if turn := vector.DegreesBetween(l.shape[f], l.shape[g]); turn < smoothDegree {
				length := r3.Norm(l.part.edge(f, k))
				turns, all = turns+turn*length, all+length
			}
		}
	}
	within := sameSlope + turns/max(all, 1e-9)/2
	for _, f := range r.faces {
		if math.Abs(l.steepness(f, r.up)-lean) > within {
			return false
		}
	}
	return true
}

// medianSlope returns the angle to the axis that half of the area of a run falls
// short of, degrees.
func (l *lay) medianSlope(r *run) float64 {
	order := slices.Clone(r.faces)
	slices.SortFunc(order, func(a, b int32) int { return cmp.Compare(l.steepness(a, r.up), l.steepness(b, r.up)) })
	all, sum := 0.0, 0.0
	for _, f := range order {
		all += l.part.area(f)
	}
	for _, f := range order {
		if sum += l.part.area(f); sum >= all/2 {
			return l.steepness(f, r.up)
		}
	}
	return 0
}

// steepness returns the angle of a face to the axis, degrees: 0 for an upright one.
func (l *lay) steepness(f int32, up r3.Vec) float64 {
	return math.Asin(max(-1, min(1, r3.Dot(l.shape[f], up)))) * 180 / math.Pi
}

// middleOf returns the mean height of the faces of a run with the slope lean.
func (l *lay) middleOf(r *run, lean float64) float64 {
	sum, all := 0.0, 0.0
	for _, f := range r.faces {
		if math.Abs(l.steepness(f, r.up)-lean) < sameSlope {
			area := l.part.area(f)
			sum, all = sum+area*r3.Dot(l.part.centre(f), r.up), all+area
		}
	}
	return sum / all
}

// outward returns the normal by which a face moves, at one of its corners: along
// the radius on a round wall, level on any other upright one.
func (l *lay) outward(f, v int32) r3.Vec {
	switch {
	case l.role[f] == level: // a fillet's round may reach over its edge
		return l.shape[f]
	case l.role[f] == wall && l.run[f] < 0 && l.part.round[f] < 0:
		return l.along(f)
	}
	return l.part.outward(f, v)
}

// joins returns the normal, at one of its corners, of the wall that a face of a
// run belongs to: of the nearest face of that wall, for a facet that is nearly
// level hardly tells it.
func (l *lay) joins(near map[int32]int32, f, v int32) r3.Vec {
	g, ok := near[f]
	if !ok {
		return l.along(f)
	}
	if n := l.outward(g, v); r3.Dot(n, l.shape[g]) > sameWay {
		return n
	}
	return l.along(g) // a few facets of a wall passed for a round about another axis
}

// sameWay is the cosine of 30 degrees, within which a wall's normal beside one of
// its facets lies in 12 chords.
const sameWay = 0.866

// along returns the normal of the wall that a face of a run belongs to: its own,
// turned in the upright plane to the lean of that wall.
func (l *lay) along(f int32) r3.Vec {
	up, lean := l.axis, 0.0
	if l.run[f] >= 0 {
		up, lean = l.runs[l.run[f]].up, l.runs[l.run[f]].lean
	}
	n := l.shape[f]
	flat := r3.Sub(n, r3.Scale(r3.Dot(n, up), up))
	return r3.Add(r3.Scale(math.Sqrt(1-lean*lean), r3.Unit(flat)), r3.Scale(lean, up))
}

// topOf returns the faces on the outermost level of an end of the axis: found by
// where they look and how high they lie, not by what they are part of.
func (l *lay) topOf(up r3.Vec) []int32 {
	const near = 0.01 // mm
	_, high := l.part.extent(up)
	var out []int32
	for f := range l.role {
		if l.role[f] == level && r3.Dot(l.shape[f], up) > 0 && high-r3.Dot(l.part.centre(int32(f)), up) < near {
			out = append(out, int32(f))
		}
	}
	return out
}
