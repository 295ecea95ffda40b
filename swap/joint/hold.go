package joint

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

// Hold is what a solution says of one bolted hole: force, N, and moment about the
// middle of the hole, N mm, of bolt and seats on the part.
type Hold struct {
	Hole          feature.Hole
	Force, Moment r3.Vec
}

// Axial returns the force along the bolt, N. Which of its two ways pulls at the
// head depends on the side on which the part is seated, which nobody stated: either
// counts as tension.
func (h Hold) Axial() float64 { return math.Abs(r3.Dot(h.Force, r3.Unit(h.Hole.Axis))) }

// Shear returns the force across the bolt, by model axis: where it pushes the
// hole's wall to.
func (h Hold) Shear() r3.Vec { return acrossAxis(h.Force, h.Hole.Axis) }

// Prying returns the moment across the bolt, N mm, and Twist that about it.
func (h Hold) Prying() float64 { return r3.Norm(acrossAxis(h.Moment, h.Hole.Axis)) }

// Twist returns the moment about the bolt's axis, N mm.
func (h Hold) Twist() float64 { return math.Abs(r3.Dot(h.Moment, r3.Unit(h.Hole.Axis))) }

func acrossAxis(v, axis r3.Vec) r3.Vec {
	axis = r3.Unit(axis)
	return r3.Sub(v, r3.Scale(r3.Dot(v, axis), axis))
}

// CheckHold judges the bolt in a held hole of the part: j names thread, class,
// plate material and what it is screwed into; the hole, the metal around it and
// the loads of this bolt come from the part and its solution.
func CheckHold(m *mesh.Mesh, j Joint, h Hold) (Result, error) {
	margin, err := MarginOf(m, h.Hole)
	if err != nil {
		return Result{}, err
	}
	j.Hole, j.Thickness, j.Wall = h.Hole.Diameter, h.Hole.Depth-h.Hole.HeadDepth, margin.Wall
	shear := h.Shear()
	j.Axial, j.Shear, j.Prying, j.Twist = h.Axial(), r3.Norm(shear), h.Prying(), h.Twist()
	if j.Shear > 0 {
		if j.EdgeDistance, j.SideDistance, err = edgesAlong(m, h.Hole, shear); err != nil {
			return Result{}, err
		}
	}
	r, err := Check(j)
	if err != nil {
		return r, fmt.Errorf("hole %d: %w", h.Hole.Number, err)
	}
	return r, nil
}

// edgesAlong returns the distances, mm, of a hole's centre from the edge towards
// which a shear force pushes its wall, e1, and from the nearest edge beside it, e2,
// as EN 1993-1-8, figure 3.1, draws them: along the force and square to it, each
// over the width of the hole. Other holes are edges too. Infinite where there is
// none.
func edgesAlong(m *mesh.Mesh, h feature.Hole, shear r3.Vec) (end, side float64, err error) {
	end, side = math.Inf(1), math.Inf(1)
	for _, share := range depths {
		plane := across(h, share)
		region, err := cut.Section(m, plane)
		if err != nil {
			return end, side, fmt.Errorf("hole %d: %w", h.Number, err)
		}
		push := r2.Unit(r2.Vec{X: r3.Dot(shear, plane.U), Y: r3.Dot(shear, plane.V)})
		for _, p := range region {
			own := -1
			for i, loop := range p.Holes {
				if contains(loop, r2.Vec{}) {
					own = i
				}
			}
			if own < 0 {
				continue
			}
			for i, loop := range append([][]r2.Vec{p.Outer}, p.Holes...) {
				if i-1 == own {
					continue
				}
				e1, e2 := strips(loop, push, h.Diameter)
				end, side = min(end, e1), min(side, e2)
			}
		}
	}
	return end, side, nil
}

// stripRays is how many parallel rays look for an edge over the width of a hole.
const stripRays = 9

// strips returns how far a loop is from the origin along a direction, and on either
// side of it, over a width.
func strips(loop []r2.Vec, push r2.Vec, width float64) (end, side float64) {
	across := r2.Vec{X: -push.Y, Y: push.X}
	end, side = math.Inf(1), math.Inf(1)
	for k := range stripRays {
		off := width * (float64(k)/(stripRays-1) - 0.5)
		end = min(end, along(loop, r2.Scale(off, across), push))
		side = min(side, along(loop, r2.Scale(off, push), across), along(loop, r2.Scale(off, push), r2.Scale(-1, across)))
	}
	return end, side
}

// along returns how far from a point a ray first meets a loop.
func along(loop []r2.Vec, from, ray r2.Vec) float64 {
	first := math.Inf(1)
	for i := range loop {
		a, b := r2.Sub(loop[i], from), r2.Sub(loop[(i+1)%len(loop)], from)
		da, db := r2.Cross(ray, a), r2.Cross(ray, b)
		if (da > 0) == (db > 0) {
			continue
		}
		t := da / (da - db)
		if at := r2.Dot(ray, r2.Add(a, r2.Scale(t, r2.Sub(b, a)))); at > 0 {
			first = min(first, at)
		}
	}
	return first
}
