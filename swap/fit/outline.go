package fit

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

// Outline says where the new part stands out furthest beyond the old part's
// outline, seen along the direction in which the old part is flat. A bulge into
// a hollow of the old outline counts, which the envelope does not see.
type Outline struct {
	Beyond float64    `json:"mm"`
	At     [3]float64 `json:"at_mm"` // in the old part's frame
}

// outline compares both parts' outer loops on three cuts square to the axis in
// which the old part has most flat area. A corner of the new part is outside when
// it is outside on every cut of the old one.
func outline(old Part, new *mesh.Mesh) Outline {
	axis := feature.Broadest(old.Features.Faces)
	if axis == (r3.Vec{}) {
		axis.Z = 1 // a part without a flat face
	}
	frame, err := mesh.PlaneFromNormal(r3.Vec{}, axis)
	if err != nil {
		return Outline{}
	}
	before, after := outlines(old.Mesh, frame), outlines(new, frame)
	var worst Outline
	for _, loop := range after {
		for _, q := range loop.points {
			if far := outside(q, before); far > worst.Beyond {
				worst = Outline{far, array(frame.PointAbove(q, loop.height))}
			}
		}
	}
	return worst
}

// ring is an outer loop of a cut, without points along straight runs.
type ring struct {
	points []r2.Vec
	height float64
}

// cuts are where, over its height, a part is cut for its outline: in the middle and
// within a fiftieth of both ends, clear of broken edges of thin plates.
var cuts = [3]float64{0.02, 0.5, 0.98}

func outlines(m *mesh.Mesh, frame mesh.Plane) []ring {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range m.Vertices {
		h := frame.Height(v)
		low, high = min(low, h), max(high, h)
	}
	var out []ring
	for _, share := range cuts {
		at := frame
		height := low + share*(high-low)
		at.Origin = frame.PointAbove(r2.Vec{}, height)
		region, err := cut.Section(m, at)
		if err != nil {
			continue // an open part has no outline there
		}
		for _, p := range region {
			out = append(out, ring{bends(p.Outer), height})
		}
	}
	return out
}

// bends drops the points of a loop at which it does not turn.
func bends(loop []r2.Vec) []r2.Vec {
	const straight = 1e-3 // mm
	var out []r2.Vec
	for k, q := range loop {
		prev := loop[(k+len(loop)-1)%len(loop)]
		if len(out) > 0 {
			prev = out[len(out)-1]
		}
		if distance(q, prev, loop[(k+1)%len(loop)]) > straight {
			out = append(out, q)
		}
	}
	if len(out) < 3 {
		return loop
	}
	return out
}

// outside returns how far a point is outside of all loops; 0 inside any.
func outside(q r2.Vec, loops []ring) float64 {
	nearest := math.Inf(1)
	for _, l := range loops {
		if (cut.Polygon{Outer: l.points}).Contains(q) {
			return 0
		}
		for k, a := range l.points {
			nearest = min(nearest, distance(q, a, l.points[(k+1)%len(l.points)]))
		}
	}
	if math.IsInf(nearest, 1) {
		return 0
	}
	return nearest
}

// distance returns the distance of q from the segment from a to b.
func distance(q, a, b r2.Vec) float64 {
	d := r2.Sub(b, a)
	t := 0.0
	if n := r2.Norm2(d); n > 0 {
		t = max(0, min(1, r2.Dot(r2.Sub(q, a), d)/n))
	}
	return r2.Norm(r2.Sub(q, r2.Add(a, r2.Scale(t, d))))
}
