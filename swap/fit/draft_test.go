package fit

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// arc lists points of a circle of n chords, clockwise from one angle to another,
// both ends included, degrees.
func arc(x, y, d, from, to float64, n int) []r2.Vec {
	steps := max(1, int(math.Round(math.Abs(to-from)/360*float64(n))))
	out := make([]r2.Vec, steps+1)
	for k := range out {
		s, c := math.Sincos((from + (to-from)*float64(k)/float64(steps)) * math.Pi / 180)
		out[k] = r2.Vec{X: x + d/2*c, Y: y + d/2*s}
	}
	return out
}

func round(x, y, d float64, n int) []r2.Vec { return arc(x, y, d, 360, 0, n)[:n] }

// slot is clockwise, centred, the length over all.
func slot(x, y, length, width float64, n int) []r2.Vec {
	half := (length - width) / 2
	return append(arc(x+half, y, width, 90, -90, n), arc(x-half, y, width, -90, -270, n)...)
}

// window is clockwise, with rounded corners.
func window(x, y, length, width, radius float64, n int) []r2.Vec {
	a, b := length/2-radius, width/2-radius
	return append(append(arc(x+a, y+b, 2*radius, 90, 0, n), arc(x+a, y-b, 2*radius, 0, -90, n)...),
		append(arc(x-a, y-b, 2*radius, -90, -180, n), arc(x-a, y+b, 2*radius, -180, -270, n)...)...)
}

// dBore is clockwise: a circle with a flat at a distance from its middle, towards +x.
func dBore(x, y, d, flat float64, n int) []r2.Vec {
	half := math.Acos(2*flat/d) * 180 / math.Pi
	return arc(x, y, d, -half, half-360, n)
}

// keyway is clockwise: a circle with a slot to +x that reaches a distance beyond it.
func keyway(x, y, d, width, beyond float64, n int) []r2.Vec {
	half := math.Asin(width/d) * 180 / math.Pi
	return append(arc(x, y, d, -half, half-360, n),
		r2.Vec{X: x + d/2 + beyond, Y: y + width/2}, r2.Vec{X: x + d/2 + beyond, Y: y - width/2})
}

// ellipse is clockwise; no cylinder runs through it.
func ellipse(x, y, a, b float64, n int) []r2.Vec {
	loop := round(0, 0, 2, n)
	for k, q := range loop {
		loop[k] = r2.Vec{X: x + a*q.X, Y: y + b*q.Y}
	}
	return loop
}

// turnedLoop turns a loop about a point, degrees.
func turnedLoop(loop []r2.Vec, x, y, angle float64) []r2.Vec {
	s, c := math.Sincos(angle * math.Pi / 180)
	out := make([]r2.Vec, len(loop))
	for k, q := range loop {
		a, b := q.X-x, q.Y-y
		out[k] = r2.Vec{X: x + c*a - s*b, Y: y + s*a + c*b}
	}
	return out
}

// plan is a plate drawn from above: openings through it, sinks from either side,
// and what stands on or below it. All loops but outlines are clockwise.
type plan struct {
	length, width, thick float64
	outline              []r2.Vec
	holes                []hole
	openings             [][]r2.Vec
	sinks, under         [][]r2.Vec // from above, from below
	sinkDepth            float64
	above, below         []cut.Polygon
	height, drop         float64
}

// sunk returns a plan's loops without those that a wider loop contains.
func sunk(loops, wide [][]r2.Vec) [][]r2.Vec {
	var out [][]r2.Vec
	for _, l := range loops {
		inside := false
		for _, w := range wide {
			inside = inside || (cut.Polygon{Outer: reversed(w)}).Contains(l[0])
		}
		if !inside {
			out = append(out, l)
		}
	}
	return append(out, wide...)
}

// mesh draws the plan with rounds of n chords.
func (p plan) mesh(t testing.TB, n int) *mesh.Mesh {
	t.Helper()
	outer := p.outline
	if outer == nil {
		outer = box(0, 0, p.length, p.width)
	}
	loops := append([][]r2.Vec{}, p.openings...)
	for _, h := range p.holes {
		loops = append(loops, round(h.x, h.y, h.d, n))
	}
	plate := func(loops [][]r2.Vec) cut.Region { return cut.Region{{Outer: outer, Holes: loops}} }
	var layers []cut.Layer
	if p.drop > 0 {
		layers = append(layers, cut.Layer{Region: p.below, Thickness: p.drop})
	}
	rest := p.thick
	if p.under != nil {
		layers = append(layers, cut.Layer{Region: plate(sunk(loops, p.under)), Thickness: p.sinkDepth})
		rest -= p.sinkDepth
	}
	if p.sinks != nil {
		rest -= p.sinkDepth
	}
	layers = append(layers, cut.Layer{Region: plate(loops), Thickness: rest})
	if p.sinks != nil {
		layers = append(layers, cut.Layer{Region: plate(sunk(loops, p.sinks)), Thickness: p.sinkDepth})
	}
	if p.height > 0 {
		layers = append(layers, cut.Layer{Region: p.above, Thickness: p.height})
	}
	return stack(t, layers...).Transformed(mesh.Translation(r3.Vec{Z: -p.drop}))
}

// bore is a round hole from one edge of a profile to a parallel one behind it: at a
// distance along the edge and y across; with an angle, countersunk where it begins.
type bore struct {
	from, to    int
	at, y, d    float64
	head, angle float64
}

