package cut_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/internal/sample"
	"swapworth/internal/triangle"
	"swapworth/mesh/cut"
)

// requireTriangulation checks what every triangulation must be: counter-
// clockwise faces that add up to the area, whose boundary is the outline, and as
// many of them as Euler's formula asks for.
func requireTriangulation(t interface {
	Fatalf(string, ...any)
}, p cut.Polygon) [][3]int32 {
	points, faces, err := cut.Triangulate(p)
	if err != nil {
		t.Fatalf("%v", err)
	}
	area := covered(points, faces)
	sides := map[[2]int32]int{}
	for _, f := range faces {
		a, b, c := points[f[0]], points[f[1]], points[f[2]]
		if triangle.Turn(a, b, c) <= 0 {
			t.Fatalf("face %v is not counter-clockwise", f)
		}
		for k := range f {
			sides[[2]int32{f[k], f[(k+1)%3]}]++
		}
	}
	if want := p.Area(); math.Abs(area-want) > 1e-10*(1+want) {
		t.Fatalf("the faces cover %g mm2, want %g", area, want)
	}
	boundary := 0
	for s, n := range sides {
		if n != 1 {
			t.Fatalf("side %v used %d times", s, n)
		}
		if sides[[2]int32{s[1], s[0]}] == 0 {
			boundary++
		}
	}
	n, start := len(points), int32(0)
	if boundary != n {
		t.Fatalf("%d boundary sides for %d outline points", boundary, n)
	}
	for _, l := range p.Loops() {
		for i := range l {
			s := [2]int32{start + int32(i), start + int32((i+1)%len(l))}
			if sides[s] != 1 {
				t.Fatalf("outline edge %v is no side of a face", s)
			}
		}
		start += int32(len(l))
	}
	if want := n + 2*len(p.Holes) - 2; len(faces) != want {
		t.Fatalf("%d faces, want %d", len(faces), want)
	}
	return faces
}

func TestASquareWithARoundHole(t *testing.T) {
	requireTriangulation(t, cut.Polygon{
		Outer: sample.Rectangle(0, 0, 10, 10),
		Holes: [][]r2.Vec{sample.Reversed(sample.Ring(r2.Vec{X: 5, Y: 5}, 3, 64))},
	})
}

// A comb has reflex corners on one line, and collinear points along its back.
func TestACombWithCollinearPoints(t *testing.T) {
	var comb []r2.Vec
	for i := range 50 {
		x := float64(i)
		comb = append(comb, r2.Vec{X: x}, r2.Vec{X: x + 0.5})
	}
	comb = append(comb, r2.Vec{X: 50})
	for i := 50; i > 0; i-- {
		x := float64(i)
		comb = append(comb, r2.Vec{X: x, Y: 10}, r2.Vec{X: x - 0.3, Y: 10}, r2.Vec{X: x - 0.5, Y: 1}, r2.Vec{X: x - 0.7, Y: 1})
	}
	requireTriangulation(t, cut.Polygon{Outer: comb})
}

func TestStarShapedOutlinesWithHolesTriangulate(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 120).Draw(t, "points")
		seed := rapid.Uint64().Draw(t, "seed")
		far := rapid.SampledFrom([]float64{0, 1, 1e4, 1e7}).Draw(t, "far")
		rnd := rand.New(rand.NewPCG(seed, 0))
		outer := sample.Ring(r2.Vec{X: far, Y: -far}, 1, n)
		for i := range outer {
			outer[i] = r2.Add(r2.Vec{X: far, Y: -far},
				r2.Scale(50+50*rnd.Float64(), r2.Sub(outer[i], r2.Vec{X: far, Y: -far})))
		}
		p := cut.Polygon{Outer: outer}
		if n >= 8 { // the outline then keeps 50 cos(pi/8) = 46 mm clear
			for i := range rapid.IntRange(0, 20).Draw(t, "holes") {
				at := r2.Vec{X: far + float64(i%5)*10 - 20, Y: -far + float64(i/5)*10 - 15}
				p.Holes = append(p.Holes, sample.Reversed(sample.Ring(at, 1+3*rnd.Float64(), 3+rnd.IntN(30))))
			}
		}
		requireTriangulation(t, p)
	})
}

// Grid points are full of collinear and cocircular sets, where inexact
// decisions go wrong.
func TestStaircasesOnAGridTriangulate(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		heights := rapid.SliceOfN(rapid.IntRange(1, 5), 1, 60).Draw(t, "heights")
		scale := rapid.SampledFrom([]float64{1, 0.1, 1.0 / 3}).Draw(t, "scale")
		outer := []r2.Vec{{X: 0, Y: 0}}
		for x := 1; x <= len(heights); x++ {
			outer = append(outer, r2.Vec{X: scale * float64(x)})
		}
		level := 0
		for x := len(heights); x > 0; x-- {
			h := heights[x-1]
			if h != level {
				outer = append(outer, r2.Vec{X: scale * float64(x), Y: scale * float64(h)})
			}
			outer = append(outer, r2.Vec{X: scale * float64(x-1), Y: scale * float64(h)})
			level = h
		}
		requireTriangulation(t, cut.Polygon{Outer: outer})
	})
}

