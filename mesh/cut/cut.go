// Package cut takes sections of meshes and builds meshes from sections.
//
// A Region is a plane area with holes. Section cuts one out of a closed mesh, a
// Slicer many along an axis; Clip keeps the half below a plane; Extrude and Stack
// make a mesh of regions. All lengths are millimetres.
package cut

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/triangulation"
	"swapworth/mesh"
)

// Section returns the section of a closed mesh in a plane, in plane coordinates
// (u, v) in mm.
//
// A vertex exactly on the plane counts as above it, so the section is the limit
// of sections from below: where the plane lies in a flat face, the section is
// that of the side against Normal. Only at the part's lowest extent, where
// nothing lies below, it is the limit from above. Loops are closed by
// construction. Their nesting decides what is outline and what is hole: a loop
// at even depth bounds material, a loop at odd depth a hole. Points that repeat
// their neighbour or lie on the line between their neighbours (to 1e-12 of the
// part's size) are dropped. A plane that passes between two separate bodies
// gives an empty region.
//
// It is an error when the plane misses the part, with the part's extent in the
// message, and when the mesh is open where it is cut.
func Section(m *mesh.Mesh, p mesh.Plane) (Region, error) {
	height := make([]float64, len(m.Vertices))
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, v := range m.Vertices {
		h := p.Height(v)
		height[i] = h
		lo, hi = min(lo, h), max(hi, h)
	}
	if err := missed(p, lo, hi, len(m.Faces)); err != nil {
		return nil, err
	}
	faces := make([]int32, len(m.Faces))
	for f := range faces {
		faces[f] = int32(f)
	}
	side := side{height: func(v int32) float64 { return height[v] }, onIsBelow: lo == 0}
	return section(m, p, faces, side)
}

// missed returns the error of a plane that does not meet a part which spans
// lo..hi in height above the plane.
func missed(p mesh.Plane, lo, hi float64, faces int) error {
	if faces == 0 {
		return errors.New("cut: the mesh has no faces")
	}
	if math.IsNaN(lo + hi) {
		return errors.New("cut: the plane or a vertex is not a finite number")
	}
	if lo <= 0 && hi >= 0 {
		return nil
	}
	if a, ok := p.Axis(); ok {
		at := a.Of(p.Origin)
		return fmt.Errorf("cut at %v=%g mm is outside the part, which spans %v=%.6g to %v=%.6g mm",
			a, at, a, at+lo, a, at+hi)
	}
	return fmt.Errorf("the plane misses the part, which spans %.6g to %.6g mm along the plane's normal; "+
		"move the plane by that much", lo, hi)
}

// side says on which side of a plane a vertex counts. A vertex at height zero
// counts as above, or as below when onIsBelow is set.
type side struct {
	height    func(v int32) float64
	onIsBelow bool
}

func (s side) above(v int32) bool {
	h := s.height(v)
	return h > 0 || h == 0 && !s.onIsBelow
}

// section links the crossings of the listed faces to loops and nests them.
func section(m *mesh.Mesh, p mesh.Plane, faces []int32, s side) (Region, error) {
	crossings, err := trace(m, faces, s)
	if err != nil {
		return nil, err
	}
	var loops [][]r2.Vec
	for _, loop := range crossings {
		flat := make([]r2.Vec, len(loop))
		for i, c := range loop {
			flat[i] = p.Project(crossingPoint(m, s, c))
		}
		if flat = simplify(flat, flatness(flat)); len(flat) >= 3 {
			loops = append(loops, flat)
		}
	}
	return nest(loops), nil
}

// crossing is a mesh edge that passes the plane, named by its ends.
type crossing struct{ above, below int32 }