// bracket is a profile in x and z, counter-clockwise seen from -y, extruded to y =
// width, with holes.
func bracket(t testing.TB, profile []r2.Vec, width float64, n int, bores ...bore) *mesh.Mesh {
	t.Helper()
	b := draft{t: t}
	lift := func(q r2.Vec, y float64) r3.Vec { return r3.Vec{X: q.X, Y: y, Z: q.Y} }
	b.face(mesh.Plane{U: r3.Vec{X: 1}, V: r3.Vec{Z: 1}, Normal: r3.Vec{Y: -1}}, profile)
	var back []r2.Vec
	for _, q := range reversed(profile) {
		back = append(back, r2.Vec{X: q.Y, Y: q.X})
	}
	b.face(mesh.Plane{Origin: r3.Vec{Y: width}, U: r3.Vec{Z: 1}, V: r3.Vec{X: 1}, Normal: r3.Vec{Y: 1}}, back)
	planes := make([]mesh.Plane, len(profile))
	holes := make([][][]r2.Vec, len(profile))
	for k, q := range profile {
		e := r3.Unit(r3.Sub(lift(profile[(k+1)%len(profile)], 0), lift(q, 0)))
		planes[k] = mesh.Plane{Origin: lift(q, 0), U: r3.Vec{Y: 1}, V: e, Normal: r3.Cross(r3.Vec{Y: 1}, e)}
	}
	for _, h := range bores {
		in, out := planes[h.from], planes[h.to]
		ring := func(d, depth float64) []r3.Vec {
			var points []r3.Vec
			for _, q := range round(h.y, h.at, d, n) {
				points = append(points, in.PointAbove(q, -depth))
			}
			return points
		}
		deep := -in.Height(out.Origin)
		mouth, end := ring(h.d, 0), ring(h.d, deep)
		if h.angle > 0 {
			foot := ring(h.d, (h.head-h.d)/2/math.Tan(h.angle/2*math.Pi/180))
			mouth = ring(h.head, 0)
			b.wall(foot, mouth)
			b.wall(end, foot)
		} else {
			b.wall(end, mouth)
		}
		project := func(p mesh.Plane, points []r3.Vec) (loop []r2.Vec) {
			for _, q := range points {
				loop = append(loop, p.Project(q))
			}
			return loop
		}
		holes[h.from] = append(holes[h.from], project(in, mouth))
		holes[h.to] = append(holes[h.to], reversed(project(out, end)))
	}
	for k := range profile {
		long := r3.Norm(r3.Sub(lift(profile[(k+1)%len(profile)], 0), lift(profile[k], 0)))
		b.face(planes[k], box(0, 0, width, long), holes[k]...)
	}
	return mesh.Weld(b.corners)
}

// draft gathers the triangles of a part, three corners each.
type draft struct {
	t       testing.TB
	corners []r3.Vec
}

func (b *draft) face(p mesh.Plane, outer []r2.Vec, holes ...[]r2.Vec) {
	b.t.Helper()
	points, faces, err := cut.Triangulate(cut.Polygon{Outer: outer, Holes: holes})
	if err != nil {
		b.t.Fatal(err)
	}
	for _, f := range faces {
		for _, k := range f {
			b.add(p.Point(points[k]))
		}
	}
}

// add rounds corners so that those of neighbours are the same.
func (b *draft) add(corners ...r3.Vec) {
	fine := func(x float64) float64 { return math.Round(x*1e9) / 1e9 }
	for _, p := range corners {
		b.corners = append(b.corners, r3.Vec{X: fine(p.X), Y: fine(p.Y), Z: fine(p.Z)})
	}
}

// wall joins two rings that run alike, the material on their left seen from the
// second.
func (b *draft) wall(from, to []r3.Vec) {
	for k := range from {
		l := (k + 1) % len(from)
		b.add(from[k], from[l], to[l], from[k], to[l], to[k])
	}
}

// split cuts every triangle in four at the middles of its edges, which lie within
// the chords of a round wall, as a mesher's points do.
func split(m *mesh.Mesh) *mesh.Mesh {
	var corners []r3.Vec
	for f := range m.Faces {
		a, b, c := m.Triangle(f)
		mid := func(p, q r3.Vec) r3.Vec { return r3.Scale(0.5, r3.Add(p, q)) }
		ab, bc, ca := mid(a, b), mid(b, c), mid(c, a)
		corners = append(corners, a, ab, ca, b, bc, ab, c, ca, bc, ab, bc, ca)
	}
	return mesh.Weld(corners)
}

// single rounds corners as an STL file does.
func single(m *mesh.Mesh) *mesh.Mesh {
	for i, v := range m.Vertices {
		m.Vertices[i] = r3.Vec{X: float64(float32(v.X)), Y: float64(float32(v.Y)), Z: float64(float32(v.Z))}
	}
	return m
}

func TestDraftsAreClosed(t *testing.T) {
	for name, m := range map[string]*mesh.Mesh{
		"Z-bracket": zBracket(t, 40, 16), "L-bracket": lBracket(t, 0, 5, 16), "countersunk plate": sunkPlate(t, 10, 90, 16),
		"rich plate": rich().mesh(t, 16), "split": split(rich().mesh(t, 16)),
	} {
		if r := mesh.Check(m); !r.Closed {
			t.Errorf("%s: %+v", name, r)
		}
	}
}
