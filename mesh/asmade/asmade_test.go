package asmade

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

const chords = 64

func rectangle(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func reversed(p []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(p))
	for k, v := range p {
		out[len(p)-1-k] = v
	}
	return out
}

func circle(x, y, r float64) []r2.Vec {
	out := make([]r2.Vec, chords)
	for k := range out {
		s, c := math.Sincos(2 * math.Pi * float64(k) / chords)
		out[k] = r2.Vec{X: x + r*c, Y: y + r*s}
	}
	return out
}

// circleArea is that of the polygon of circle.
func circleArea(r float64) float64 {
	return chords / 2 * r * r * math.Sin(2*math.Pi/chords)
}

// rounded is a rectangle with corners of radius r in 16 chords each.
func rounded(x0, y0, x1, y1, r float64) []r2.Vec {
	var out []r2.Vec
	for k, c := range []r2.Vec{{X: x1 - r, Y: y1 - r}, {X: x0 + r, Y: y1 - r}, {X: x0 + r, Y: y0 + r}, {X: x1 - r, Y: y0 + r}} {
		for i := range chords/4 + 1 {
			sin, cos := math.Sincos(math.Pi/2*float64(k) + 2*math.Pi*float64(i)/chords)
			out = append(out, r2.Vec{X: c.X + r*cos, Y: c.Y + r*sin})
		}
	}
	return out
}

func roundedArea(a, b, r float64) float64 { return a*b - 4*r*r + circleArea(r) }

func stack(t testing.TB, layers ...cut.Layer) Part {
	t.Helper()
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), layers...)
	if err != nil {
		t.Fatal(err)
	}
	return Read(m)
}

func layer(thick float64, outer []r2.Vec, holes ...[]r2.Vec) cut.Layer {
	p := cut.Polygon{Outer: outer}
	for _, h := range holes {
		p.Holes = append(p.Holes, reversed(h))
	}
	return cut.Layer{Region: cut.Region{p}, Thickness: thick}
}

var up = r3.Vec{Z: 1}

// sound checks that a variant is closed and has the volume worked out by hand.
func sound(t *testing.T, p Part, v Variant, err error, added float64) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(v.Added-added) > 1e-7*math.Abs(added)+1e-6 {
		t.Errorf("%s: added %.6f mm3, by hand %.6f", v.Name, v.Added, added)
	}
	if v.Error > 1e-6*math.Abs(added) {
		t.Errorf("%s: states an error of %g mm3 where it is exact", v.Name, v.Error)
	}
	if got := v.Mesh.SignedVolume() - p.Mesh.SignedVolume(); math.Abs(got-v.Added) > 1e-6 {
		t.Errorf("%s: the mesh has %g mm3 more, stated %g", v.Name, got, v.Added)
	}
	if r := mesh.Check(v.Mesh); !r.Closed {
		t.Errorf("%s: not closed: %+v", v.Name, r)
	}
}

// A plate left at 5 mm instead of 4 mm is 25 % heavier: common practice.
func TestAPlateLeftAtFiveInsteadOfFourIsAQuarterHeavier(t *testing.T) {
	p := stack(t, layer(4, rectangle(0, 0, 120, 70), circle(10, 10, 2.75), circle(110, 60, 2.75)))
	v, err := Unfaced(p, up, 5)
	sound(t, p, v, err, p.Mesh.SignedVolume()/4)
}

func TestHolesAndPocketsAreCarriedThroughAnUnfacedSide(t *testing.T) {
	p := stack(t,
		layer(2, rectangle(0, 0, 100, 60), circle(10, 10, 2.75)),
		layer(4, rectangle(0, 0, 100, 60), circle(10, 10, 2.75), rounded(30, 15, 70, 45, 4)))
	top := 100*60 - circleArea(2.75) - roundedArea(40, 30, 4)
	v, err := Unfaced(p, up, 8)
	sound(t, p, v, err, 2*top)
	if size := v.Mesh.Bounds().Size(); math.Abs(size.Z-8) > 1e-9 {
		t.Errorf("%g mm thick", size.Z)
	}
	bottom := 100*60 - circleArea(2.75)
	v, err = Unfaced(p, r3.Vec{Z: -1}, 6.5)
	sound(t, p, v, err, 0.5*bottom)
}