func TestLoopsMayTouchAtPoints(t *testing.T) {
	// a square hole standing on its corner, touching the outer edge's midpoint
	p := cut.Polygon{
		Outer: sample.Rectangle(0, 0, 4, 4),
		Holes: [][]r2.Vec{
			{{X: 2, Y: 0}, {X: 1, Y: 1}, {X: 2, Y: 2}, {X: 3, Y: 1}},
			{{X: 2, Y: 2}, {X: 1, Y: 3}, {X: 3, Y: 3}},
		},
	}
	points, faces, err := cut.Triangulate(p)
	if err != nil {
		t.Fatal(err)
	}
	if a := covered(points, faces); math.Abs(a-(16-2-1)) > 1e-12 {
		t.Errorf("the faces cover %g mm2, want 13", a)
	}
}

func TestBadOutlinesAreRefusedWithTheReason(t *testing.T) {
	for _, c := range []struct {
		name, want string
		p          cut.Polygon
	}{
		{"two points", "2 points", cut.Polygon{Outer: []r2.Vec{{}, {X: 1}}}},
		{"bow tie", "cross near (1, 1)", cut.Polygon{Outer: []r2.Vec{{}, {X: 2, Y: 2}, {X: 2}, {Y: 2}}}},
		{"clockwise", "counter-clockwise", cut.Polygon{Outer: sample.Reversed(sample.Rectangle(0, 0, 1, 1))}},
		{"hole outside", "inside", cut.Polygon{Outer: sample.Rectangle(0, 0, 1, 1), Holes: [][]r2.Vec{sample.Reversed(sample.Rectangle(2, 0, 3, 1))}}},
		{"hole across", "cross near", cut.Polygon{Outer: sample.Rectangle(0, 0, 2, 2), Holes: [][]r2.Vec{sample.Reversed(sample.Rectangle(1, 0.5, 3, 1))}}},
		{"not a number", "finite", cut.Polygon{Outer: []r2.Vec{{}, {X: math.NaN()}, {Y: 1}}}},
		{"infinite", "finite", cut.Polygon{Outer: []r2.Vec{{}, {X: math.Inf(1)}, {Y: 1}}}},
		{"no area", "", cut.Polygon{Outer: []r2.Vec{{}, {X: 1}, {X: 2}}}},
	} {
		_, faces, err := cut.Triangulate(c.p)
		if c.want == "" {
			if err != nil || len(faces) != 0 {
				t.Errorf("%s: %v, %v", c.name, faces, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.name, err, c.want)
		}
	}
}

func TestTenThousandPointsTakeLessThanASecond(t *testing.T) {
	wavy := sample.Ring(r2.Vec{}, 1, 6000)
	for i, p := range wavy {
		wavy[i] = r2.Scale(100+5*math.Sin(float64(i)), p)
	}
	p := cut.Polygon{Outer: wavy}
	for i := range 40 {
		at := r2.Vec{X: float64(i%8)*14 - 49, Y: float64(i/8)*14 - 28}
		p.Holes = append(p.Holes, sample.Reversed(sample.Ring(at, 5, 100)))
	}
	start := time.Now()
	requireTriangulation(t, p)
	if d := time.Since(start); d > time.Second {
		t.Errorf("took %v", d)
	}
}

func FuzzTriangulate(f *testing.F) {
	f.Add([]byte{0, 0, 9, 0, 9, 9, 0, 9}, uint8(4))
	f.Add([]byte{0, 0, 9, 0, 9, 9, 0, 9, 2, 2, 2, 4, 4, 4}, uint8(4))
	f.Fuzz(func(t *testing.T, data []byte, outer uint8) {
		var all []r2.Vec
		for i := 0; i+1 < len(data); i += 2 {
			all = append(all, r2.Vec{X: float64(data[i]) / 3, Y: float64(data[i+1]) / 7})
		}
		n := min(int(outer), len(all))
		p := cut.Polygon{Outer: all[:n]}
		if n < len(all) {
			p.Holes = [][]r2.Vec{all[n:]}
		}
		points, faces, err := cut.Triangulate(p)
		if err != nil {
			return
		}
		for _, f := range faces {
			if triangle.Turn(points[f[0]], points[f[1]], points[f[2]]) <= 0 {
				t.Fatalf("face %v of %v is not counter-clockwise", f, p)
			}
		}
	})
}

// covered returns the area of the faces, in mm2.
func covered(points []r2.Vec, faces [][3]int32) (area float64) {
	for _, f := range faces {
		a, b, c := points[f[0]], points[f[1]], points[f[2]]
		area += r2.Cross(r2.Sub(b, a), r2.Sub(c, a)) / 2
	}
	return area
}
