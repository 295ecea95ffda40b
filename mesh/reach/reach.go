// Package reach tells what a cutter that comes straight down an axis finds on a
// part: which surface it sees and which lies under something, how thick the
// material is, how wide and deep the air beside a wall, and how tight the inside
// corners.
//
// The surface is looked at in samples, some thousand points spread evenly over it
// and at least a few on every face and round, so that the time grows with the
// number of triangles only in preparing the mesh. It knows nothing of machines:
// what is too thin or too deep is for the reader to say. All lengths are mm.
package reach

import (
	"math"
	"sync"

	"swapworth/mesh"
	"swapworth/mesh/feature"

	"gonum.org/v1/gonum/spatial/r3"
)

// View is a part as a cutter sees it. It may be asked from several goroutines at once.
type View struct {
	Mesh     *mesh.Mesh
	Features feature.Features
	Square   feature.Square
	Box      mesh.Box // along the square directions

	// Ways are unit vectors out of the part, against which a cutter may come: both
	// senses of the square directions first, then those of oblique holes, and of
	// oblique faces that no other way sees.
	Ways    []r3.Vec
	Samples []Sample

	rays  *mesh.Rays
	far   float64   // further than the part reaches
	lift  float64   // how far above a surface rays start: clear of the file's rounding
	owner []int32   // per mesh face: the round, or after those the patch it is on
	slack []float64 // of every round: how far its chords stand off the circle

	asked   sync.Mutex // guards what is found when it is first asked for:
	touch   map[[2]int32]bool
	extents []span // of every patch along the square directions; nil until then
}

// Sample is a point of the surface that stands for some area around it.
type Sample struct {
	At     r3.Vec
	Normal r3.Vec  // unit, out of the material
	Area   float64 // mm2
	Face   int32   // of the mesh
	Seen   uint32  // bit k: the surface is free along Ways[k] and does not look away from it

	// A tessellated surface is not the drawn one: loose is how far the chords around
	// the sample may stand off it, mm, and lean the sine of how far the sample's own
	// may be turned from it. On a round, At and Normal are put right by the circle.
	loose, lean float64
}

const (
	sampleBudget = 4000 // points on one part: 2 mm apart on a plate of 120 x 70 mm
	leastSamples = 8    // on one face or round, where there are not too many of them
	maxWays      = 26   // Seen has 32 bits

	// lookAway is the sine of how far a wall may lean over and still count as
	// upright: one degree, far above rounding and below any drawn draft.
	lookAway = 0.0175
	parallel = 0.9999 // cosine within which two directions are one: 0.8 degrees
)

// Look samples a part and finds what is seen along which way.
func Look(m *mesh.Mesh, f feature.Features, square feature.Square) *View {
	v := &View{Mesh: m, Features: f, Square: square, Box: square.Box(m), rays: mesh.NewRays(m), touch: map[[2]int32]bool{}}
	v.far = 2 * r3.Norm(v.Box.Size())
	b := m.Bounds()
	largest := max(math.Abs(b.Min.X), math.Abs(b.Min.Y), math.Abs(b.Min.Z), math.Abs(b.Max.X), math.Abs(b.Max.Y), math.Abs(b.Max.Z))
	v.lift = max(1e-3, 64*largest*0x1p-23) // mm; corners are rounded to float32
	v.measureSlack()
	v.sample()
	for _, d := range square {
		v.addWay(d)
		v.addWay(r3.Scale(-1, d))
	}
	for _, h := range f.Holes {
		if math.Abs(r3.Dot(h.Axis, square[0])) < parallel && math.Abs(r3.Dot(h.Axis, square[1])) < parallel && math.Abs(r3.Dot(h.Axis, square[2])) < parallel {
			v.addWay(h.Axis)
			if h.Open {
				v.addWay(r3.Scale(-1, h.Axis))
			}
		}
	}
	v.addOwn()
	return v
}

// addOwn adds the ways straight onto planar faces that no other way sees. Facets of
// a curved surface, such as the flanks of a drawn thread, are not milled from as many
// sides; and of a surface that no way at all sees, a few are tried and not each of
// thousands.
func (v *View) addOwn() {
	const tries = 24
	n := 0
	for i := range v.Samples {
		if s := &v.Samples[i]; s.Seen == 0 && !s.facet() && n < tries && v.free(v.above(*s), s.Normal) {
			v.addWay(s.Normal)
			n++
		}
	}
}

