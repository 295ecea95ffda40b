package mill

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/mesh/cut"
)

// loop is an outline in the plane, mm.
type loop = []r2.Vec

// rectangle spans two corners.
func rectangle(x0, y0, x1, y1 float64) loop {
	return loop{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// rounded is a rectangle with round corners of 16 chords each.
func rounded(x0, y0, x1, y1, r float64) loop {
	var out loop
	for k, c := range []r2.Vec{{X: x1 - r, Y: y1 - r}, {X: x0 + r, Y: y1 - r}, {X: x0 + r, Y: y0 + r}, {X: x1 - r, Y: y0 + r}} {
		for i := range 17 {
			sin, cos := math.Sincos(math.Pi / 2 * (float64(k) + float64(i)/16))
			out = append(out, r2.Vec{X: c.X + r*cos, Y: c.Y + r*sin})
		}
	}
	return out
}

// circle has 64 chords.
func circle(x, y, diameter float64) loop {
	var out loop
	for i := range 64 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 64)
		out = append(out, r2.Vec{X: x + diameter/2*cos, Y: y + diameter/2*sin})
	}
	return out
}

// layer is a slab of material around holes.
type layer struct {
	thick float64
	outer []loop
	holes []loop
}

// slab is a layer of one outline.
func slab(thick float64, outer loop, holes ...loop) layer { return layer{thick, []loop{outer}, holes} }

// stacked builds a part of layers, from z = 0 up.
func stacked(t testing.TB, layers ...layer) asmade.Part {
	t.Helper()
	var out []cut.Layer
	for _, l := range layers {
		var region cut.Region
		for _, o := range l.outer {
			region = append(region, cut.Polygon{Outer: turned(o)})
		}
		for _, h := range l.holes {
			back := slices.Clone(turned(h))
			slices.Reverse(back)
			in := -1 // the smallest outline around it
			for i, poly := range region {
				area := cut.LoopArea(poly.Outer)
				around := cut.Polygon{Outer: poly.Outer}
				if around.Contains(middle(h)) && area > -cut.LoopArea(back) && (in < 0 || area < cut.LoopArea(region[in].Outer)) {
					in = i
				}
			}
			region[in].Holes = append(region[in].Holes, back)
		}
		out = append(out, cut.Layer{Region: region, Thickness: l.thick})
	}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), out...)
	if err != nil {
		t.Fatal(err)
	}
	return asmade.Read(m)
}

// fins are n bars side by side, w apart, each thick mm wide.
func fins(n int, thick, w, length float64) []loop {
	var out []loop
	for i := range n {
		x := float64(i) * (thick + w)
		out = append(out, rectangle(x, 0, x+thick, length))
	}
	return out
}

// bowl is a block 100 x 60 with a free-form hollow in its top, in n x n patches.
func bowl(n int) *mesh.Mesh {
	m := &mesh.Mesh{}
	top := func(x, y float64) float64 { return 20 - 8*math.Exp(-((x-50)*(x-50)+(y-30)*(y-30))/300) }
	at := func(i, j, k int) int32 { return int32((k*(n+1)+i)*(n+1) + j) }
	for k := range 2 {
		for i := range n + 1 {
			for j := range n + 1 {
				x, y := 100*float64(i)/float64(n), 60*float64(j)/float64(n)
				z := 0.0
				if k == 1 {
					z = top(x, y)
				}
				m.Vertices = append(m.Vertices, r3.Vec{X: x, Y: y, Z: z})
			}
		}
	}
	quad := func(a, b, c, d int32) { m.Faces = append(m.Faces, [3]int32{a, b, c}, [3]int32{a, c, d}) }
	for i := range n {
		for j := range n {
			quad(at(i, j, 1), at(i+1, j, 1), at(i+1, j+1, 1), at(i, j+1, 1))
			quad(at(i, j, 0), at(i, j+1, 0), at(i+1, j+1, 0), at(i+1, j, 0))
		}
		quad(at(i, 0, 0), at(i+1, 0, 0), at(i+1, 0, 1), at(i, 0, 1))
		quad(at(i+1, n, 0), at(i, n, 0), at(i, n, 1), at(i+1, n, 1))
		quad(at(0, i+1, 0), at(0, i, 0), at(0, i, 1), at(0, i+1, 1))
		quad(at(n, i, 0), at(n, i+1, 0), at(n, i+1, 1), at(n, i, 1))
	}
	return m
}

// nut is a block or a round with a thread drawn in it, from the minor to the major
// radius, high mm high; outer is its radius, or half its width.
func nut(minor, major, pitch, high, outer float64, square bool) *mesh.Mesh {
	const n = 48
	rows := int(high/pitch*8 + 0.5)
	m := &mesh.Mesh{}
	for k := range rows + 1 {
		z := high * float64(k) / float64(rows)
		for i := range n {
			th := 2 * math.Pi * float64(i) / n
			f := math.Mod(z/pitch-float64(i)/n+10, 1)
			tri := math.Min(1, math.Max(0, 1.6*(1-math.Abs(2*f-1))-0.3))
			r := minor + (major-minor)*tri
			m.Vertices = append(m.Vertices, r3.Vec{X: r * math.Cos(th), Y: r * math.Sin(th), Z: z})
		}
	}
	base := int32(len(m.Vertices))
	for _, z := range []float64{0, high} {
		for i := range n {
			th := 2 * math.Pi * float64(i) / n
			c, s := math.Cos(th), math.Sin(th)
			r := outer
			if square {
				r = outer / math.Max(math.Abs(c), math.Abs(s))
			}
			m.Vertices = append(m.Vertices, r3.Vec{X: r * c, Y: r * s, Z: z})
		}
	}
	in := func(k, i int) int32 { return int32(k*n + i%n) }
	out := func(k, i int) int32 { return base + int32(k*n+i%n) }
	quad := func(a, b, c, d int32) { m.Faces = append(m.Faces, [3]int32{a, b, c}, [3]int32{a, c, d}) }
	for i := range n {
		for k := range rows {
			quad(in(k, i+1), in(k, i), in(k+1, i), in(k+1, i+1))
		}
		quad(out(0, i), out(0, i+1), out(1, i+1), out(1, i))
		quad(in(0, i), in(0, i+1), out(0, i+1), out(0, i))
		quad(in(rows, i+1), in(rows, i), out(1, i), out(1, i+1))
	}
	return m
}
