package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
	"swapworth/mesh/feature"
)

// opening is a way through the part that is no round hole: a slot, a window, a
// bore with a flat or a keyway.
type opening struct {
	kind   openingKind
	normal r3.Vec // of the face it opens in, out of the part
	along  r3.Vec // unit, along its longest straight edge
	edge   outlineOf
	walls  []int // its flat walls, by index of the flat face
	rounds []int // its round walls, by index
	at     r3.Vec
}

type openingKind string

const (
	slotOpening   openingKind = "slot"            // two half rounds of one radius
	windowOpening openingKind = "window"          // any other outline
	flatOpening   openingKind = "bore with flats" // most of a circle and flats: a D-bore, a keyway
)

const (
	halfRound = 150.0 // degrees of arc from which a wall is the round end of a slot: half a circle less two chords of twelve
	mostRound = 195.0 // degrees of arc from which a bore with a flat is one: a half round of coarse chords does not hold a shaft
)

// outlineOf is a closed edge with the round walls behind it: its reach in any
// direction does not depend on how finely they are drawn.
type outlineOf struct {
	corners []r3.Vec
	flat    []bool // whether a flat wall lies behind the edge from a corner to the next; nil for none
	rounds  []feature.Round
}

// reach returns how far the edge reaches along a direction and how uncertain that
// is for what is drawn in chords and is no cylinder, mm.
func (o outlineOf) reach(d r3.Vec) (far, unsure float64) {
	far = math.Inf(-1)
	at := 0
	for k, c := range o.corners {
		if x := r3.Dot(c, d); x > far {
			far, at = x, k
		}
	}
	for _, r := range o.rounds {
		if x := r3.Dot(r.Centre, d) + r.Radius*flatPart(d, r.Axis); x > far && o.covers(r, d) {
			return x, 0
		}
		if _, radial := axial(r, o.corners[at]); math.Abs(r3.Norm(radial)-r.Radius) < coincide {
			return far, 0
		}
	}
	return far, o.sagitta(at)
}

const (
	// drawnTurn is the turn in degrees from which a corner is one of the drawing:
	// eight chords to the circle turn by 45.
	drawnTurn = 46.0
	// straightTurn is the turn in degrees up to which an edge goes on: what float32
	// leaves of a point within a chord of 1 mm at 100 mm is 0.001.
	straightTurn = 0.5
)

// sagitta returns the height of the segment that the chords beside a corner leave
// out of a curve, mm; 0 at a corner of the drawing and along a flat wall.
func (o outlineOf) sagitta(at int) float64 {
	n := len(o.corners)
	if o.flat != nil && (o.flat[at] || o.flat[(at+n-1)%n]) {
		return 0
	}
	edge := func(k int) r3.Vec { return r3.Sub(o.corners[(k+1+2*n)%n], o.corners[(k+2*n)%n]) }
	// the length of the chord that starts with an edge, and the turn at its far end
	run := func(k, step int) (length, turn float64) {
		for range n {
			length += r3.Norm(edge(k))
			if turn = vector.DegreesBetween(edge(k), edge(k+step)); turn > straightTurn {
				break
			}
			k += step
		}
		return length, turn
	}
	before, turnBefore := run(at-1, -1)
	after, turnAfter := run(at, 1)
	chord, turn := max(before, after), vector.DegreesBetween(edge(at-1), edge(at))
	if turn <= straightTurn { // within a chord
		chord, turn = before+after, max(turnBefore, turnAfter)
	}
	if turn > drawnTurn {
		return 0
	}
	return chord * turn * math.Pi / 180 / 8
}

const (
	// oddChord is how many times longer than the others a chord is a flat, and
	// leastFlat the angle in degrees below which none is: twelve chords of one
	// circle, unevenly drawn, span 20 to 40.
	oddChord  = 1.5
	leastFlat = 32.0
)