func TestStockThinnerThanThePartIsRefused(t *testing.T) {
	p := stack(t, layer(4, rectangle(0, 0, 50, 20)))
	if _, err := Unfaced(p, up, 3.5); err == nil {
		t.Error("a part of 4 mm came out of stock of 3.5 mm")
	}
}

// chamfered is a box a x b x h whose four top edges are broken by c x 45 degrees.
// It lacks the integral of ab - (a-2t)(b-2t) over t = 0..c, which is
// c^2 (a+b) - 4/3 c^3.
func chamfered(t *testing.T, a, b, h, c float64) Part {
	t.Helper()
	m := mesh.Cuboid(r3.Vec{}, r3.Vec{X: a, Y: b, Z: h})
	for _, side := range []struct{ on, normal r3.Vec }{
		{r3.Vec{X: c, Z: h}, r3.Vec{X: -1, Z: 1}},
		{r3.Vec{X: a - c, Z: h}, r3.Vec{X: 1, Z: 1}},
		{r3.Vec{Y: c, Z: h}, r3.Vec{Y: -1, Z: 1}},
		{r3.Vec{Y: b - c, Z: h}, r3.Vec{Y: 1, Z: 1}},
	} {
		plane, err := mesh.PlaneFromNormal(side.on, side.normal)
		if err != nil {
			t.Fatal(err)
		}
		if m, err = cut.Clip(m, plane); err != nil {
			t.Fatal(err)
		}
	}
	return Read(m)
}

func TestSkippedChamfersFillTheEdges(t *testing.T) {
	const a, b, h, c = 80, 40, 10, 1.5
	p := chamfered(t, a, b, h, c)
	lacks := c*c*(a+b) - 4./3*c*c*c
	if got := a*b*h - p.Mesh.SignedVolume(); math.Abs(got-lacks) > 1e-6 {
		t.Fatalf("the part lacks %g mm3, by hand %g", got, lacks)
	}
	v, err := WithoutChamfers(p)
	sound(t, p, v, err, lacks)
	length := 0.0
	for _, c := range Chamfers(p) {
		length += c.Length
	}
	if want := 2*a + 2*b - 4*c; math.Abs(length-want) > 1e-6 { // the mean of both borders
		t.Errorf("%g mm of chamfers, drawn with %g", length, want)
	}
}

func TestChamfersRideUpOnAnUnfacedSide(t *testing.T) {
	const a, b, h, c = 80, 40, 10, 1.5
	p := chamfered(t, a, b, h, c)
	v, err := Unfaced(p, up, h+2)
	sound(t, p, v, err, 2*a*b)
}

func TestAPartWithoutChamfersHasNoneToSkip(t *testing.T) {
	if _, err := WithoutChamfers(stack(t, layer(4, rectangle(0, 0, 50, 20), circle(10, 10, 3)))); err == nil {
		t.Error("skipped a chamfer that is not there")
	}
}

func TestStockLeftInPockets(t *testing.T) {
	const wall, floor = 0.3, 0.2
	p := stack(t,
		layer(2, rectangle(0, 0, 100, 60), circle(10, 10, 2.75)),
		layer(4, rectangle(0, 0, 100, 60), circle(10, 10, 2.75), rounded(30, 15, 70, 45, 4)))
	v, err := StockLeft(p, up, wall, floor, 13)
	before := roundedArea(40, 30, 4) * 4
	after := roundedArea(40-2*wall, 30-2*wall, 4-wall) * (4 - floor)
	sound(t, p, v, err, before-after)
}

func TestStockLeftOnAnIslandAndOnAStep(t *testing.T) {
	island := rectangle(45, 25, 55, 35)
	p := stack(t,
		layer(2, rectangle(0, 0, 100, 60)),
		cut.Layer{Thickness: 4, Region: cut.Region{
			{Outer: rectangle(0, 0, 80, 60), Holes: [][]r2.Vec{reversed(rectangle(30, 15, 70, 45))}},
			{Outer: island},
		}})
	const w = 0.5
	v, err := StockLeft(p, up, w, 0, 13)
	pocket := 40*30 - (40-2*w)*(30-2*w) + (10+2*w)*(10+2*w) - 10*10
	step := w * 60
	// a cutter that rolls around the island's corners leaves them round
	round := 4 * 4 * (1 - math.Pi/4) * w * w
	if math.Abs(v.Error-round) > 1e-6 {
		t.Errorf("states an error of %g mm3, the corners of the island hold %g", v.Error, round)
	}
	v.Error = 0
	sound(t, p, v, err, 4*(pocket+step))
}