// crossingPoint is where the edge meets the plane. It depends on the edge
// alone, not on the face, so neighbouring faces agree to the last digit.
func crossingPoint(m *mesh.Mesh, s side, c crossing) r3.Vec {
	a, b := m.Vertices[c.above], m.Vertices[c.below]
	ha, hb := s.height(c.above), s.height(c.below)
	if ha == 0 {
		return a
	}
	return r3.Add(a, r3.Scale(ha/(ha-hb), r3.Sub(b, a)))
}

// step is one face's piece of a loop: it enters where the face's boundary goes
// down through the plane and leaves where it comes up again, which keeps the
// solid on the left seen against the normal.
type step struct {
	leave crossing
	next  int32 // another step that enters at the same edge, or -1
	used  bool
}

// trace returns the closed chains of edge crossings of the listed faces.
func trace(m *mesh.Mesh, faces []int32, s side) ([][]crossing, error) {
	steps := make([]step, 0, len(faces))
	entries := make([]crossing, 0, len(faces))
	first := make(map[crossing]int32, len(faces)) // entry edge -> a step that enters there
	for _, f := range faces {
		enter, leave, ok := pass(m.Faces[f], s)
		if !ok {
			continue
		}
		next := int32(-1)
		if other, taken := first[enter]; taken {
			next = other
		}
		first[enter] = int32(len(steps))
		steps = append(steps, step{leave: leave, next: next})
		entries = append(entries, enter)
	}
	var loops [][]crossing
	for i := range steps {
		if steps[i].used {
			continue
		}
		loop, err := follow(m, s, steps, entries, first, int32(i))
		if err != nil {
			return nil, err
		}
		loops = append(loops, loop)
	}
	return loops, nil
}

// follow walks from step to step until the loop closes.
func follow(m *mesh.Mesh, s side, steps []step, entries []crossing, first map[crossing]int32, start int32) ([]crossing, error) {
	var loop []crossing
	home := entries[start]
	for i := start; ; {
		steps[i].used = true
		loop = append(loop, entries[i])
		leave := steps[i].leave
		if leave == home {
			return loop, nil
		}
		next, ok := first[leave]
		for ok && next >= 0 && steps[next].used {
			next = steps[next].next
		}
		if !ok || next < 0 {
			at := crossingPoint(m, s, leave)
			return nil, fmt.Errorf("cut: the mesh is open near (%.6g, %.6g, %.6g) mm; close it first, for example with --repair",
				at.X, at.Y, at.Z)
		}
		i = next
	}
}

// pass returns the edges at which the boundary of a face goes down through the
// plane and comes up again.
func pass(f [3]int32, s side) (enter, leave crossing, ok bool) {
	up := [3]bool{s.above(f[0]), s.above(f[1]), s.above(f[2])}
	if up[0] == up[1] && up[1] == up[2] {
		return enter, leave, false
	}
	for k := range f {
		a, b := f[k], f[(k+1)%3]
		switch ua, ub := up[k], up[(k+1)%3]; {
		case ua && !ub:
			enter = crossing{above: a, below: b}
		case !ua && ub:
			leave = crossing{above: b, below: a}
		}
	}
	return enter, leave, true
}

// flatness is the distance in mm below which a point counts as on a line:
// rounding of coordinates, far below any real feature.
func flatness(loop []r2.Vec) float64 {
	b := triangulation.Bounds(loop)
	return 1e-12 * max(math.Abs(b.Min.X), math.Abs(b.Min.Y), math.Abs(b.Max.X), math.Abs(b.Max.Y))
}

// simplify drops points that repeat a neighbour, lie on the line between their
// neighbours or are the tip of a spike without width, within tol in mm. What
// has no area left comes back empty.
func simplify(loop []r2.Vec, tol float64) []r2.Vec {
	for {
		kept := make([]r2.Vec, 0, len(loop))
		for i, p := range loop {
			prev, next := loop[len(loop)-1], loop[(i+1)%len(loop)]
			if len(kept) > 0 {
				prev = kept[len(kept)-1]
				if i == len(loop)-1 {
					next = kept[0]
				}
			}
			if !redundant(prev, p, next, tol) {
				kept = append(kept, p)
			}
		}
		if len(kept) < 3 {
			return nil
		}
		if len(kept) == len(loop) {
			return kept
		}
		loop = kept
	}
}

