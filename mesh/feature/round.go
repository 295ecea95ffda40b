package feature

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
)

// Round is a connected patch of faces on one circular cylinder: a bore, a boss,
// a rounded corner or a fillet along a straight edge.
type Round struct {
	Axis, Centre r3.Vec  // unit; the point of the axis halfway along the patch
	Radius       float64 // of the circle on which the corners lie, mm
	Concave      bool    // the material is outside the circle
	ArcDeg       float64 // how far round the patch goes, up to 360
	From, To     float64 // ends along Axis, mm from Centre
	Faces        []int32 // ascending
}

const (
	chordLimit = 46   // degrees, a coarser polygon than eight chords is no circle
	partArc    = 20.0 // degrees, a shorter arc is not called round
	seedFaces  = 24   // faces that a first fit looks at
	seedChords = 5    // and planar patches

	// mostSeedFaces bounds a seed where chords are split finely: seedChords chords in
	// seedFaces rows of four triangles.
	mostSeedFaces = 20 * seedFaces
	// leastLimit is the turn in degrees up to which edges always count as smooth when a
	// seed grows: of a round of 36 chords and more nothing sharper is next to it.
	leastLimit = 10
	// sharpCones is the turn of a seed, in degrees, above which the edge of a 45 degree
	// cone is hardly sharper than the wall: 14 chords and fewer.
	sharpCones = 25
	// mostGrowth is how many times a patch is grown and fitted again; it triples each
	// time at most.
	mostGrowth = 40
	// leansOn is the cosine to a wall's normals below which a plane may be what the wall
	// stands on.
	leansOn = 0.5
	// bothWays is the least eigenvalue of the normals' moments over the middle one from
	// which a patch curves both ways: a tenth is a cone of 18 degrees.
	bothWays = 0.1
	// mostUneven is how much more than the bend it starts from an edge of a seed may turn,
	// as a factor, and nearlyEven the same for walls drawn evenly; leastUneven is how much
	// less where flat walls that touch a rounded corner are left out: there the edge turns
	// half as much. TestRoundedCornersBesideFlats.
	mostUneven, leastUneven, nearlyEven = 1.2, 0.75, 1.04
	// mostSpan is the angle in degrees that an edge of a face on a round may span: eight
	// chords split irregularly span more than 46, a hexagon's 60.
	mostSpan = 58
	// seedsOfFace and growthsOfFace are how often a face may begin a seed, and be in a
	// patch that came to nothing.
	seedsOfFace, growthsOfFace = 2, 4
	// leastLean is how far a face must look along the radius when its corners lie on the
	// circle, for low rows of an irregular wall are folded steeply; chordLean when one
	// lies within, as of a chord that was split.
	leastLean, chordLean = 0.3, 0.7
)

// The evenness of seeds, tried in turn: see evenness.
var evennesses = [3]evenness{{most: mostUneven}, {most: mostUneven, least: leastUneven}, {most: nearlyEven}}

var (
	spanCos    = math.Cos(mostSpan * math.Pi / 180)
	chordDepth = math.Cos(chordLimit / 2 * math.Pi / 180) // least distance of a chord over the radius
)

// growRounds finds the round walls. Patches start at edges where planar patches
// meet at a small angle. Walls that go fully round are found first: a small
// patch of an irregularly split bore can look like part of another cylinder.
func (s *surface) growRounds() []Round {
	taken := make([]bool, len(s.Mesh.Faces))
	bends := s.bends()
	var out []Round
	for _, arc := range [2]float64{FullArc, partArc} {
		var t trials
		t.tried, t.grown = make([]int8, len(s.Mesh.Faces)), make([]int8, len(s.Mesh.Faces))
		for _, e := range bends {
			if taken[e.f] || taken[e.g] || !t.worth(e) {
				continue
			}
			t.tried[e.f]++
			t.tried[e.g]++
			r, ok := s.roundAt(e, taken, arc)
			if !ok {
				t.failed(r.Faces)
				continue
			}
			out = append(out, r)
			for _, f := range r.Faces {
				taken[f] = true
			}
		}
	}
	return joinArcs(s, out)
}

