package feature

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/internal/vector"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// irregularBlock is block with every wall split into staggered rows whose inner
// corners are shaken along the drawn surface, as a free mesher leaves it.
func irregularBlock(t *rapid.T, height float64, n, rows int, profile ...ring) *mesh.Mesh {
	random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "shake"), 1))
	square := []r2.Vec{{X: -20, Y: -20}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -20, Y: 20}}
	var corners []r3.Vec
	plane := func(z, radius float64, up bool) {
		p := cut.Polygon{Outer: square}
		if radius > 0 {
			p.Holes = [][]r2.Vec{reversed(circle(0, 0, radius, n))}
		}
		points, faces, err := cut.Triangulate(p)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range faces {
			if !up {
				f[1], f[2] = f[2], f[1]
			}
			for _, i := range f {
				corners = append(corners, r3.Vec{X: points[i].X, Y: points[i].Y, Z: z})
			}
		}
	}
	plane(height, profile[0].radius, true)
	plane(0, profile[len(profile)-1].radius, false)
	for k, p := range square {
		q := square[(k+1)%4]
		a, b := r3.Vec{X: p.X, Y: p.Y}, r3.Vec{X: q.X, Y: q.Y}
		c, d := r3.Vec{X: q.X, Y: q.Y, Z: height}, r3.Vec{X: p.X, Y: p.Y, Z: height}
		corners = append(corners, a, b, c, a, c, d)
	}
	for i := 1; i < len(profile); i++ {
		top, low := profile[i-1], profile[i]
		row := func(j int) []r3.Vec {
			out := make([]r3.Vec, n)
			for k := range out {
				share, turn := float64(j)/float64(rows), float64(k)
				if j > 0 && j < rows {
					turn += 0.25*float64(j%2) + 0.3*(random.Float64()-0.5)
					share += 0.4 * (random.Float64() - 0.5) / float64(rows)
				}
				radius := top.radius + share*(low.radius-top.radius)
				s, c := math.Sincos(2 * math.Pi * turn / float64(n))
				out[k] = r3.Vec{X: radius * c, Y: radius * s, Z: top.z + share*(low.z-top.z)}
			}
			return out
		}
		above := row(0)
		for j := 1; j <= rows; j++ {
			below := row(j)
			for k := range n {
				a, b, c, d := above[k], above[(k+1)%n], below[(k+1)%n], below[k]
				if random.IntN(2) == 0 {
					corners = append(corners, a, b, c, a, c, d)
				} else {
					corners = append(corners, a, b, d, b, c, d)
				}
			}
			above = below
		}
	}
	m := mesh.Weld(corners)
	kept := m.Faces[:0]
	for _, f := range m.Faces {
		if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
			kept = append(kept, f)
		}
	}
	m.Faces = kept
	return m
}

func TestWallsSplitIrregularly(t *testing.T) {
	property.Few(t, 60, func(t *rapid.T) {
		n := rapid.SampledFrom([]int{12, 16, 24, 40, 64, 100}).Draw(t, "chords")
		rows := rapid.IntRange(2, 8).Draw(t, "rows")
		d := rapid.Float64Range(2.5, 9).Draw(t, "diameter")
		r := d / 2
		kind := rapid.SampledFrom([]Kind{Through, Blind, Counterbore, Countersink}).Draw(t, "kind")
		want := Hole{Kind: kind, Diameter: d, Depth: 12}
		profile := []ring{{r, 12}, {r, 0}}
		switch kind {
		case Blind:
			profile = []ring{{r, 12}, {r, 5}, {0, 5 - r*math.Tan(31*math.Pi/180)}} // a drill of 118 degrees
			want.Depth = 7
		case Counterbore:
			profile = []ring{{1.8 * r, 12}, {1.8 * r, 8}, {r, 8}, {r, 0}}
			want.HeadDiameter, want.HeadDepth = 1.8*d, 4
		case Countersink:
			profile = []ring{{2 * r, 12}, {r, 12 - r}, {r, 0}}
			want.HeadDiameter, want.HeadDepth = 2*d, r
		}
		move := motion(t)
		holes := Holes(rounded(irregularBlock(t, 12, n, rows, profile...), move))
		if len(holes) != 1 {
			t.Fatalf("%s in %d chords and %d rows: %d holes", kind, n, rows, len(holes))
		}
		h := holes[0]
		h.Faces = nil
		centre := move.Apply(r3.Vec{Z: 12 - want.Depth/2})
		if h.Kind != kind || math.Abs(h.Diameter-d) > 0.02 || math.Abs(h.Depth-want.Depth) > 0.02 ||
			math.Abs(h.HeadDiameter-want.HeadDiameter) > 0.02 || math.Abs(h.HeadDepth-want.HeadDepth) > 0.02 ||
			vector.Length(r3.Sub(h.Centre, centre)) > 0.01 {
			t.Fatalf("%d chords, %d rows:\n got %+v\nwant %+v at %v", n, rows, h, want, centre)
		}
	})
}

// few_chords.stl.gz is a plate 60 x 30 x 6 meshed freely at 12 chords, with rows of
// corners part-way up the walls: gmsh 4.8 with OpenCASCADE. Drawn: a counterbore of
// 7 mm with a head of 12 mm to half the thickness at (15, 15), and a hole of 8 mm
// about (42, 15, 3) that leans by 20 degrees towards x.
func TestLowWallsAndSlantedEndsInFewChords(t *testing.T) {
	l, err := mesh.Load("testdata/few_chords.stl.gz", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	sin, cos := math.Sincos(20 * math.Pi / 180)
	want := []Hole{
		{Kind: Counterbore, Axis: r3.Vec{Z: 1}, Centre: r3.Vec{X: 15, Y: 15, Z: 3}, Diameter: 7, Depth: 6, HeadDiameter: 12, HeadDepth: 3},
		{Kind: Through, Axis: r3.Vec{X: sin, Z: cos}, Centre: r3.Vec{X: 42, Y: 15, Z: 3}, Diameter: 8, Depth: 6 / cos},
	}
	holes := Holes(l.Mesh)
	if len(holes) != len(want) {
		t.Fatalf("%d holes, drawn with %d", len(holes), len(want))
	}
	for i, w := range want {
		h := holes[i]
		if h.Kind != w.Kind || vector.Length(r3.Sub(h.Axis, w.Axis)) > 1e-5 || vector.Length(r3.Sub(h.Centre, w.Centre)) > 1e-3 ||
			math.Abs(h.Diameter-w.Diameter) > 1e-3 || math.Abs(h.Depth-w.Depth) > 1e-3 ||
			math.Abs(h.HeadDiameter-w.HeadDiameter) > 1e-3 || math.Abs(h.HeadDepth-w.HeadDepth) > 1e-3 {
			h.Faces = nil
			t.Errorf("got %+v\nwant %+v", h, w)
		}
	}
}