// covers reports whether the edge follows a round wall through the point of it
// that is furthest along a direction, not a flat across it.
func (o outlineOf) covers(r feature.Round, d r3.Vec) bool {
	out := r3.Unit(r3.Sub(d, r3.Scale(r3.Dot(d, r.Axis), r.Axis)))
	side := r3.Cross(r.Axis, out)
	var turns []float64 // of the corners on the wall, from the direction
	for _, c := range o.corners {
		if _, radial := axial(r, c); math.Abs(r3.Norm(radial)-r.Radius) < coincide {
			turns = append(turns, math.Atan2(r3.Dot(radial, side), r3.Dot(radial, out))*180/math.Pi)
		}
	}
	if len(turns) < 2 {
		return false
	}
	slices.Sort(turns)
	var others []float64
	here := 360 + turns[0] - turns[len(turns)-1]
	for k := 1; k < len(turns); k++ {
		gap := turns[k] - turns[k-1]
		if turns[k-1] <= 0 && turns[k] >= 0 {
			here = gap
		} else {
			others = append(others, gap)
		}
	}
	if len(others) == 0 {
		return here <= leastFlat
	}
	slices.Sort(others)
	return here <= max(oddChord*others[len(others)/2], leastFlat)
}

// moved returns the outline as a motion lays it.
func (o outlineOf) moved(l *laid) outlineOf {
	out := outlineOf{flat: o.flat, rounds: movedRounds(o.rounds, l.motion), corners: make([]r3.Vec, len(o.corners))}
	for k, c := range o.corners {
		out.corners[k] = l.motion.Apply(c)
	}
	return out
}

// findOpenings follows the inner edges of flat faces through the part: one that
// leads to a face on the other side, and is no round hole, is an opening. Each is
// listed once, by its tighter edge.
func (s *shape) findOpenings() []opening {
	var out []opening
	owner := map[int32]int{} // wall face -> index of its opening
	for k := range s.flats {
		f := &s.flats[k]
		for n, l := range f.loops {
			if n == 0 || f.facet || l.falls < mostly || s.isHole(l) {
				continue
			}
			walls, through := s.through(l, f.Normal)
			if !through {
				continue
			}
			o := s.opening(f, l, walls)
			if old, known := owner[walls[0]]; known {
				if o.length()+o.breadth() < out[old].length()+out[old].breadth() {
					out[old] = o
				}
				continue
			}
			for _, w := range walls {
				owner[w] = len(out)
			}
			out = append(out, o)
		}
	}
	return out
}

// isHole reports whether an edge is the round mouth of one of the part's holes,
// flats of a bore apart.
func (s *shape) isHole(l loop) bool {
	for _, g := range l.across {
		if g >= 0 && s.flatOf[g] >= 0 && !s.flats[s.flatOf[g]].facet && s.isWall(g) {
			return false
		}
	}
	for _, h := range s.holes {
		round := true
		for k, c := range l.corners {
			mid := r3.Scale(0.5, r3.Add(c, l.corners[(k+1)%len(l.corners)]))
			d := r3.Sub(mid, h.Centre)
			if flat := flatPart(d, h.Axis); flat > max(h.Diameter/2+h.Chamfer, h.HeadDiameter/2)+mouthDepth || math.Abs(r3.Dot(d, h.Axis)) > h.Depth/2+mouthDepth {
				round = false
				break
			}
		}
		if round {
			return true
		}
	}
	return false
}

// isWall reports whether a face belongs to a flat face that runs along the axis of
// a round wall beside it: the flat of a bore, not the floor of a counterbore.
func (s *shape) isWall(g int32) bool {
	n := s.flats[s.flatOf[g]].Normal
	for _, id := range s.flats[s.flatOf[g]].loops[0].across {
		if id < 0 || s.Features.Skin.Round[id] < 0 {
			continue
		}
		if r := s.Features.Rounds[s.Features.Skin.Round[id]]; r.Concave && math.Abs(r3.Dot(r.Axis, n)) < across {
			return true
		}
	}
	return false
}

// across is the cosine of an angle between two directions that are square to each
// other, six degrees either way: draft angles are 1 to 3 (common practice).
const across = 0.1

// wallSlope is the cosine between a face and another from which the second is no
// wall of the first any more: a chamfer of 45 degrees still is.
const wallSlope = 0.9

