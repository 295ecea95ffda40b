package feature

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/ways"
	"swapworth/mesh"
)

const (
	// worthTurn is the share of the surface that the file's axes do not follow, but
	// that must come to lie along a part's own before it is called askew: more than
	// half. A bar with two equal arms at an angle stays as it was drawn.
	worthTurn = 0.5

	// fewestTurn is the share of the whole surface below which nothing is turned: a
	// chamfer or two.
	fewestTurn = 0.02

	// tilted is the share of the spread of a part's surface that two axes may hold in
	// common and still count as its own: a tilt of one degree has 2 sin 1 degree.
	tilted = 0.035

	// mostWays is how many directions are tried, those of the largest area. A surface
	// that curves both ways has as many as facets, and pairs of them grow with the
	// square; a part of a mill has its three and a few more.
	mostWays = 12
)

// OwnFrame returns the motion that turns a part which lies askew in its file, about
// the middle of its box, so that its flat faces and round walls follow the axes. Each
// axis keeps the name of the file's axis that is nearest to it. A part that follows
// the file's axes about as well as any stays, and so does one that is symmetric about
// them, as a vee is; askew is then false.
func (f Features) OwnFrame(m *mesh.Mesh) (turn mesh.Transform, askew bool) {
	all, total := f.ways(m)
	spread := spreadOf(m)
	file := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	plain := ways.Along(all, file)
	best, most := file, plain+max(worthTurn*(total-plain), fewestTurn*total)
	for i, a := range all[:min(len(all), mostWays)] {
		for _, b := range seconds(a.Unit, all[i+1:min(len(all), mostWays)]) {
			axes := [3]r3.Vec{a.Unit, b, r3.Cross(a.Unit, b)}
			if area := ways.Along(all, axes); area > most && (spread.common(file) > tilted || spread.common(axes) < tilted) {
				best, most, askew = axes, area, true
			}
		}
	}
	if !askew {
		return mesh.Identity(), false
	}
	best = ways.Named(best)
	turn = mesh.Transform{}
	for row, e := range best {
		turn.Rotation[row] = [3]float64{e.X, e.Y, e.Z}
	}
	middle := m.Bounds().Center()
	turn.Shift = r3.Sub(middle, turn.Turn(middle))
	return turn, true
}

// Sides says in words which sides of a straightened part its axes follow, and how
// they run in the file; box is that of the straightened part.
func Sides(turn mesh.Transform, box mesh.Box) string {
	size := box.Size()
	var parts []string
	for a, name := range []string{"x", "y", "z"} {
		r := turn.Rotation[a]
		parts = append(parts, fmt.Sprintf("%s is the side of %.4g mm, which runs along (%.2f, %.2f, %.2f) in the file", name, mesh.Axis(a).Of(size), r[0], r[1], r[2]))
	}
	return strings.Join(parts, "; ")
}

// ways lists the directions of flat faces and of the axes of round walls, those of
// the largest area first, and the area of the whole surface.
func (f Features) ways(m *mesh.Mesh) (all []ways.Way, total float64) {
	for id := range m.Faces {
		total += faceArea(m, int32(id))
	}
	add := func(unit r3.Vec, area float64) {
		for i, w := range all {
			if ways.One(w.Unit, unit) {
				all[i].Area += area
				return
			}
		}
		all = append(all, ways.Way{Unit: unit, Area: area})
	}
	for _, face := range f.Faces {
		add(face.Normal, face.Area)
	}
	for _, r := range f.Rounds {
		area := 0.0
		for _, id := range r.Faces {
			area += faceArea(m, id)
		}
		add(r.Axis, area)
	}
	slices.SortStableFunc(all, func(a, b ways.Way) int { return cmp.Compare(b.Area, a.Area) })
	return all, total
}

// tensor is the second moment of a surface about its centroid, mm4, by axis.
type tensor [3][3]float64

// spreadOf returns the second moment of a mesh's surface. A triangle with corners
// p_k about the centroid has A/12 (sum p_k p_k + 9 c c), with c its own centroid.
func spreadOf(m *mesh.Mesh) (out tensor) {
	var middle r3.Vec
	total := 0.0
	for id := range m.Faces {
		a, b, c := m.Triangle(id)
		area := faceArea(m, int32(id))
		middle = r3.Add(middle, r3.Scale(area/3, r3.Add(a, r3.Add(b, c))))
		total += area
	}
	middle = r3.Scale(1/total, middle)
	add := func(share float64, v r3.Vec) {
		x := [3]float64{v.X, v.Y, v.Z}
		for i := range 3 {
			for k := range 3 {
				out[i][k] += share * x[i] * x[k]
			}
		}
	}
	for id := range m.Faces {
		a, b, c := m.Triangle(id)
		a, b, c = r3.Sub(a, middle), r3.Sub(b, middle), r3.Sub(c, middle)
		share := faceArea(m, int32(id)) / 12
		for _, v := range []r3.Vec{a, b, c} {
			add(share, v)
		}
		add(9*share, r3.Scale(1.0/3, r3.Add(a, r3.Add(b, c))))
	}
	return out
}

// common returns the largest product moment of two axes over the spread along both.
func (t tensor) common(axes [3]r3.Vec) (worst float64) {
	of := func(a, b r3.Vec) (sum float64) {
		x, y := [3]float64{a.X, a.Y, a.Z}, [3]float64{b.X, b.Y, b.Z}
		for i := range 3 {
			for k := range 3 {
				sum += x[i] * t[i][k] * y[k]
			}
		}
		return sum
	}
	for i := range 3 {
		a, b := axes[i], axes[(i+1)%3]
		worst = max(worst, math.Abs(of(a, b))/(of(a, a)+of(b, b)))
	}
	return worst
}

func faceArea(m *mesh.Mesh, id int32) float64 {
	a, b, c := m.Triangle(int(id))
	return r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(c, a))) / 2
}

// seconds are the directions square to a that may be the second axis: those of
// others, and where there is none, as about a round bar, what is left of the file's
// axis that is most across it.
func seconds(a r3.Vec, others []ways.Way) []r3.Vec {
	var out []r3.Vec
	for _, o := range others {
		if ways.Across(o.Unit, a) {
			out = append(out, ways.Square(o.Unit, a))
		}
	}
	most := r3.Vec{X: 1}
	for _, e := range []r3.Vec{{Y: 1}, {Z: 1}} {
		if math.Abs(r3.Dot(e, a)) < math.Abs(r3.Dot(most, a)) {
			most = e
		}
	}
	return append(out, ways.Square(most, a))
}
