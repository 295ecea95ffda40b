// Package broken makes STL files with one thing wrong each, and knows the volume
// that each was meant to have. It shares no code with the reader that is tested on
// them: volumes are closed forms, or sums over the sound surface.
package broken

import (
	"math"
	"math/rand/v2"
)

// point is a place in mm.
type point [3]float64

// triangle lists three corners, counter-clockwise seen from outside.
type triangle [3]point

// solid is a sound surface with the volume in it.
type solid struct {
	name      string
	triangles []triangle
	volume    float64 // mm3
}

func (p point) plus(q point) point { return point{p[0] + q[0], p[1] + q[1], p[2] + q[2]} }

// cuboid returns the box between two corners.
func cuboid(lo, hi point) []triangle {
	outline := []point{{lo[0], lo[1]}, {hi[0], lo[1]}, {hi[0], hi[1]}, {lo[0], hi[1]}}
	return prism(outline, lo[2], hi[2])
}

// prism stands on a convex outline, or on any that its first corner sees whole.
func prism(outline []point, z0, z1 float64) []triangle {
	at := func(i int, z float64) point {
		p := outline[i%len(outline)]
		return point{p[0], p[1], z}
	}
	var out []triangle
	for i := 1; i+1 < len(outline); i++ {
		out = append(out, triangle{at(0, z1), at(i, z1), at(i+1, z1)}, triangle{at(0, z0), at(i+1, z0), at(i, z0)})
	}
	for i := range outline {
		out = append(out,
			triangle{at(i, z0), at(i+1, z0), at(i+1, z1)},
			triangle{at(i, z0), at(i+1, z1), at(i, z1)})
	}
	return out
}

// ring lies between two outlines of as many corners, the outer and the inner.
func ring(outer, inner []point, z0, z1 float64) []triangle {
	n := len(outer)
	at := func(outline []point, i int, z float64) point {
		p := outline[i%n]
		return point{p[0], p[1], z}
	}
	var out []triangle
	quad := func(a, b, c, d point) { out = append(out, triangle{a, b, c}, triangle{a, c, d}) }
	for i := range n {
		quad(at(outer, i, z1), at(outer, i+1, z1), at(inner, i+1, z1), at(inner, i, z1))
		quad(at(inner, i, z0), at(inner, i+1, z0), at(outer, i+1, z0), at(outer, i, z0))
		quad(at(outer, i, z0), at(outer, i+1, z0), at(outer, i+1, z1), at(outer, i, z1))
		quad(at(inner, i+1, z0), at(inner, i, z0), at(inner, i, z1), at(inner, i+1, z1))
	}
	return out
}

func circle(n int, r float64) []point {
	var out []point
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		out = append(out, point{r * math.Cos(a), r * math.Sin(a)})
	}
	return out
}

// square returns the points of a square's outline on n rays from its middle; n is
// a multiple of 8, so that its corners are among them.
func square(n int, half float64) []point {
	var out []point
	for _, p := range circle(n, 1) {
		k := half / max(math.Abs(p[0]), math.Abs(p[1]))
		out = append(out, point{k * p[0], k * p[1]})
	}
	return out
}

// polygonArea returns the area of a regular polygon, mm2.
func polygonArea(n int, r float64) float64 {
	return float64(n) / 2 * r * r * math.Sin(2*math.Pi/float64(n))
}

// ball is drawn by meridians and parallels.
func ball(r float64, meridians, parallels int) []triangle {
	at := func(i, j int) point {
		a, b := 2*math.Pi*float64(i%meridians)/float64(meridians), math.Pi*float64(j)/float64(parallels)
		switch j {
		case 0:
			return point{0, 0, r}
		case parallels:
			return point{0, 0, -r}
		}
		return point{r * math.Sin(b) * math.Cos(a), r * math.Sin(b) * math.Sin(a), r * math.Cos(b)}
	}
	var out []triangle
	for i := range meridians {
		for j := range parallels {
			if j > 0 {
				out = append(out, triangle{at(i, j), at(i, j+1), at(i+1, j)})
			}
			if j < parallels-1 {
				out = append(out, triangle{at(i+1, j), at(i, j+1), at(i+1, j+1)})
			}
		}
	}
	return out
}

// enclosed sums a . (b x c) / 6 over a sound surface.
func enclosed(list []triangle) (sum float64) {
	for _, t := range list {
		a, b, c := t[0], t[1], t[2]
		sum += (a[0]*(b[1]*c[2]-b[2]*c[1]) + a[1]*(b[2]*c[0]-b[0]*c[2]) + a[2]*(b[0]*c[1]-b[1]*c[0])) / 6
	}
	return sum
}

// solids are sound parts of different kinds: square, pierced, hollow, bent, round,
// pointed, stepped.
func solids() []solid {
	box := cuboid(point{-20, -15, -10}, point{20, 15, 10})
	plate := ring(square(24, 20), circle(24, 8), 0, 6)
	tube := ring(circle(32, 20), circle(32, 15), -25, 25)
	hollow := append(cuboid(point{0, 0, 0}, point{40, 30, 20}), turned(cuboid(point{10, 10, 5}, point{30, 20, 15}))...)
	angle := prism([]point{{0, 0}, {40, 0}, {40, 5}, {5, 5}, {5, 30}, {0, 30}}, 0, 50)
	round := ball(20, 24, 12)
	wedge := prism([]point{{-30, -10}, {30, -10}, {-30, 10}}, -15, 15)
	return []solid{
		{"box", box, 40 * 30 * 20},
		{"plate with a hole", plate, 6 * (40*40 - polygonArea(24, 8))},
		{"tube", tube, 50 * (polygonArea(32, 20) - polygonArea(32, 15))},
		{"hollow box", hollow, 40*30*20 - 20*10*10},
		{"angle", angle, 50 * (40*5 + 5*25)},
		{"ball", round, enclosed(round)},
		{"wedge", wedge, 30 * 60 * 20 / 2},
	}
}

func turned(list []triangle) []triangle {
	out := make([]triangle, len(list))
	for i, t := range list {
		out[i] = triangle{t[0], t[2], t[1]}
	}
	return out
}

func moved(list []triangle, by point) []triangle {
	return changed(list, func(p point) point { return p.plus(by) })
}

// changed puts every corner elsewhere; equal corners may part.
func changed(list []triangle, change func(point) point) []triangle {
	out := make([]triangle, len(list))
	for i, t := range list {
		for k := range t {
			out[i][k] = change(t[k])
		}
	}
	return out
}

func shuffled(list []triangle, random *rand.Rand) []triangle {
	out := make([]triangle, len(list))
	for i, j := range random.Perm(len(list)) {
		t, k := list[j], random.IntN(3)
		out[i] = triangle{t[k], t[(k+1)%3], t[(k+2)%3]}
	}
	return out
}
