package triangulation

import (
	"math"
	"swapworth/internal/property"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

func box(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func reversed(loop []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(loop))
	for i, p := range loop {
		out[len(loop)-1-i] = p
	}
	return out
}

func circle(x, y, r float64, n int) []r2.Vec {
	out := make([]r2.Vec, n)
	for i := range out {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		out[i] = r2.Vec{X: x + r*c, Y: y + r*s}
	}
	return out
}

func loopArea(loop []r2.Vec) float64 {
	var a float64
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		a += r2.Cross(p, q) / 2
	}
	return a
}

type failer interface {
	Helper()
	Errorf(string, ...any)
	Fatalf(string, ...any)
}

// sound checks a domain: triangles turn left, neighbours know each other, each
// is Delaunay, and the area is returned with the least angle in degrees.
func sound(t failer, d *Domain) (area, least float64) {
	t.Helper()
	least = 180
	for i := range d.Triangles() {
		v, n := d.Triangle(i)
		a, b, c := d.Point(int(v[0])), d.Point(int(v[1])), d.Point(int(v[2]))
		twice := r2.Cross(r2.Sub(b, a), r2.Sub(c, a))
		if !(twice > 0) {
			t.Fatalf("triangle %d has the area %g", i, twice/2)
		}
		area += twice / 2
		for k := range 3 {
			p, q, r := d.Point(int(v[k])), d.Point(int(v[(k+1)%3])), d.Point(int(v[(k+2)%3]))
			cos := r2.Cos(r2.Sub(q, p), r2.Sub(r, p))
			least = min(least, math.Acos(min(1, cos))*180/math.Pi)
			if n[k] < 0 {
				continue
			}
			w, back := d.Triangle(int(n[k]))
			j := 0
			for back[j] != int32(i) {
				if j++; j == 3 {
					t.Fatalf("triangle %d lists %d as neighbour, but not the other way", i, n[k])
				}
			}
			if w[(j+1)%3] != v[(k+2)%3] || w[(j+2)%3] != v[(k+1)%3] {
				t.Fatalf("triangles %d and %d disagree about their side", i, n[k])
			}
		}
	}
	return area, least
}

func even(d *Domain, size float64) []float64 {
	w := make([]float64, d.Points())
	for i := range w {
		w[i] = size
	}
	return w
}

func one(t failer, loops ...[]r2.Vec) *Domain {
	t.Helper()
	all, err := Domains(loops)
	if err != nil {
		t.Fatalf("%v", err)
	}
	if len(all) != 1 {
		t.Fatalf("%d pieces, want 1", len(all))
	}
	return all[0]
}

func closeTo(t failer, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

func TestTrianglesFillTheOutlineAndAreWellShaped(t *testing.T) {
	comb := []r2.Vec{{X: 0, Y: 0}, {X: 100, Y: 0}}
	for x := 100.0; x > 0; x -= 2 {
		comb = append(comb, r2.Vec{X: x, Y: 30}, r2.Vec{X: x - 0.2, Y: 30}, r2.Vec{X: x - 0.2, Y: 1}, r2.Vec{X: x - 2, Y: 1})
	}
	for name, loops := range map[string][][]r2.Vec{
		"strip":          {box(0, 0, 200, 2)},
		"ring":           {circle(5, 5, 50, 300), reversed(circle(5, 5, 49, 200))},
		"touching":       {box(0, 0, 100, 50), reversed(circle(50, 25, 24.999, 256))},
		"two holes":      {box(0, 0, 100, 50), reversed(box(10, 10, 49.99, 40)), reversed(box(50, 10, 90, 40))},
		"comb":           {comb},
		"cross":          {{{X: 1, Y: 0}, {X: 2, Y: 0}, {X: 2, Y: 1}, {X: 3, Y: 1}, {X: 3, Y: 2}, {X: 2, Y: 2}, {X: 2, Y: 3}, {X: 1, Y: 3}, {X: 1, Y: 2}, {X: 0, Y: 2}, {X: 0, Y: 1}, {X: 1, Y: 1}}},
		"points in line": {{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 1.001, Y: 0}, {X: 3, Y: 0}, {X: 3, Y: 1}, {X: 1, Y: 1}, {X: 0, Y: 1}}},
		"fine chords":    {circle(0, 0, 10, 5000)},
	} {
		var want float64
		for _, l := range loops {
			want += loopArea(l)
		}
		d := one(t, loops...)
		start := time.Now()
		if !d.Refine(even(d, 50), 200000) {
			t.Errorf("%s: not finished with %d points", name, d.Points())
		}
		area, least := sound(t, d)
		closeTo(t, name+" area", area, want, 1e-7)
		if least < 19 {
			t.Errorf("%s: least angle %.1f", name, least)
		}
		t.Logf("%s: %d points, %d triangles, least angle %.1f, %v", name, d.Points(), d.Triangles(), least, time.Since(start))
	}
}