// addWay looks along one more direction, unless it is known or sees nothing that
// the first six do not see anyway.
func (v *View) addWay(d r3.Vec) {
	if len(v.Ways) >= maxWays {
		return
	}
	for _, w := range v.Ways {
		if r3.Dot(w, d) > parallel {
			return
		}
	}
	bit, news := uint32(1)<<len(v.Ways), len(v.Ways) < 6
	var seen []int
	for i := range v.Samples {
		s := &v.Samples[i]
		if r3.Dot(s.Normal, d) > -s.lean && v.free(v.above(*s), d) {
			seen = append(seen, i)
			news = news || s.Seen == 0
		}
	}
	if !news {
		return
	}
	v.Ways = append(v.Ways, d)
	for _, i := range seen {
		v.Samples[i].Seen |= bit
	}
}

// free reports whether nothing stands in the way from a point.
func (v *View) free(from, way r3.Vec) bool {
	_, hit := v.rays.First(from, way, v.far)
	return hit < 0
}

// above is a point in the air just above a sample, clear of the chords around it;
// below is one in the material just beneath it, and how deep.
func (v *View) above(s Sample) r3.Vec { return r3.Add(s.At, r3.Scale(s.loose+v.lift, s.Normal)) }

func (v *View) below(s Sample) (at r3.Vec, depth float64) {
	depth = s.loose + v.lift
	return r3.Sub(s.At, r3.Scale(depth, s.Normal)), depth
}

// Sees reports whether a sample is seen along a way.
func (s Sample) Sees(way int) bool { return s.Seen>>way&1 == 1 }

// sample spreads the points. Faces are walked round by round and patch by patch;
// of small ones every so many mm2 gives a point, large ones are divided evenly.
func (v *View) sample() {
	skin := v.Features.Skin
	rounds := len(v.Features.Rounds)
	v.owner = make([]int32, len(v.Mesh.Faces))
	area := make([]float64, rounds+len(skin.Patches))
	faces := make([]float64, len(v.Mesh.Faces))
	total, owners := 0.0, 0
	for f := range v.Mesh.Faces {
		o := skin.Round[f]
		if o < 0 {
			o = int32(rounds) + skin.Patch[f]
		}
		v.owner[f] = o
		a, b, c := v.Mesh.Triangle(f)
		faces[f] = r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
		if area[o] == 0 && faces[f] > 0 {
			owners++
		}
		area[o] += faces[f]
		total += faces[f]
	}
	if total == 0 {
		return
	}
	step, least := total/sampleBudget, float64(min(leastSamples, sampleBudget/(2*max(1, owners))))
	due := make([]float64, len(area))
	common := 0.5 // of owners too many to have points of their own
	for f := range v.Mesh.Faces {
		o := v.owner[f]
		each, count := step, &common
		if least >= 1 {
			each, count = min(step, area[o]/least), &due[o]
		}
		if faces[f] == 0 {
			continue
		}
		*count += faces[f] / each
		if n := math.Floor(*count + 1e-9); n >= 1 {
			*count -= n
			v.divide(int32(f), int(math.Ceil(math.Sqrt(n))), faces[f], n*each)
		}
	}
}

// divide puts a point into each of k x k equal parts of a face, which together
// stand for share mm2 of surface.
func (v *View) divide(f int32, k int, area, share float64) {
	a, b, c := v.Mesh.Triangle(int(f))
	ab, ac := r3.Scale(1/float64(k), r3.Sub(b, a)), r3.Scale(1/float64(k), r3.Sub(c, a))
	one := Sample{Normal: r3.Unit(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))), Face: f, lean: lookAway}
	v.loosen(&one)
	if k > 1 {
		share = area
	}
	one.Area = share / float64(k*k)
	put := func(i, j float64) {
		s := one
		s.At = r3.Add(a, r3.Add(r3.Scale(i, ab), r3.Scale(j, ac)))
		if r := v.round(f); r != nil {
			v.settle(&s, *r)
		}
		v.Samples = append(v.Samples, s)
	}
	for i := range k {
		for j := range k - i {
			put(float64(i)+1./3, float64(j)+1./3)
			if j < k-i-1 {
				put(float64(i)+2./3, float64(j)+2./3)
			}
		}
	}
}

// facet reports whether a sample is on a flat piece of a surface that curves on and
// is no round.
func (s Sample) facet() bool { return s.lean > lookAway }

// settle puts a sample onto the circle of its round.
func (v *View) settle(s *Sample, r feature.Round) {
	d := r3.Sub(s.At, r.Centre)
	along := r3.Scale(r3.Dot(d, r.Axis), r.Axis)
	radial := r3.Sub(d, along)
	if n := r3.Norm(radial); n > 0 {
		out := r3.Scale(1/n, radial)
		s.At = r3.Add(r.Centre, r3.Add(along, r3.Scale(r.Radius, out)))
		s.Normal, s.loose = out, v.slack[v.Features.Skin.Round[s.Face]]
		if r.Concave {
			s.Normal = r3.Scale(-1, out)
		}
	}
}