// redundant reports whether the triangle a, b, c is flatter than tol.
func redundant(a, b, c r2.Vec, tol float64) bool {
	ab, bc, ca := r2.Sub(b, a), r2.Sub(c, b), r2.Sub(a, c)
	longest := max(r2.Norm(ab), r2.Norm(bc), r2.Norm(ca))
	return math.Abs(r2.Cross(ab, bc)) <= tol*longest
}

// nest turns loops that do not cross into polygons by how deep each lies.
func nest(loops [][]r2.Vec) Region {
	sort.SliceStable(loops, func(i, j int) bool {
		return math.Abs(LoopArea(loops[i])) > math.Abs(LoopArea(loops[j]))
	})
	boxes := make([]r2.Box, len(loops))
	for i, l := range loops {
		boxes[i] = triangulation.Bounds(l)
	}
	var region Region
	depth := make([]int, len(loops))
	polygon := make([]int, len(loops)) // the polygon that an outer loop became
	for i, l := range loops {
		parent := -1 // the smallest loop around this one
		for j := i - 1; j >= 0 && parent < 0; j-- {
			if boxHolds(boxes[j], boxes[i]) && loopHolds(loops[j], l) {
				parent = j
			}
		}
		if parent >= 0 {
			depth[i] = depth[parent] + 1
		}
		if depth[i]%2 == 0 {
			polygon[i] = len(region)
			region = append(region, Polygon{Outer: turned(l, true)})
			continue
		}
		owner := &region[polygon[parent]]
		owner.Holes = append(owner.Holes, turned(l, false))
	}
	return region
}

// boxHolds reports whether one box holds the other, within rounding.
func boxHolds(outer, inner r2.Box) bool {
	tol := 1e-12 * max(math.Abs(outer.Min.X), math.Abs(outer.Min.Y), math.Abs(outer.Max.X), math.Abs(outer.Max.Y))
	return outer.Min.X <= inner.Min.X+tol && outer.Min.Y <= inner.Min.Y+tol &&
		outer.Max.X >= inner.Max.X-tol && outer.Max.Y >= inner.Max.Y-tol
}

// loopHolds reports whether inner lies inside outer, for loops that may touch
// but not cross: it asks the first point of inner that is clear of outer's
// outline.
func loopHolds(outer, inner []r2.Vec) bool {
	for i, p := range inner {
		q := inner[(i+1)%len(inner)]
		for _, probe := range []r2.Vec{p, r2.Scale(0.5, r2.Add(p, q))} {
			if !onLoop(outer, probe) {
				return insideLoop(outer, probe)
			}
		}
	}
	return false
}

// onLoop reports whether q lies on the outline, within rounding.
func onLoop(loop []r2.Vec, q r2.Vec) bool {
	tol := 1e-11 * max(1, math.Abs(q.X), math.Abs(q.Y))
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if distanceToSegment(q, a, b) <= tol {
			return true
		}
	}
	return false
}

func distanceToSegment(q, a, b r2.Vec) float64 {
	ab, aq := r2.Sub(b, a), r2.Sub(q, a)
	t := 0.0
	if n := r2.Norm2(ab); n > 0 {
		t = min(1, max(0, r2.Dot(aq, ab)/n))
	}
	return r2.Norm(r2.Sub(aq, r2.Scale(t, ab)))
}

// turned returns the loop counter-clockwise or clockwise as asked.
func turned(loop []r2.Vec, counterClockwise bool) []r2.Vec {
	if LoopArea(loop) > 0 == counterClockwise {
		return loop
	}
	back := make([]r2.Vec, len(loop))
	for i, p := range loop {
		back[len(loop)-1-i] = p
	}
	return back
}
