package feature

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// sameWay is the angle in radians between faces that look the same way: the
	// rounding of float32 coordinates on a face a thousandth as long as the part is
	// far from the origin.
	sameWay = 1e-4

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

	mostWays = 12 // directions tried, those of the largest area
)

// way is a direction that flat faces look along, or about which round walls turn.
type way struct {
	unit r3.Vec
	area float64 // mm2
}

// OwnFrame returns the motion that turns a part which lies askew in its file, about
// the middle of its box, so that its flat faces and round walls follow the axes. Each
// axis keeps the name of the file's axis that is nearest to it. A part that follows
// the file's axes about as well as any stays, and so does one that is symmetric about
// them, as a vee is; askew is then false.
func (f Features) OwnFrame(m *mesh.Mesh) (turn mesh.Transform, askew bool) {
	ways, total := f.ways(m)
	spread := spreadOf(m)
	file := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	plain := along(ways, file)
	best, most := file, plain+max(worthTurn*(total-plain), fewestTurn*total)
	for i, a := range ways[:min(len(ways), mostWays)] {
		for _, b := range seconds(a, ways[i+1:min(len(ways), mostWays)]) {
			axes := [3]r3.Vec{a.unit, b, r3.Cross(a.unit, b)}
			if area := along(ways, axes); area > most && (spread.common(file) > tilted || spread.common(axes) < tilted) {
				best, most, askew = axes, area, true
			}
		}
	}
	if !askew {
		return mesh.Identity(), false
	}
	best = named(best)
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
func (f Features) ways(m *mesh.Mesh) (all []way, total float64) {
	for id := range m.Faces {
		total += faceArea(m, int32(id))
	}
	add := func(unit r3.Vec, area float64) {
		for i, w := range all {
			if r3.Norm(r3.Cross(w.unit, unit)) < sameWay {
				all[i].area += area
				return
			}
		}
		all = append(all, way{unit, area})
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
	slices.SortStableFunc(all, func(a, b way) int { return cmp.Compare(b.area, a.area) })
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
func seconds(a way, others []way) []r3.Vec {
	var out []r3.Vec
	square := func(v r3.Vec) r3.Vec { return r3.Unit(r3.Sub(v, r3.Scale(r3.Dot(v, a.unit), a.unit))) }
	for _, o := range others {
		if math.Abs(r3.Dot(o.unit, a.unit)) < sameWay {
			out = append(out, square(o.unit))
		}
	}
	across := r3.Vec{X: 1}
	for _, e := range []r3.Vec{{Y: 1}, {Z: 1}} {
		if math.Abs(r3.Dot(e, a.unit)) < math.Abs(r3.Dot(across, a.unit)) {
			across = e
		}
	}
	return append(out, square(across))
}

// along returns the area that follows one of three axes.
func along(all []way, axes [3]r3.Vec) (area float64) {
	for _, w := range all {
		for _, e := range axes {
			if r3.Norm(r3.Cross(w.unit, e)) < sameWay {
				area += w.area
				break
			}
		}
	}
	return area
}

// named orders orthonormal axes by the file's axes they are nearest to, pointing the
// same way and right-handed.
func named(axes [3]r3.Vec) [3]r3.Vec {
	var best [3]r3.Vec
	most := -1.0
	for _, p := range [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		var try [3]r3.Vec
		sum := 0.0
		for m, k := range p {
			c := mesh.Axis(m).Of(axes[k])
			sum += math.Abs(c)
			try[m] = r3.Scale(math.Copysign(1, c), axes[k])
		}
		if sum > most+1e-9 {
			best, most = try, sum
		}
	}
	if r3.Dot(r3.Cross(best[0], best[1]), best[2]) < 0 { // cannot be, short of a tie: then one axis gives way
		best[2] = r3.Scale(-1, best[2])
	}
	return best
}
