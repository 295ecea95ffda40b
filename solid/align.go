package solid

import (
	"cmp"
	"math"
	"slices"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// Walls that a grid follows come out exactly with one cell through them; walls
// that cut through the cells at a slant need several. A part whose flat faces
// lie askew to the model's axes is therefore given a grid of its own direction.

// facing is a direction that flat faces look along or against: the sum of their
// area vectors, each turned to one side, mm2.
type facing struct {
	sum  r3.Vec
	area float64
}

func (d facing) unit() r3.Vec { return r3.Unit(d.sum) }

const (
	sameWay     = 1e-4 // radians between faces that look the same way: the rounding of small faces
	worthTurn   = 0.1  // share of the surface that must come to lie along the grid
	mostFacings = 8    // directions tried, those of the largest area
)

// alignedFrame returns the frame that the most of a part's surface follows: that
// of the model unless another gains a tenth of the surface.
func alignedFrame(m *mesh.Mesh) frame {
	plain := frameOf(m.Bounds())
	all, total := facings(m)
	best, most := [3]r3.Vec{}, followed(all, plain.axes)+worthTurn*total
	for i, d := range all[:min(len(all), mostFacings)] {
		for _, e := range all[i+1 : min(len(all), mostFacings)] {
			u, v := d.unit(), e.unit()
			if math.Abs(r3.Dot(u, v)) > sameWay {
				continue
			}
			v = r3.Unit(r3.Sub(v, r3.Scale(r3.Dot(u, v), u)))
			axes := [3]r3.Vec{u, v, r3.Cross(u, v)}
			if area := followed(all, axes); area > most {
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
		if v := d.unit(); math.Abs(r3.Dot(u, v)) < sameWay {
			v = r3.Unit(r3.Sub(v, r3.Scale(r3.Dot(u, v), u)))
			return turnedFrame(m, [3]r3.Vec{u, v, r3.Cross(u, v)})
		}
	}
	v := mesh.X.Unit()
	if math.Abs(u.X) > math.Abs(u.Y) {
		v = mesh.Y.Unit()
	}
	v = r3.Unit(r3.Cross(u, v))
	return turnedFrame(m, [3]r3.Vec{u, v, r3.Cross(u, v)})
}

// turnedFrame returns the frame along orthonormal axes that are not the model's.
func turnedFrame(m *mesh.Mesh, axes [3]r3.Vec) frame {
	axes = byModelAxis(axes)
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
func facings(m *mesh.Mesh) (all []facing, total float64) {
	at := map[[3]int32]int{}
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
			all = append(all, facing{})
		}
		all[i].sum = r3.Add(all[i].sum, n)
		all[i].area += area
	}
	slices.SortStableFunc(all, func(p, q facing) int { return cmp.Compare(q.area, p.area) })
	return all, total
}

// followed returns the area of the faces across one of the axes.
func followed(all []facing, axes [3]r3.Vec) (area float64) {
	for _, d := range all {
		for _, e := range axes {
			if r3.Norm(r3.Cross(d.sum, e)) < sameWay*r3.Norm(d.sum) {
				area += d.area
				break
			}
		}
	}
	return
}

// byModelAxis gives each model axis the one of three axes that is nearest to it,
// pointing the same way.
func byModelAxis(axes [3]r3.Vec) (out [3]r3.Vec) {
	best := -1.0
	for _, p := range [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		sum := 0.0
		for m, a := range p {
			sum += math.Abs(mesh.Axis(m).Of(axes[a]))
		}
		if sum <= best+1e-9 {
			continue
		}
		best = sum
		for m, a := range p {
			out[m] = axes[a]
			if mesh.Axis(m).Of(axes[a]) < 0 {
				out[m] = r3.Scale(-1, axes[a])
			}
		}
	}
	return
}