func TestSharpCornersEndTheRefinement(t *testing.T) {
	for _, deg := range []float64{0.5, 5, 20, 45} {
		s, c := math.Sincos(deg * math.Pi / 180)
		d := one(t, []r2.Vec{{X: 0, Y: 0}, {X: 100, Y: 0}, {X: 100 * c, Y: 100 * s}})
		if !d.Refine(even(d, 30), 20000) {
			t.Errorf("%v degrees: not finished with %d points", deg, d.Points())
		}
		area, least := sound(t, d)
		closeTo(t, "area", area, 5000*s, 1e-6)
		t.Logf("%v degrees: %d triangles, least angle %.2f", deg, d.Triangles(), least)
	}
}

func TestSidesFollowTheWish(t *testing.T) {
	d := one(t, box(0, 0, 100, 100))
	w := even(d, 20)
	w[0] = 0.01
	d.Refine(w, 100000)
	_, least := sound(t, d)
	if least < 19 || d.Triangles() < 100 || d.Triangles() > 4000 {
		t.Errorf("%d triangles, least angle %.1f", d.Triangles(), least)
	}
	t.Logf("%d triangles", d.Triangles())
}

func TestLoopsThatOverlapAreUnited(t *testing.T) {
	d := one(t, box(0, 0, 10, 10), box(5, 5, 15, 15))
	d.Refine(even(d, 3), 10000)
	area, _ := sound(t, d)
	closeTo(t, "area", area, 175, 1e-8)
	// a side in common joins two pieces into one
	d = one(t, box(0, 0, 10, 10), box(10, 2, 20, 8))
	area, _ = sound(t, d)
	closeTo(t, "area", area, 160, 1e-8)
}

func TestPiecesThatTouchAtAPointStayApart(t *testing.T) {
	all, err := Domains([][]r2.Vec{box(0, 0, 10, 10), box(10, 10, 20, 20)})
	if err != nil || len(all) != 2 {
		t.Fatalf("%d pieces, %v; want 2", len(all), err)
	}
	// a diamond hole that touches the outline opens the ring there
	d := one(t, box(0, 0, 10, 10), []r2.Vec{{X: 5, Y: 0}, {X: 3, Y: 3}, {X: 5, Y: 6}, {X: 7, Y: 3}})
	corner := 0
	for i := range d.Points() {
		if d.Point(i) == (r2.Vec{X: 5, Y: 0}) {
			corner++
		}
	}
	if corner != 2 {
		t.Errorf("the point of contact appears %d times, want 2", corner)
	}
}

func TestOutlinesWithoutAreaAreAnError(t *testing.T) {
	for _, loops := range [][][]r2.Vec{nil, {{}}, {{{X: 1, Y: 1}}}, {{{X: 0, Y: 0}, {X: 1, Y: 1}}},
		{{{X: 0, Y: 0}, {X: math.NaN(), Y: 1}, {X: 1, Y: 0}}}, {reversed(box(0, 0, 1, 1))}} {
		if _, err := Domains(loops); err == nil {
			t.Errorf("%v: no error", loops)
		}
	}
}

// Loops on a coarse grid cross, touch and overlap in every way; the area of the
// union is counted cell by cell on the side.
func TestBoxesOnAGridInAnyPositionAreUnitedExactly(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		var loops [][]r2.Vec
		winding := [8][8]int{}
		for range rapid.IntRange(1, 8).Draw(t, "boxes") {
			x0, y0 := rapid.IntRange(0, 6).Draw(t, "x"), rapid.IntRange(0, 6).Draw(t, "y")
			x1, y1 := rapid.IntRange(x0+1, 7).Draw(t, "x1"), rapid.IntRange(y0+1, 7).Draw(t, "y1")
			loop, k := box(float64(x0), float64(y0), float64(x1), float64(y1)), 1
			if rapid.IntRange(0, 3).Draw(t, "hole") == 0 {
				loop, k = reversed(loop), -1
			}
			for x := x0; x < x1; x++ {
				for y := y0; y < y1; y++ {
					winding[x][y] += k
				}
			}
			loops = append(loops, loop)
		}
		want := 0.0
		for _, column := range winding {
			for _, k := range column {
				if k > 0 {
					want++
				}
			}
		}
		all, err := Domains(loops)
		if want == 0 {
			if err == nil {
				t.Fatalf("no error without area")
			}
			return
		}
		var area float64
		for _, d := range all {
			d.Refine(even(d, 2), 5000)
			a, least := sound(t, d)
			area += a
			if least < 19 {
				t.Errorf("least angle %g", least)
			}
		}
		closeTo(t, "area", area, want, 1e-7)
	})
}

// Stars with random radii turn sharp corners of every kind.
func TestRandomStarsAreFilled(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 60).Draw(t, "corners")
		loop := make([]r2.Vec, n)
		for i := range loop {
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			r := rapid.Float64Range(0.01, 1).Draw(t, "radius")
			loop[i] = r2.Vec{X: r * c, Y: r * s}
		}
		if n < 4 {
			return
		}
		d := one(t, loop)
		finished := d.Refine(even(d, 0.5), 50000)
		area, _ := sound(t, d)
		closeTo(t, "area", area, loopArea(loop), 1e-6)
		if !finished {
			t.Errorf("not finished with %d points", d.Points())
		}
	})
}
