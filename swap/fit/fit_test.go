package fit

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"swapworth/internal/property"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

type hole struct{ x, y, d float64 }

func circle(h hole) []r2.Vec {
	const n = 64
	out := make([]r2.Vec, n) // clockwise
	for k := range out {
		s, c := math.Sincos(-2 * math.Pi * float64(k) / n)
		out[k] = r2.Vec{X: h.x + h.d/2*c, Y: h.y + h.d/2*s}
	}
	return out
}

func box(x0, y0, x1, y1 float64) []r2.Vec {
	return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func region(outer []r2.Vec, holes ...hole) cut.Region {
	p := cut.Polygon{Outer: outer}
	for _, h := range holes {
		p.Holes = append(p.Holes, circle(h))
	}
	return cut.Region{p}
}

func stack(t testing.TB, layers ...cut.Layer) *mesh.Mesh {
	t.Helper()
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), layers...)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// pattern has no symmetry in its plane.
var pattern = []hole{{10, 10, 5.5}, {90, 12, 5.5}, {85, 40, 4.5}, {15, 35, 6.6}}

func plate(t testing.TB, thick float64, holes ...hole) *mesh.Mesh {
	return stack(t, cut.Layer{Region: region(box(0, 0, 100, 50), holes...), Thickness: thick})
}

func reference(t testing.TB, name string) *mesh.Mesh {
	t.Helper()
	l, err := mesh.Load("../../testdata/reference/"+name+".stl", mesh.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return l.Mesh
}

// moved draws a rigid motion and rounds the moved corners to float32, as
// writing the part to an STL file does.
func moved(t *rapid.T, m *mesh.Mesh) *mesh.Mesh {
	g := rapid.Float64Range(-1, 1)
	axis := r3.Vec{X: g.Draw(t, "ax"), Y: g.Draw(t, "ay"), Z: g.Draw(t, "az")}
	turn := mesh.RotationAbout(axis, math.Pi*g.Draw(t, "angle"))
	shift := mesh.Translation(r3.Vec{X: 300 * g.Draw(t, "x"), Y: 300 * g.Draw(t, "y"), Z: 300 * g.Draw(t, "z")})
	out := m.Transformed(shift.Compose(turn))
	for i, v := range out.Vertices {
		out.Vertices[i] = r3.Vec{X: float64(float32(v.X)), Y: float64(float32(v.Y)), Z: float64(float32(v.Z))}
	}
	return out
}

func wantFinding(t testing.TB, r Result, words ...string) {
	t.Helper()
	for _, f := range r.Findings {
		all := true
		for _, w := range words {
			all = all && strings.Contains(f, w)
		}
		if all {
			return
		}
	}
	t.Errorf("no finding with %q in %q", words, r.Findings)
}

// The holes of the two carriages are drawn alike, their plates 5 and 6 thick:
// testdata/reference/README.md.
func TestTheNewCarriageBoltsOnWithLongerBolts(t *testing.T) {
	r := Compare(reference(t, "carriage_old"), reference(t, "carriage_new"), Options{})
	if !r.OK || len(r.Pairs) != 6 || r.Frame.Method != Given {
		t.Fatalf("ok %v, %d pairs, %s, %q", r.OK, len(r.Pairs), r.Frame.Method, r.Findings)
	}
	for _, p := range r.Pairs {
		if p.Old != p.New || p.Moved > 0.01 || math.Abs(p.DiameterChange) > 0.02 || math.Abs(p.DepthChange-1) > 0.01 {
			t.Errorf("%+v", p)
		}
	}
	wantFinding(t, r, "clamped thickness 5 -> 6 mm", "bolts must be 1 mm longer")
	wantFinding(t, r, "envelope grew", "1 mm", "+z")
}

func TestTheCarriagesAreBroughtTogetherAfterAnyRigidMotion(t *testing.T) {
	old, new := reference(t, "carriage_old"), reference(t, "carriage_new")
	property.Few(t, 5, func(rt *rapid.T) {
		r := Compare(old, moved(rt, new), Options{})
		if !r.OK || len(r.Pairs) != 6 {
			rt.Fatalf("ok %v, %d pairs, %s, %q", r.OK, len(r.Pairs), r.Frame.Method, r.Findings)
		}
		for _, p := range r.Pairs {
			if p.Moved > 0.01 || math.Abs(p.DiameterChange) > 0.02 {
				rt.Errorf("%+v", p)
			}
		}
	})
}

func TestAMovedHoleIsToldWithItsAmountInAnyFrame(t *testing.T) {
	changed := append([]hole{}, pattern...)
	changed[2].x += 0.6
	changed[2].y -= 0.8 // 1 mm in all
	old, new := plate(t, 5, pattern...), plate(t, 5, changed...)
	check := func(t interface{ Fatalf(string, ...any) }, r Result) {
		if r.OK || len(r.Pairs) != 4 {
			t.Fatalf("ok %v, %d pairs", r.OK, len(r.Pairs))
		}
		n := 0
		for _, p := range r.Pairs {
			if math.Abs(p.Moved-1) < 0.01 {
				n++
			} else if p.Moved > 0.01 {
				t.Fatalf("%+v", p)
			}
		}
		if n != 1 {
			t.Fatalf("%d holes moved by 1 mm: %+v", n, r.Pairs)
		}
	}
	r := Compare(old, new, Options{})
	check(t, r)
	wantFinding(t, r, "moved by 1 mm")
	property.Few(t, 8, func(rt *rapid.T) { check(rt, Compare(old, moved(rt, new), Options{})) })
}

// A grid of equal holes lies on itself in thousands of ways: all were once tried.
func TestOneMissingHoleOfAGridIsFound(t *testing.T) {
	var grid []hole
	for i := range 18 {
		for j := range 8 {
			grid = append(grid, hole{6 + 5*float64(i), 7 + 5*float64(j), 3})
		}
	}
	old := plate(t, 3, grid...)
	r := Compare(old, plate(t, 2, append(slices.Clone(grid[:40]), grid[41:]...)...), Options{})
	if r.OK || len(r.Pairs) != len(grid)-1 {
		t.Errorf("ok %v, %d pairs of %d holes", r.OK, len(r.Pairs), len(grid))
	}
	wantFinding(t, r, "is missing")
}

func TestResizedMissingAndNewHoles(t *testing.T) {
	old := plate(t, 5, pattern...)
	changed := append([]hole{}, pattern[:3]...)
	changed[0].d = 6.6
	changed = append(changed, hole{50, 25, 4.2})
	r := Compare(old, plate(t, 5, changed...), Options{})
	if r.OK {
		t.Error("ok with a hole missing")
	}
	// 6.6 is M6 medium of ISO 273, 4.2 the tapping drill of M5 (see screws)
	wantFinding(t, r, "hole 1 was resized from 5.5 to 6.6 mm", "M6 clearance, medium")
	wantFinding(t, r, "of the old part", "6.6 mm through", "is missing")
	wantFinding(t, r, "is new", "4.2 mm through", "M5 tapping drill")
}

func TestASmallChangeWithinTheToleranceIsOnlyToldOf(t *testing.T) {
	changed := append([]hole{}, pattern...)
	changed[1].x += 0.08
	old, new := plate(t, 5, pattern...), plate(t, 5, changed...)
	r := Compare(old, new, Options{})
	if !r.OK {
		t.Errorf("%q", r.Blocking)
	}
	wantFinding(t, r, "moved by 0.08 mm")
	if Compare(old, new, Options{Position: 0.05}).OK {
		t.Error("ok beyond a tolerance of 0.05 mm")
	}
}

// handed is a plate with a boss in one corner: no turn takes it to its mirror
// image.
func handed(t testing.TB) *mesh.Mesh {
	return stack(t,
		cut.Layer{Region: region(box(0, 0, 100, 50), pattern...), Thickness: 5},
		cut.Layer{Region: region(box(70, 20, 80, 45)), Thickness: 20})
}

func mirror(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, r3.Vec{X: -v.X, Y: v.Y, Z: v.Z})
	}
	for _, f := range m.Faces {
		out.Faces = append(out.Faces, [3]int32{f[0], f[2], f[1]})
	}
	return out
}

