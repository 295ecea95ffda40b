package warp

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// sharpTurn is the turn in degrees from which an inner corner of the outline
// counts as sharp. The exact stress has no limit at any inner corner: at a small
// distance r it grows as r^(-d/(180+d)) for a turn of d degrees (Timoshenko and
// Goodier, Theory of Elasticity). The chords that a drawn curve is made of turn
// by less, and there the power, below 1/13, does not show.
const sharpTurn = 15.0

// thin is how many times as long as thick a wall is from which on a section
// counts as thin-walled (common practice: a tenth).
const thin = 10.0

// peak returns the largest shear stress of torsion over G and the twist per
// length, in the level's units: the largest slope of the stress function on the
// outline, or Bredt's stress in the walls of thin closed cells.
//
// The slope has no limit at a sharp inner corner. What lies within half of the
// mean wall 2A/P of one is left out, past which a strip's own stress is coming
// back: a disturbance fades in a strip of thickness t as exp(-pi x/t). In a thin
// open section twice the wall is left out, so that what stays is T t/J with the
// greatest thickness, without the bulge of the stress opposite a junction.
func (l *level) peak(psi []float64) float64 {
	outlines := l.outlines()
	perimeter := 0.0
	for _, o := range outlines {
		perimeter += o.length
	}
	if len(l.holes) > 1 {
		if flow, ok := l.bredt(psi, outlines, perimeter); ok {
			return flow
		}
	}
	clear := 1 / perimeter // the area is one
	if perimeter*perimeter >= 4*thin && len(l.holes) == 1 {
		clear *= 4
	}
	samples, farthest := l.slopes(psi, sharpCorners(outlines))
	clear = min(clear, farthest/2)
	most := 0.0
	for _, s := range samples {
		if s.away >= clear {
			most = max(most, s.slope)
		}
	}
	return most
}

// slopeAt is the slope of the stress function at a place of the outline and how
// far away the nearest sharp corner is.
type slopeAt struct{ slope, away float64 }

func (l *level) slopes(psi []float64, corners []r2.Vec) (samples []slopeAt, farthest float64) {
	for t := range l.shapes {
		for i := range 3 {
			if l.beyond[t][i] >= 0 {
				continue
			}
			values := l.values(psi, t)
			for _, x := range sidePoints {
				var at [3]float64
				at[(i+1)%3], at[(i+2)%3] = 1-x, x
				_, d := shapes(at)
				gx, gy := l.shapes[t].gradient(&d, &values)
				px, py := l.shapes[t].point(at)
				away := math.Inf(1)
				for _, c := range corners {
					away = min(away, math.Hypot(px-c.X, py-c.Y))
				}
				farthest = max(farthest, away)
				samples = append(samples, slopeAt{math.Hypot(gx, gy), away})
			}
		}
	}
	return samples, farthest
}

// bredt returns the shear flow over the wall, largest over all walls between
// two loops, where the mean wall 2A/P is thin against the cells: the stress
// function differs by the flow between the loops on either side of a wall
// (Bredt; Roark's Formulas for Stress and Strain, thin tubular sections).
func (l *level) bredt(psi []float64, outlines []outline, perimeter float64) (float64, bool) {
	enclosed := 0.5 // half of the wall: inside the middle line
	for _, a := range l.holes {
		enclosed += max(a, 0)
	}
	if wall := 2 / perimeter; wall*thin > math.Sqrt(enclosed) {
		return 0, false
	}
	most := 0.0
	for i, a := range outlines {
		for _, b := range outlines[:i] {
			most = max(most, math.Abs(psi[a.node]-psi[b.node])/a.gap(b))
		}
	}
	return most, true
}

// outline is a closed loop of the boundary with the area on its left, its
// corners in order without the points on straight sides.
type outline struct {
	corners []r2.Vec
	length  float64
	node    int32 // one on it
}

func (l *level) outlines() []outline {
	type side struct {
		at r2.Vec
		to int32
	}
	next := map[int32]side{} // by the node that a side starts from
	starts := make([]int32, len(l.holes))
	for t := range l.shapes {
		s := &l.shapes[t]
		for i := range 3 {
			if l.beyond[t][i] >= 0 {
				continue
			}
			a, b := (i+1)%3, (i+2)%3
			from := l.node[t][a]
			next[from] = side{r2.Vec{X: s.x[a], Y: s.y[a]}, l.node[t][b]}
			starts[l.loop[from]] = from
		}
	}
	out := make([]outline, len(starts))
	for k, start := range starts {
		var points []r2.Vec
		for n := start; len(points) == 0 || n != start; n = next[n].to {
			points = append(points, next[n].at)
		}
		out[k].node = start
		for i, p := range points {
			in := r2.Sub(p, points[(i+len(points)-1)%len(points)])
			on := r2.Sub(points[(i+1)%len(points)], p)
			out[k].length += r2.Norm(on)
			if math.Abs(r2.Cross(in, on)) > 1e-6*r2.Norm(in)*r2.Norm(on) {
				out[k].corners = append(out[k].corners, p)
			}
		}
	}
	return out
}

// gap is the least distance between two outlines.
func (o outline) gap(p outline) float64 {
	least := math.Inf(1)
	for _, way := range [2][2]outline{{o, p}, {p, o}} {
		for i, a := range way[0].corners {
			b := way[0].corners[(i+1)%len(way[0].corners)]
			for _, q := range way[1].corners {
				least = min(least, toSide(q, a, b))
			}
		}
	}
	return least
}

// toSide is the distance of p from the side from a to b.
func toSide(p, a, b r2.Vec) float64 {
	d := r2.Sub(b, a)
	f := r2.Dot(r2.Sub(p, a), d) / r2.Norm2(d)
	return r2.Norm(r2.Sub(p, r2.Add(a, r2.Scale(min(max(f, 0), 1), d))))
}

// sidePoints are the shares of a side at which the slope is taken, those of
// Gauss's rule of three points.
var sidePoints = [...]float64{0.1127, 0.5, 0.8873}

// sharpCorners returns the inner corners that turn by sharpTurn or more.
func sharpCorners(outlines []outline) (sharp []r2.Vec) {
	limit := math.Sin(sharpTurn * math.Pi / 180)
	for _, o := range outlines {
		n := len(o.corners)
		for i, p := range o.corners {
			in, on := r2.Sub(p, o.corners[(i+n-1)%n]), r2.Sub(o.corners[(i+1)%n], p)
			// the area lies on the left: an inner corner turns right
			sine := r2.Cross(in, on) / (r2.Norm(in) * r2.Norm(on))
			if sine <= -limit || sine < 0 && r2.Dot(in, on) < 0 {
				sharp = append(sharp, p)
			}
		}
	}
	return sharp
}
