package section

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// simplified leaves out the points of a closed loop that lie within tol of the
// chord between the points kept, in the unit of the loop. Corners stay.
func simplified(loop []r2.Vec, tol float64) []r2.Vec {
	n := len(loop)
	if n < 4 {
		return loop
	}
	start := farthest(loop)
	at := func(i int) r2.Vec { return loop[(start+i)%n] }
	out := []r2.Vec{at(0)}
	for anchor := 0; anchor < n; {
		next := reach(at, anchor, n, tol)
		anchor = next
		if anchor < n {
			out = append(out, at(anchor))
		}
	}
	return out
}

// reach is the last point, at most n, that a chord from the anchor may lead to.
func reach(at func(int) r2.Vec, anchor, n int, tol float64) int {
	const lookAhead = 256
	next := anchor + 1
	for next < n && next-anchor < lookAhead {
		a, b := at(anchor), at(next+1)
		for i := anchor + 1; i <= next; i++ {
			if distanceToSegment(at(i), a, b) > tol {
				return next
			}
		}
		next++
	}
	return next
}

// farthest returns the point farthest from the middle of all: a corner of the
// convex hull, which no chord may cut off.
func farthest(loop []r2.Vec) int {
	var sum r2.Vec
	for _, p := range loop {
		sum = r2.Add(sum, p)
	}
	mid := r2.Scale(1/float64(len(loop)), sum)
	best, most := 0, -1.0
	for i, p := range loop {
		if d := r2.Norm2(r2.Sub(p, mid)); d > most {
			best, most = i, d
		}
	}
	return best
}

func distanceToSegment(p, a, b r2.Vec) float64 {
	d := r2.Sub(b, a)
	length := r2.Norm2(d)
	if length == 0 {
		return r2.Norm(r2.Sub(p, a))
	}
	f := math.Min(1, math.Max(0, r2.Dot(r2.Sub(p, a), d)/length))
	return r2.Norm(r2.Sub(p, r2.Add(a, r2.Scale(f, d))))
}