// A slot that the stock would close stays as drawn, and its volume is in doubt.
func TestMoreStockThanThePocketIsWideIsLeftOpen(t *testing.T) {
	p := stack(t,
		layer(2, rectangle(0, 0, 100, 60)),
		layer(4, rectangle(0, 0, 100, 60), rectangle(30, 15, 34, 45)))
	v, err := StockLeft(p, up, 2.5, 0, 13)
	if err != nil {
		t.Fatal(err)
	}
	if closed := 4.0 * 4 * 30; v.Added != 0 || v.Error < closed || len(v.Notes) != 1 {
		t.Errorf("added %g +- %g of the %g mm3 of the slot, notes %q", v.Added, v.Error, closed, v.Notes)
	}
}

func TestOversizeGrowsThePartAndShrinksItsHoles(t *testing.T) {
	const d = 0.1
	p := stack(t, layer(5, rectangle(0, 0, 50, 20), circle(10, 10, 3)))
	v, err := Oversize(p, d)
	want := ((50+2*d)*(20+2*d)-circleArea(3-d))*(5+2*d) - (50*20-circleArea(3))*5
	sound(t, p, v, err, want)
	v, err = Oversize(p, -d)
	want = ((50-2*d)*(20-2*d)-circleArea(3+d))*(5-2*d) - (50*20-circleArea(3))*5
	sound(t, p, v, err, want)
}

// ISO 2768-1 table 1, from memory.
func TestISO2768Deviations(t *testing.T) {
	for _, c := range []struct {
		class Class
		size  float64
		want  float64
	}{
		{Medium, 5, 0.1}, {Medium, 6, 0.1}, {Medium, 6.01, 0.2}, {Medium, 100, 0.3}, {Medium, 350, 0.5},
		{Fine, 5, 0.05}, {Fine, 50, 0.15}, {Coarse, 5, 0.3}, {Coarse, 100, 0.8}, {VeryCoarse, 20, 1},
	} {
		if got, err := c.class.Deviation(c.size); err != nil || got != c.want {
			t.Errorf("class %s, %g mm: %g %v, want %g", c.class, c.size, got, err, c.want)
		}
	}
	for _, bad := range []float64{0.4, 5000, math.NaN()} {
		if got, err := Medium.Deviation(bad); err == nil {
			t.Errorf("%g mm: %g", bad, got)
		}
	}
	if c, err := ParseClass("ISO 2768-mK"); err != nil || c != Medium {
		t.Errorf("%v %v", c, err)
	}
	if _, err := ParseClass("q"); err == nil {
		t.Error("class q")
	}
}

func TestTheLimitsOfAGeneralTolerance(t *testing.T) {
	p := stack(t, layer(5, rectangle(0, 0, 100, 20)))
	v, err := AtLimit(p, Medium, true)
	sound(t, p, v, err, 100.3*20.2*5.1-100*20*5)
	v, err = AtLimit(p, Medium, false)
	sound(t, p, v, err, 99.7*19.8*4.9-100*20*5)
}

// An origin error doubles across a flip: common practice.
func TestAnOriginErrorDoublesAcrossTheFlip(t *testing.T) {
	p := stack(t,
		layer(4, rectangle(0, 0, 60, 40), rectangle(3, 12, 23, 30)), // opens downwards
		layer(2, rectangle(0, 0, 60, 40)),
		layer(4, rectangle(0, 0, 60, 40), rectangle(30, 10, 55, 30)))
	both := register(t, p, 0.25)
	for _, r := range both {
		if r.Offset != 0.5 || r.Pockets != 1 || r.Err != nil {
			t.Errorf("%+v", r)
		}
		sound(t, p, r.Variant, nil, 0)
	}
	// Along x the pocket lies 3 mm from the outline, along y 10.
	for k, want := range []struct {
		way         r3.Vec
		drawn, left float64
	}{{r3.Vec{X: -1}, 3, 2.5}, {r3.Vec{Y: 1}, 10, 9.5}} {
		r := both[k]
		if r.Way != want.way || math.Abs(r.Between.Thickness-want.drawn) > 1e-6 || math.Abs(*r.Left-want.left) > 1e-6 {
			// the thinnest wall stays 3 mm while the shift runs along it
			if k == 0 || math.Abs(*r.Left-3) > 1e-6 {
				t.Errorf("along %v: %+v, left %v, want %+v", r.Way, r.Between, *r.Left, want)
			}
		}
	}
	again := register(t, Read(both[0].Variant.Mesh), 0.01)
	if math.Abs(again[0].Between.Thickness-2.5) > 1e-6 {
		t.Errorf("the shifted part has a wall of %g mm, want 2.5", again[0].Between.Thickness)
	}
	if r := register(t, p, 1.6)[0]; r.Err == nil {
		t.Error("an offset of 3.2 mm left something of a wall of 3 mm")
	}
}

