package solid

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/ways"
	"swapworth/mesh"
)

// Walls that a grid follows come out exactly with one cell through them; walls
// that cut through the cells at a slant need several. A part whose flat faces
// lie askew to the model's axes is therefore given a grid of its own direction.

const (
	worthTurn   = 0.1 // share of the surface that must come to lie along the grid
	mostFacings = 8   // directions tried, those of the largest area
)

// alignedFrame returns the frame that the most of a part's surface follows: that
// of the model unless another gains a tenth of the surface.
func alignedFrame(m *mesh.Mesh) frame {
	plain := frameOf(m.Bounds())
	all, total := facings(m)
	best, most := [3]r3.Vec{}, ways.Along(all, plain.axes)+worthTurn*total
	for i, d := range all[:min(len(all), mostFacings)] {
		for _, e := range all[i+1 : min(len(all), mostFacings)] {
			if !ways.Across(d.Unit, e.Unit) {
				continue
			}
			axes := across(d.Unit, ways.Square(e.Unit, d.Unit))
			if area := ways.Along(all, axes); area > most {
				best, most = axes, area
			}
		}
	}
	if best == [3]r3.Vec{} {
		return plain
	}
	return turnedFrame(m, best)
}

// frameAcross returns the frame with an axis along a direction, of unit length, and
// another across as much of the surface as can be.
func frameAcross(m *mesh.Mesh, u r3.Vec) frame {
	all, _ := facings(m)
	for _, d := range all {
		if ways.Across(u, d.Unit) {
			return turnedFrame(m, across(u, ways.Square(d.Unit, u)))
		}
	}
	v := mesh.X.Unit()
	if math.Abs(u.X) > math.Abs(u.Y) {
		v = mesh.Y.Unit()
	}
	return turnedFrame(m, across(u, r3.Unit(r3.Cross(u, v))))
}

// across completes two unit vectors at right angles to a frame.
func across(u, v r3.Vec) [3]r3.Vec { return [3]r3.Vec{u, v, r3.Cross(u, v)} }

// turnedFrame returns the frame along orthonormal axes that are not the model's.
func turnedFrame(m *mesh.Mesh, axes [3]r3.Vec) frame {
	axes = ways.Named(axes)
	lo := r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	hi := r3.Scale(-1, lo)
	for _, p := range m.Vertices {
		x := r3.Vec{X: r3.Dot(axes[0], p), Y: r3.Dot(axes[1], p), Z: r3.Dot(axes[2], p)}
		lo = r3.Vec{X: min(lo.X, x.X), Y: min(lo.Y, x.Y), Z: min(lo.Z, x.Z)}
		hi = r3.Vec{X: max(hi.X, x.X), Y: max(hi.Y, x.Y), Z: max(hi.Z, x.Z)}
	}
	f := frameAlong(axes, r3.Sub(hi, lo), m.Bounds().Center())
	f.turned = true
	return f
}

// facings lists the directions of the faces of a mesh, those of the largest area
// first, and the area of all.
func facings(m *mesh.Mesh) (all []ways.Way, total float64) {
	at := map[[3]int32]int{}
	var sums []r3.Vec // of the area vectors, each turned to one side
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		n := r3.Scale(0.5, r3.Cross(r3.Sub(b, a), r3.Sub(c, a)))
		area := r3.Norm(n)
		if area == 0 {
			continue
		}
		total += area
		u := r3.Scale(1/area, n)
		if main := cmp.Or(math.Round(1e3*u.X), math.Round(1e3*u.Y), math.Round(1e3*u.Z)); main < 0 {
			n, u = r3.Scale(-1, n), r3.Scale(-1, u)
		}
		key := [3]int32{int32(math.Round(1e3 * u.X)), int32(math.Round(1e3 * u.Y)), int32(math.Round(1e3 * u.Z))}
		i, ok := at[key]
		if !ok {
			i = len(all)
			at[key] = i
			all, sums = append(all, ways.Way{}), append(sums, r3.Vec{})
		}
		sums[i] = r3.Add(sums[i], n)
		all[i].Area += area
	}
	for i, sum := range sums {
		all[i].Unit = r3.Unit(sum)
	}
	slices.SortStableFunc(all, func(p, q ways.Way) int { return cmp.Compare(q.Area, p.Area) })
	return all, total
}
