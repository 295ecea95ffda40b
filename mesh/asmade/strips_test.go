package asmade

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// ring is an outline at a height.
type ring struct {
	outline []r2.Vec
	z       float64
}

// loft closes rings of as many corners each, one above the other, as a CAD system
// does: in long strips.
func loft(t testing.TB, rings ...ring) Part {
	t.Helper()
	n := int32(len(rings[0].outline))
	m := &mesh.Mesh{}
	for _, r := range rings {
		for _, p := range r.outline {
			m.Vertices = append(m.Vertices, r3.Vec{X: p.X, Y: p.Y, Z: r.z})
		}
	}
	for j := range int32(len(rings) - 1) {
		for i := range n {
			a, b := j*n+i, j*n+(i+1)%n
			m.Faces = append(m.Faces, [3]int32{a, b, b + n}, [3]int32{a, b + n, a + n})
		}
	}
	last := int32(len(rings)-1) * n
	for i := int32(1); i < n-1; i++ {
		m.Faces = append(m.Faces, [3]int32{0, i + 1, i}, [3]int32{last, last + i, last + i + 1})
	}
	if r := mesh.Check(m); !r.Closed || m.SignedVolume() <= 0 {
		t.Fatalf("the drawn part: %+v", r)
	}
	return Read(m)
}

// filletedTop is a block a x b x h, its upright corners of radius c, whose top
// edges have a fillet of radius r in some strips.
func filletedTop(t testing.TB, a, b, h, c, r float64, strips int) Part {
	at := func(inset float64) []r2.Vec {
		if c == 0 {
			return rectangle(inset, inset, a-inset, b-inset)
		}
		return rounded(inset, inset, a-inset, b-inset, c-inset)
	}
	rings := []ring{{at(0), 0}}
	for k := range strips + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(k) / float64(strips))
		rings = append(rings, ring{at(r - r*cos), h - r + r*sin})
	}
	return loft(t, rings...)
}

// What is added is the thickness times the area under the fillet, however it is
// drawn.
func TestFilletsRideUpOnAnUnfacedSideInAnyStrips(t *testing.T) {
	for _, r := range []float64{1, 2, 3} {
		for strips := 2; strips <= 10; strips++ {
			for _, c := range []float64{0, 6} {
				p := filletedTop(t, 60, 40, 12, c, r, strips)
				area := 60.0 * 40
				if c > 0 {
					area = roundedArea(60, 40, c)
				}
				v, err := Unfaced(p, up, 14.5)
				t.Run(fmt.Sprintf("r%g in %d strips, corners %g", r, strips, c), func(t *testing.T) {
					sound(t, p, v, err, 2.5*area)
				})
				v, err = Unfaced(p, r3.Vec{Z: -1}, 13)
				sound(t, p, v, err, area)
			}
		}
	}
}

// quartered splits every triangle at the middles of its sides.
func quartered(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: append([]r3.Vec(nil), m.Vertices...)}
	middle := map[[2]int32]int32{}
	between := func(a, b int32) int32 {
		key := [2]int32{min(a, b), max(a, b)}
		if _, known := middle[key]; !known {
			middle[key] = int32(len(out.Vertices))
			out.Vertices = append(out.Vertices, r3.Scale(0.5, r3.Add(m.Vertices[a], m.Vertices[b])))
		}
		return middle[key]
	}
	for _, f := range m.Faces {
		a, b, c := between(f[0], f[1]), between(f[1], f[2]), between(f[2], f[0])
		out.Faces = append(out.Faces, [3]int32{f[0], a, c}, [3]int32{a, f[1], b}, [3]int32{c, b, f[2]}, [3]int32{a, b, c})
	}
	return out
}