// measureSlack finds how far the chords of every round stand off its circle.
func (v *View) measureSlack() {
	v.slack = make([]float64, len(v.Features.Rounds))
	for i, r := range v.Features.Rounds {
		for _, f := range r.Faces {
			a, b, c := v.Mesh.Triangle(int(f))
			for _, edge := range [3][2]r3.Vec{{a, b}, {b, c}, {c, a}} {
				d := r3.Sub(r3.Scale(0.5, r3.Add(edge[0], edge[1])), r.Centre)
				off := r.Radius - r3.Norm(r3.Sub(d, r3.Scale(r3.Dot(d, r.Axis), r.Axis)))
				v.slack[i] = max(v.slack[i], off)
			}
		}
	}
}

// mostLoose bounds how far off a surface of facets the drawn one may be taken to be,
// mm: no gap that a cutter goes into is as narrow.
const mostLoose = 0.1

// loosen says how far a face of a surface that bends on smoothly may be off it: a
// chord c that turns by t stands off by c t/8, and its normal is off by up to t.
func (v *View) loosen(s *Sample) {
	skin := v.Features.Skin
	if skin.Round[s.Face] >= 0 {
		return
	}
	a, b, c := v.Mesh.Triangle(int(s.Face))
	longest := math.Sqrt(max(r3.Norm2(r3.Sub(b, a)), r3.Norm2(r3.Sub(c, b)), r3.Norm2(r3.Sub(a, c))))
	for _, g := range skin.Neighbour[s.Face] {
		if g < 0 || skin.Patch[g] == skin.Patch[s.Face] {
			continue
		}
		if turn := math.Acos(max(-1, min(1, r3.Dot(s.Normal, v.Normal(g))))); turn < sharpTurn {
			s.loose = max(s.loose, min(mostLoose, longest*turn/8))
			s.lean = max(s.lean, math.Sin(turn)) // folded low rows of a wall lean by more than half
		}
	}
}

// round returns the round that a mesh face lies on, nil for none.
func (v *View) round(f int32) *feature.Round {
	if r := v.Features.Skin.Round[f]; r >= 0 {
		return &v.Features.Rounds[r]
	}
	return nil
}

// InHole reports whether a sample is on the wall of a round hole.
func (v *View) InHole(s Sample) bool {
	r := v.round(s.Face)
	return r != nil && r.Concave && r.ArcDeg >= fullArc
}

// fullArc is from which arc a concave round is a hole, in degrees, as package
// feature has it.
const fullArc = 300

// onSkin is how far below a side of the box a face may lie and be the stock's own
// surface, mm: less than the shallowest step that is milled, more than a side of
// 100 mm is off where the square directions of a free form are a little askew.
const onSkin = 0.05

// OnSkin reports whether a sample lies on a side of the box around the part: where
// the stock's own surface may be.
func (v *View) OnSkin(s Sample) bool {
	low := [3]float64{v.Box.Min.X, v.Box.Min.Y, v.Box.Min.Z}
	high := [3]float64{v.Box.Max.X, v.Box.Max.Y, v.Box.Max.Z}
	for k, d := range v.Square {
		along, at := r3.Dot(s.Normal, d), r3.Dot(s.At, d)
		if along > parallel && high[k]-at < onSkin || along < -parallel && at-low[k] < onSkin {
			return true
		}
	}
	return false
}

// touching reports whether the surfaces of two mesh faces share an edge.
func (v *View) touching(f, g int32) bool {
	a, b := v.owner[f], v.owner[g]
	key := [2]int32{min(a, b), max(a, b)}
	v.asked.Lock()
	defer v.asked.Unlock()
	if known, ok := v.touch[key]; ok {
		return known
	}
	found := false
	from, to := f, b
	if v.size(g) < v.size(f) {
		from, to = g, a
	}
	for _, h := range v.facesOf(from) {
		for _, n := range v.Features.Skin.Neighbour[h] {
			found = found || n >= 0 && v.owner[n] == to
		}
	}
	v.touch[key] = found
	return found
}

func (v *View) size(f int32) int { return len(v.facesOf(f)) }

// facesOf returns the mesh faces of the round or patch that f is on.
func (v *View) facesOf(f int32) []int32 {
	if r := v.round(f); r != nil {
		return r.Faces
	}
	return v.Features.Skin.Patches[v.Features.Skin.Patch[f]].Faces
}