// roundAt grows a round of at least arc degrees from a bend. Of one that comes to
// nothing the faces alone are returned.
func (s *surface) roundAt(e bend, taken []bool, arc float64) (r Round, ok bool) {
	for _, even := range evennesses {
		seed := s.smooth(e, taken, even)
		for _, fit := range [2]func([]int32) (cylinder, bool){s.fitSquare, s.fitRound} {
			c, fits := fit(seed)
			if !fits {
				continue
			}
			if r, ok = s.growRound(c, seed, taken); ok {
				return r, r.ArcDeg >= arc
			}
		}
		if e.turn <= sharpCones && even.least > 0 {
			break
		}
	}
	return r, false
}

// evenness is how much more and less than the bend it starts from an edge of a
// seed may turn, as a factor. The first try takes all that bends little, for walls
// split unevenly. The second leaves out flat walls that touch a rounded corner,
// where the edge turns half as much: TestRoundedCornersBesideFlats.
type evenness struct{ most, least float64 }

// trials remembers where no wall was found, so that surfaces that curve both
// ways, of which every small part passes for a cylinder, are not tried forever.
type trials struct {
	tried []int8 // per face, how often it began a seed
	grown []int8 // per face, how often it was in a patch that came to nothing
}

func (t *trials) worth(e bend) bool {
	return t.tried[e.f] < seedsOfFace && t.tried[e.g] < seedsOfFace && t.grown[e.f] < growthsOfFace && t.grown[e.g] < growthsOfFace
}

func (t *trials) failed(faces []int32) {
	for _, f := range faces {
		if t.grown[f] < growthsOfFace {
			t.grown[f]++
		}
	}
}

// bend is an edge between two planar patches.
type bend struct {
	f, g int32
	turn float64 // degrees
}

// bends lists the edges at which a round may begin, the smoothest first, by whole
// degrees: noise in the angle must not decide the order.
func (s *surface) bends() []bend {
	var byTurn [chordLimit + 1][]bend
	for f := range s.Mesh.Faces {
		for _, g := range s.neighbour[f] {
			if int32(f) >= g || s.plane[f] == s.plane[g] || s.sliver[f] || s.sliver[g] {
				continue
			}
			if t := s.turn(int32(f), g); t <= chordLimit {
				whole := int(math.Round(t))
				byTurn[whole] = append(byTurn[whole], bend{int32(f), g, t})
			}
		}
	}
	return slices.Concat(byTurn[:]...)
}

// smooth floods from a bend over edges that turn little more than the bend
// itself, and no less than asked, up to seedFaces faces and, where chords are split finely, on to
// seedChords planar patches.
func (s *surface) smooth(e bend, taken []bool, even evenness) []int32 {
	limit, least := min(chordLimit, max(leastLimit, even.most*e.turn+1)), even.least*e.turn
	s.reached.clear()
	s.reached.add(e.f)
	s.reached.add(e.g)
	seed := []int32{e.f, e.g}
	chords := map[int32]bool{s.plane[e.f]: true, s.plane[e.g]: true}
	for i := 0; i < len(seed) && (len(seed) < seedFaces || len(chords) < seedChords && len(seed) < mostSeedFaces); i++ {
		for _, g := range s.neighbour[seed[i]] {
			if g < 0 || s.reached.has(g) || taken[g] {
				continue
			}
			if turn := s.turn(seed[i], g); turn > limit || turn < least && s.plane[seed[i]] != s.plane[g] {
				continue
			}
			s.reached.add(g)
			seed = append(seed, g)
			chords[s.plane[g]] = true
		}
	}
	return seed
}

// growRound floods from the seed over what lies on the cylinder that was fitted
// to it, fits again, and repeats until the patch no longer changes. Of a patch
// that fails after it has grown, the faces alone are returned.
func (s *surface) growRound(c cylinder, seed []int32, taken []bool) (Round, bool) {
	faces, points := seed, s.creases(seed)
	var grown Round
	for i := range mostGrowth {
		if c.radius > s.size || c.worst(points) > s.tolerance(c.radius) {
			return grown, false
		}
		more := s.flood(c, faces, taken, 3*len(faces))
		if len(more) < 3 {
			return Round{}, false
		}
		same := i > 0 && len(more) == len(faces)
		faces, grown.Faces = more, more
		if same {
			return s.round(c, faces)
		}
		points = s.creases(faces)
		c = c.refine(points)
	}
	return s.round(c, faces)
}