// The same faces in four times the triangles add the same.
func TestVariantsDoNotDependOnTheTriangles(t *testing.T) {
	pocketed := stack(t,
		layer(2, rectangle(0, 0, 100, 60), circle(10, 10, 2.75), circle(85, 45, 9)),
		layer(4, rectangle(0, 0, 100, 60), circle(10, 10, 2.75), circle(85, 45, 9), rounded(30, 15, 70, 45, 4)))
	edged := chamfered(t, 80, 40, 10, 1.5)
	filleted := filletedTop(t, 60, 40, 12, 6, 2, 5)
	for _, c := range []struct {
		name string
		part Part
		make func(Part) (Variant, error)
	}{
		{"pockets not faced", pocketed, func(p Part) (Variant, error) { return Unfaced(p, up, 8) }},
		{"fillets not faced", filleted, func(p Part) (Variant, error) { return Unfaced(p, up, 14) }},
		{"chamfers not faced", edged, func(p Part) (Variant, error) { return Unfaced(p, up, 14) }},
		{"stock left", pocketed, func(p Part) (Variant, error) { return StockLeft(p, up, 0.3, 0.2, 13) }},
		{"chamfers skipped", edged, WithoutChamfers},
		{"out of register", pocketed, func(p Part) (Variant, error) {
			both, err := Registration(p, r3.Vec{Z: -1}, 0.2)
			if err != nil {
				return Variant{}, err
			}
			return both[0].Variant, both[0].Err
		}},
	} {
		v, err := c.make(c.part)
		w, err2 := c.make(Read(quartered(quartered(c.part.Mesh))))
		if err != nil || err2 != nil {
			t.Errorf("%s: %v, %v", c.name, err, err2)
			continue
		}
		if math.Abs(v.Added-w.Added) > 1e-3*math.Abs(v.Added)+1e-6 {
			t.Errorf("%s: %.6f mm3 added, %.6f in small triangles", c.name, v.Added, w.Added)
		}
	}
}

// A window and a milled circle get stock, drilled holes do not, and it is said.
func TestStockIsLeftInWindowsAndMilledCircles(t *testing.T) {
	const w, h = 0.3, 5.0
	p := stack(t, layer(h, rectangle(0, 0, 100, 60), circle(10, 10, 2.75), circle(80, 30, 12), rounded(20, 10, 60, 50, 6)))
	v, err := StockLeft(p, up, w, 0.2, 13)
	want := h * (roundedArea(40, 40, 6) - roundedArea(40-2*w, 40-2*w, 6-w) + circleArea(12) - circleArea(12-w))
	sound(t, p, v, err, want)
	if want := []string{"1 round opening wider than 13 mm taken as milled, with stock", "no stock in 1 round hole up to 5.5 mm, drilled or bored to size"}; !slices.Equal(v.Notes, want) {
		t.Errorf("notes %q", v.Notes)
	}
}

// A slot that the stock would close is skipped by name and place, and what it may
// hold widens the range.
func TestAPocketTooSmallForTheStockIsSkippedAndNamed(t *testing.T) {
	const w = 1.2
	p := stack(t, layer(2, rectangle(0, 0, 100, 60)),
		layer(4, rectangle(0, 0, 100, 60), rectangle(10, 10, 12, 50), rectangle(30, 10, 80, 50)))
	v, err := StockLeft(p, up, w, 0, 13)
	if err != nil {
		t.Fatal(err)
	}
	large := 4 * (50*40 - (50-2*w)*(40-2*w))
	if math.Abs(v.Added-large) > 1e-6 {
		t.Errorf("added %g mm3, by hand %g", v.Added, large)
	}
	closed := 4.0 * 2 * 40 // the slot holds no more
	if v.Error < closed || v.Error > 2*closed {
		t.Errorf("states an error of %g mm3 for a slot of %g", v.Error, closed)
	}
	if len(v.Notes) != 1 || v.Notes[0] != "skipped: the pocket at (11, 30, 2) has no room for so much stock" {
		t.Errorf("notes %q", v.Notes)
	}
}

// Holes and counterbores of the second side move with its pockets; a hole through
// both sides stays.
func TestAnOriginErrorMovesWhatIsMadeFromTheSecondSide(t *testing.T) {
	p := stack(t, // from below: a counterbore of 10 on a hole of 5, a blind hole of 6
		layer(4, rectangle(0, 0, 60, 40), circle(15, 20, 5), circle(45, 20, 3)),
		layer(4, rectangle(0, 0, 60, 40), circle(15, 20, 2.5)))
	for k, r := range register(t, p, 0.2) {
		if r.Holes != 2 || r.Pockets != 0 || r.Err != nil {
			t.Fatalf("%+v", r)
		}
		sound(t, p, r.Variant, nil, 0)
		moved := 0
		for _, h := range Read(r.Variant.Mesh).Features.Rounds {
			at := r3.Vec{X: h.Centre.X, Y: h.Centre.Y}
			drawn := r3.Vec{X: 15, Y: 20}
			if h.Radius < 4 && h.Radius > 2.9 {
				drawn.X = 45
			}
			by := 0.4
			if h.Radius < 2.6 {
				by = 0
			}
			want := r3.Add(drawn, r3.Scale(by, r.Way))
			if r3.Norm(r3.Sub(at, want)) > 1e-6 {
				t.Errorf("direction %d: the round of radius %.3g lies at %v, want %v", k, h.Radius, at, want)
			}
			moved++
		}
		if moved != 3 {
			t.Errorf("%d rounds, drawn with 3", moved)
		}
	}
}