// through follows walls from an edge of a face that looks along n and reports
// whether they lead to a face that looks the other way.
func (s *shape) through(l loop, n r3.Vec) (walls []int32, is bool) {
	seen := map[int32]bool{}
	add := func(g int32) {
		if g < 0 || seen[g] {
			return
		}
		rounded := s.Features.Skin.Round[g] >= 0 // a rounded edge, however flat it begins
		switch c := r3.Dot(s.Features.Skin.Patches[s.Features.Skin.Patch[g]].Normal, n); {
		case c < -wallSlope && !rounded:
			is = true
		case c < wallSlope || rounded:
			seen[g] = true
			walls = append(walls, g)
		}
	}
	for _, g := range l.across {
		add(g)
	}
	for k := 0; k < len(walls); k++ {
		for _, g := range s.Features.Skin.Neighbour[walls[k]] {
			add(g)
		}
	}
	return walls, is && len(walls) > 0
}

func (s *shape) opening(f *flat, l loop, walls []int32) opening {
	o := opening{kind: windowOpening, normal: f.Normal, edge: outlineOf{corners: l.corners, flat: make([]bool, len(l.corners))}}
	for k, g := range l.across {
		o.edge.flat[k] = g >= 0 && s.flatOf[g] >= 0 && !s.flats[s.flatOf[g]].facet
	}
	for _, g := range walls {
		if r := s.Features.Skin.Round[g]; r >= 0 && !slices.Contains(o.rounds, int(r)) {
			o.rounds = append(o.rounds, int(r))
		}
		if k := int(s.flatOf[g]); k >= 0 && !s.flats[k].facet && !slices.Contains(o.walls, k) && math.Abs(r3.Dot(s.flats[k].Normal, f.Normal)) < across {
			o.walls = append(o.walls, k)
		}
	}
	var ends []feature.Round
	for _, r := range o.rounds {
		w := s.Features.Rounds[r]
		o.edge.rounds = append(o.edge.rounds, w)
		if w.Concave && w.ArcDeg >= halfRound {
			ends = append(ends, w)
		}
		if w.Concave && w.ArcDeg >= mostRound && len(o.walls) > 0 {
			o.kind = flatOpening
		}
	}
	if o.kind == windowOpening && len(ends) == 2 && math.Abs(ends[0].Radius-ends[1].Radius) < coincide {
		o.kind = slotOpening
	}
	longest := 0.0
	for k, c := range l.corners {
		if d := r3.Sub(l.corners[(k+1)%len(l.corners)], c); r3.Norm(d) > longest {
			longest, o.along = r3.Norm(d), r3.Unit(d)
		}
	}
	if o.kind == slotOpening { // its flanks may be shorter than the chords of its ends
		d := r3.Sub(ends[1].Centre, ends[0].Centre)
		if d = r3.Sub(d, r3.Scale(r3.Dot(d, o.normal), o.normal)); r3.Norm(d) > coincide {
			o.along = r3.Unit(d)
		}
	}
	o.at = o.centre()
	return o
}

func (o opening) aside() r3.Vec { return r3.Cross(o.normal, o.along) }

// extent returns where the opening begins and ends along a direction.
func (o opening) extent(d r3.Vec) (low, high, unsure float64) {
	high, a := o.edge.reach(d)
	low, b := o.edge.reach(r3.Scale(-1, d))
	return -low, high, a + b
}

func (o opening) length() float64  { low, high, _ := o.extent(o.along); return high - low }
func (o opening) breadth() float64 { low, high, _ := o.extent(o.aside()); return high - low }

// centre is the middle of the opening's extents, on the face it opens in.
func (o opening) centre() r3.Vec {
	at := r3.Scale(r3.Dot(o.edge.corners[0], o.normal), o.normal)
	for _, d := range [2]r3.Vec{o.along, o.aside()} {
		low, high, _ := o.extent(d)
		at = r3.Add(at, r3.Scale((low+high)/2, d))
	}
	return at
}

// moved returns the opening as a motion lays it.
func (o opening) moved(l *laid) opening {
	o.edge = o.edge.moved(l)
	o.normal, o.along, o.at = l.motion.Turn(o.normal), l.motion.Turn(o.along), l.motion.Apply(o.at)
	return o
}