func TestAMirroredPartIsRefused(t *testing.T) {
	m := handed(t)
	property.Few(t, 8, func(rt *rapid.T) {
		r := Compare(m, moved(rt, mirror(m)), Options{})
		if r.OK || !r.Frame.Mirrored {
			rt.Fatalf("ok %v, mirrored %v, %q", r.OK, r.Frame.Mirrored, r.Findings)
		}
		if r := Compare(m, moved(rt, m), Options{}); !r.OK || r.Frame.Mirrored || len(r.Pairs) != 4 {
			rt.Fatalf("the same part: %q", r.Findings)
		}
	})
}

func TestAMirroredBodyOnASymmetricPatternIsRefused(t *testing.T) {
	even := []hole{{-30, 10, 5.5}, {30, 10, 5.5}, {-30, 40, 5.5}, {30, 40, 5.5}}
	m := stack(t,
		cut.Layer{Region: region(box(-50, 0, 50, 50), even...), Thickness: 5},
		cut.Layer{Region: region(box(35, 27, 48, 38)), Thickness: 20})
	// no turn does what the mirror does, because the
	// boss is off both middles
	if r := Compare(m, mirror(m), Options{}); r.OK || !r.Frame.Mirrored {
		t.Errorf("ok %v, mirrored %v, %q", r.OK, r.Frame.Mirrored, r.Findings)
	}
}

func TestAFlatPlateMayBeTurnedOver(t *testing.T) {
	m := plate(t, 5, pattern...)
	r := Compare(m, mirror(m), Options{})
	if !r.OK || r.Frame.Mirrored || len(r.Pairs) != 4 {
		t.Errorf("%+v %q", r.Frame, r.Findings)
	}
}