// fitSquare fits a cylinder that stands square on the broadest plane next to the
// faces, as nearly every hole does. The normals of a low wall that is split
// irregularly at few chords lean too much to tell its axis.
func (s *surface) fitSquare(faces []int32) (cylinder, bool) {
	var base Patch
	for _, f := range faces {
		for _, g := range s.neighbour[f] {
			if g < 0 {
				continue
			}
			p := s.planes[s.plane[g]]
			if p.Area > base.Area && math.Abs(r3.Dot(p.Normal, s.normal[f])) < leansOn {
				base = p
			}
		}
	}
	if base.Area == 0 {
		return cylinder{}, false
	}
	return circleThrough(s.creases(faces), base.Normal)
}

// fitRound fits a cylinder to the corners of a few faces; the axis starts as
// the direction to which their normals are most nearly perpendicular.
func (s *surface) fitRound(faces []int32) (cylinder, bool) {
	var m [6]float64
	for _, f := range faces {
		n, w := s.normal[f], s.area[f]
		m[0] += w * n.X * n.X
		m[1] += w * n.X * n.Y
		m[2] += w * n.X * n.Z
		m[3] += w * n.Y * n.Y
		m[4] += w * n.Y * n.Z
		m[5] += w * n.Z * n.Z
	}
	axis, flat := leastDirection(m)
	if flat > bothWays {
		return cylinder{}, false
	}
	points := s.creases(faces)
	c, ok := circleThrough(points, axis)
	if !ok {
		return cylinder{}, false
	}
	return c.refine(points), true
}

// flood collects connected faces that lie on the cylinder, from the seed faces
// that do, up to limit faces.
func (s *surface) flood(c cylinder, seed []int32, taken []bool, limit int) []int32 {
	inward := 0.0
	for _, f := range seed {
		inward -= s.area[f] * s.lean(c, f)
	}
	s.reached.clear()
	chord := map[int32]bool{}
	isChord := func(f int32) bool {
		is, known := chord[s.plane[f]]
		if !known {
			is = s.isChord(c, s.plane[f])
			chord[s.plane[f]] = is
		}
		return is
	}
	var out []int32
	for _, f := range seed {
		if s.on(c, f, inward > 0) && isChord(f) {
			s.reached.add(f)
			out = append(out, f)
		}
	}
	for i := 0; i < len(out) && len(out) < limit; i++ {
		f := out[i]
		for k, g := range s.neighbour[f] {
			if g < 0 || s.reached.has(g) || taken[g] {
				continue
			}
			if s.plane[f] != s.plane[g] && !s.creaseOn(c, f, k) {
				continue
			}
			s.reached.add(g)
			if s.on(c, g, inward > 0) && isChord(g) {
				out = append(out, g)
			}
		}
	}
	return out
}

// isChord reports whether a planar patch may be a chord of the cylinder as a whole:
// the small triangles at the edge of a flat lie as near to the circle as those of a
// chord do. TestTheFlatOfABoreIsNoChord.
func (s *surface) isChord(c cylinder, plane int32) bool {
	within := s.tolerance(c.radius)
	for _, f := range s.planes[plane].Faces {
		for _, id := range s.Mesh.Faces[f] {
			if _, radial := c.at(s.Vertices[id]); vector.Length(radial) < c.radius*chordDepth-within {
				return false
			}
		}
	}
	return true
}

// creaseOn reports whether edge k of a face lies on the cylinder.
func (s *surface) creaseOn(c cylinder, f int32, k int) bool {
	v := s.Mesh.Faces[f]
	within := s.tolerance(c.radius)
	return math.Abs(c.off(s.Vertices[v[k]])) <= within && math.Abs(c.off(s.Vertices[v[(k+1)%3]])) <= within
}

// on reports whether a face may be part of the cylinder: its corners no further
// out than the circle and no further in than a chord, spanning no more than
// eight uneven chords may, looking inward or outward as asked.
func (s *surface) on(c cylinder, f int32, inward bool) bool {
	within := s.tolerance(c.radius)
	a, b, d := s.Triangle(int(f))
	p := [3]r3.Vec{a, b, d}
	var radial [3]r3.Vec
	least := leastLean
	for k := range p {
		_, radial[k] = c.at(p[k])
		r := vector.Length(radial[k])
		if r > c.radius+within || r < c.radius*chordDepth-within {
			return false
		}
		if r < c.radius-within {
			least = chordLean
		}
	}
	for k := range p {
		q := radial[(k+1)%3]
		if r3.Dot(radial[k], q) < spanCos*vector.Length(radial[k])*vector.Length(q) {
			return false
		}
	}
	if s.sliver[f] {
		return true
	}
	lean := s.lean(c, f)
	return inward == (lean < 0) && math.Abs(lean) > least
}