func register(t *testing.T, p Part, e float64) []Register {
	t.Helper()
	both, err := Registration(p, up, e)
	if err != nil {
		t.Fatal(err)
	}
	if len(both) != 2 {
		t.Fatalf("%d directions, a table has 2", len(both))
	}
	return both
}

// A mesher may twist the chords of a bore against each other, so that they lean;
// the pockets of the second side still stay at their depth.
func TestAnOriginErrorShiftsAlongTheTable(t *testing.T) {
	p := stack(t,
		layer(4, rectangle(0, 0, 60, 40), circle(5, 5, 2), rectangle(10, 4, 40, 30)), // opens downwards
		layer(6, rectangle(0, 0, 60, 40), circle(5, 5, 2)))
	m := &mesh.Mesh{Vertices: slices.Clone(p.Mesh.Vertices), Faces: p.Mesh.Faces}
	twist := mesh.RotationAbout(r3.Vec{Z: 1}, 0.7*math.Pi/chords)
	for i, v := range m.Vertices {
		if middle := (r3.Vec{X: 5, Y: 5}); v.Z > 3 && r3.Norm(r3.Sub(v, r3.Add(middle, r3.Vec{Z: v.Z}))) < 2.1 {
			m.Vertices[i] = r3.Add(middle, twist.Apply(r3.Sub(v, middle)))
		}
	}
	for _, r := range register(t, Read(m), 0.25) {
		if r.Err != nil {
			t.Fatal(r.Err)
		}
		if math.Abs(r.Variant.Added) > 1e-6 {
			t.Errorf("a shifted pocket added %g mm3", r.Variant.Added)
		}
	}
}

func TestTheReferenceCarriageLeftUnfaced(t *testing.T) {
	l, err := mesh.Load("../../testdata/reference/carriage_new.stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p := Read(l.Mesh)
	// the top face as drawn: 120 x 70 less the holes and two pockets 28 x 30,
	// testdata/reference/README.md; its circles have 64 chords
	top := 120*70 - 4*circleArea(2.75) - 2*circleArea(2.25) - 2*28*30
	v, err := Unfaced(p, up, 8)
	if err != nil {
		t.Fatal(err)
	}
	if want := 2 * top; math.Abs(v.Added-want) > 1e-5*want || v.Error > 1e-5*want {
		t.Errorf("added %.3f mm3 (error %g), want %.3f", v.Added, v.Error, want)
	}
	v, err = StockLeft(p, up, 0.25, 0.5, 13)
	if err != nil {
		t.Fatal(err)
	}
	want := 2 * (28*30*4 - 27.5*29.5*3.5)
	if math.Abs(v.Added-want) > 1e-5*want {
		t.Errorf("added %.3f mm3, want %.3f", v.Added, want)
	}
}

func TestRoundedCornersKeepToTheFlatsTheyJoinAtALimit(t *testing.T) {
	p := stack(t, layer(5, rounded(0, 0, 110, 80, 8)))
	for _, most := range []bool{true, false} {
		v, err := AtLimit(p, Medium, most)
		if err != nil {
			t.Fatal(err)
		}
		want := r3.Vec{X: 110.3, Y: 80.3, Z: 5.1} // +-0.3, +-0.3 and +-0.1
		if !most {
			want = r3.Vec{X: 109.7, Y: 79.7, Z: 4.9}
		}
		if got := v.Mesh.Bounds().Size(); r3.Norm(r3.Sub(got, want)) > 1e-6 {
			t.Errorf("%s: %v, want %v", v.Name, got, want)
		}
	}
}