func TestPartsWithoutHolesGoByPrincipalAxes(t *testing.T) {
	m := reference(t, "ribbed")
	property.Few(t, 8, func(rt *rapid.T) {
		r := Compare(m, moved(rt, m), Options{})
		if !r.OK || len(r.Envelope.Grew) != 0 {
			rt.Fatalf("%s %q %+v", r.Frame.Method, r.Findings, r.Envelope)
		}
	})
}

func TestHolesOfISO273(t *testing.T) {
	// ISO 273 medium series (engineeringhardware.com/?p=50) and ISO 2306 drills
	// (utilitiesbunker.com, thread sizes reference)
	for d, want := range map[float64]string{
		3.4: "M3 clearance, medium", 4.5: "M4 clearance, medium", 5.5: "M5 clearance, medium",
		6.6: "M6 clearance, medium", 9: "M8 clearance, medium", 11: "M10 clearance, medium",
		2.5: "M3 tapping drill", 3.3: "M4 tapping drill", 6.8: "M8 tapping drill", 10.2: "M12 tapping drill",
	} {
		if got := Suits(d); len(got) == 0 || !strings.Contains(strings.Join(got, "; "), want) {
			t.Errorf("%g mm suits %q, want %q", d, got, want)
		}
	}
	if got := Suits(7.77); got != nil {
		t.Errorf("7.77 mm suits %q", got)
	}
}

func BenchmarkCompareTwoPartsOf27000Triangles(b *testing.B) {
	old, new := reference(b, "carriage_old"), reference(b, "carriage_new")
	for b.Loop() {
		Compare(old, new, Options{})
	}
}

func TestPlainPartsThatShareSidesShareAFrame(t *testing.T) {
	bar := func(length, width, thick float64) *mesh.Mesh {
		return stack(t, cut.Layer{Region: region(box(0, 0, length, width)), Thickness: thick})
	}
	old := bar(120, 20, 6)
	if r := Compare(bar(40, 35, 5), bar(35, 40, 4), Options{}); r.Frame.Method != PrincipalAxes {
		t.Errorf("nearly square, turned on its corner: %s", r.Frame.Method)
	}
	for _, c := range []struct {
		what   string
		new    *mesh.Mesh
		method Method
	}{
		{"thinner", bar(120, 20, 5), Given},
		{"narrower and thinner", bar(120, 15, 4), Given},
		{"shorter, narrower and thinner", bar(115, 17, 5), Given},
		{"turned on its corner", bar(20, 120, 5), PrincipalAxes},
		{"moved", bar(120, 20, 5).Transformed(mesh.Translation(r3.Vec{X: 7, Y: 3, Z: 11})), PrincipalAxes},
		{"the same, turned about its middle", old.Transformed(mesh.Translation(r3.Vec{X: 120, Y: 20}).Compose(
			mesh.RotationAbout(r3.Vec{Z: 1}, math.Pi))), Given},
	} {
		if r := Compare(old, c.new, Options{}); r.Frame.Method != c.method || !r.OK {
			t.Errorf("%s: %s, ok %v, %q", c.what, r.Frame.Method, r.OK, r.Findings)
		}
	}
}

func TestAGuessedMotionIsNotOK(t *testing.T) {
	bar := stack(t, cut.Layer{Region: region(box(0, 0, 120, 20)), Thickness: 6})
	block := stack(t, cut.Layer{Region: region(box(300, 300, 340, 390)), Thickness: 25})
	r := Compare(bar, block, Options{})
	if r.OK || !r.Frame.Guess {
		t.Errorf("ok %v, guess %v", r.OK, r.Frame.Guess)
	}
	wantFinding(t, r, "a guess", "save both files in one frame")

	r = Compare(bar, block, Options{SameFrame: true})
	if !r.OK || r.Frame.Guess || r.Frame.Method != Given {
		t.Errorf("said to share a frame: ok %v, guess %v, %s", r.OK, r.Frame.Guess, r.Frame.Method)
	}
}

func TestAPartInAnotherUnitIsAskedAbout(t *testing.T) {
	old := plate(t, 5, pattern...)
	inch := plate(t, 5, pattern...)
	for i, v := range inch.Vertices {
		inch.Vertices[i] = r3.Scale(1/25.4, v)
	}
	r := Compare(old, inch, Options{})
	if r.OK {
		t.Error("a part 25 times smaller is called ok")
	}
	wantFinding(t, r, "25.4 times smaller", "as inch read as mm", "--new-unit")
	if len(r.Findings) != 1 {
		t.Errorf("%q, want one finding", r.Findings)
	}
}

func TestDirectionsAreNamedInWords(t *testing.T) {
	for _, c := range []struct {
		d    r3.Vec
		want string
	}{
		{r3.Vec{Z: 1}, "+z"},
		{r3.Vec{X: -1}, "-x"},
		{r3.Vec{Y: 0.9659, Z: 0.2588}, "+y, leaning 15 degrees to +z"},
		{r3.Vec{X: 0.48, Y: -0.8, Z: -0.36}, "-y, leaning 37 degrees to +x and -z"},
	} {
		if got := nameOf(c.d); got != c.want {
			t.Errorf("%v is called %q, want %q", c.d, got, c.want)
		}
	}
}
