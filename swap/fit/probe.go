package fit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/vector"
)

// probe finds where the new part has the face that points of an old face lie on.
func (l *laid) probe(points []r3.Vec, n r3.Vec) (shift, tilt, left float64) {
	var at []float64
	var tilts []float64
	kept := 0
	for _, p := range points {
		t, face, ok := l.level(p, n, sameWay, reach)
		if !ok {
			continue
		}
		at = append(at, t)
		tilts = append(tilts, vector.DegreesBetween(l.looks[face], n))
		if math.Abs(t) < coincide {
			kept++
		}
	}
	if len(at) == 0 {
		return 0, 0, 0
	}
	share := func(n int) float64 { return float64(n) / float64(len(points)) }
	slices.Sort(tilts)
	if share(kept) >= seatGrip {
		return 0, 0, share(kept)
	}
	// the level on which most of the points lie
	slices.Sort(at)
	from, most := 0, 0
	for i := range at {
		j := i
		for j < len(at) && at[j]-at[i] <= 2*coincide {
			j++
		}
		if j-i > most {
			from, most = i, j-i
		}
	}
	tilt = tilts[len(tilts)/2]
	if tilt > tiltSeen {
		return at[len(at)/2], tilt, share(len(at))
	}
	return at[from+most/2], 0, share(most)
}

// standsOut reports whether a face without holes is one that a flat thing would
// touch: it is the outermost, or falls away all around, is parallel to a face with
// holes, and is at least as wide as it stands out. Ribs are higher than wide.
func (c *comparison) standsOut(f *flat) bool {
	if !f.touches() || c.topsSpigot(f) {
		return false
	}
	parallel := slices.ContainsFunc(c.old.flats, func(o flat) bool {
		return len(o.mouths) > 0 && math.Abs(r3.Dot(o.Normal, f.Normal)) > halfDegree
	})
	return parallel && f.width() >= c.height(f)
}

// topsSpigot reports whether a face is the top of a spigot, whose height is
// compared as such.
func (c *comparison) topsSpigot(f *flat) bool {
	return slices.ContainsFunc(c.old.spigots, func(p spigot) bool {
		return p.locates && slices.ContainsFunc(p.top, func(k int) bool { return f == &c.old.flats[k] })
	})
}

// touches reports whether a flat thing larger than the face can lie on it.
func (f *flat) touches() bool { return f.extreme || f.proud }

// height returns how far a face stands above the next face below it that looks the
// same way and reaches further, or the part's thickness there, mm.
func (c *comparison) height(f *flat) float64 {
	drop := math.Inf(1)
	for k := range c.old.flats {
		o := &c.old.flats[k]
		if o.facet || o == f || math.Abs(r3.Dot(o.Normal, f.Normal)) < halfDegree {
			continue
		}
		if d := r3.Dot(f.Normal, r3.Sub(f.Centroid, o.Centroid)); d > coincide {
			drop = min(drop, d)
		}
	}
	if math.IsInf(drop, 1) {
		return 0
	}
	return drop
}

// seatGrip is the share of points that decides that a face is where it was though
// the rest of it is gone: with a tenth of it left it is still touched first.
const seatGrip = 0.1
