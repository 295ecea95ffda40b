package fit

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

func drilled(d float64, at r3.Vec) feature.Hole {
	return feature.Hole{Kind: feature.Through, Open: true, Axis: r3.Vec{Z: 1}, Centre: at, Diameter: d, Depth: 6}
}

func partOf(t *testing.T, m *mesh.Mesh) *shape {
	t.Helper()
	return newShape(Part{m, feature.Find(m)})
}

// Parts without holes keep their files' frames where they lie on each other, and a
// motion by their masses alone is a guess where they are two shapes.
func TestAFrameIsSharedByPartsThatLieOnEachOther(t *testing.T) {
	box := mesh.Box{Max: r3.Vec{X: 80, Y: 50, Z: 30}}
	part := body{size: 100, box: box, moments: [3]float64{1, 2, 3}}
	for _, c := range []struct {
		given, axes float64 // unlikeness, mm
		want        Method
		doubt       bool
	}{
		{20, 2, Given, false},
		{30, 2, PrincipalAxes, false},
		{30, 4.5, PrincipalAxes, false},
		{30, 6, PrincipalAxes, true},
	} {
		a := choose(part, part, trial{unlike: c.given, lacks: 1}, trial{lacks: 1}, trial{unlike: c.axes, lacks: 1})
		if a.Method != c.want || (a.Doubt != "") != c.doubt {
			t.Errorf("unlike by %g as given, %g on its axes: %v, doubt %q", c.given, c.axes, a.Method, a.Doubt)
		}
	}
}

func TestCouplesAreSoughtAmongTheRarestHoles(t *testing.T) {
	var holes []feature.Hole
	for k := range 60 { // 5.5 mm, as a mesh measures them
		holes = append(holes, drilled(5.5+1e-3*math.Sin(float64(k)), r3.Vec{X: 20 * float64(k%8), Y: 20 * float64(k/8)}))
	}
	holes = append(holes, drilled(8, r3.Vec{X: 7, Y: 7}), drilled(8, r3.Vec{X: 93, Y: 51}))
	couples, _ := pairsOf(holes, 2)
	if len(couples) != 2 || couples[0].a.Diameter != 8 || couples[0].b.Diameter != 8 {
		t.Errorf("the rarest couple is %+v", couples)
	}
	old := body{holes: holes, size: 200}
	tried := 0
	couples, _ = pairsOf(old.holes, mostHoles)
	for range couples {
		tried++
	}
	if tried > 12*11 {
		t.Errorf("%d couples of 62 holes", tried)
	}
}

func TestCouplesThatCouldBeOne(t *testing.T) {
	of := func(d float64, lean, apart float64) couple {
		return couple{a: drilled(d, r3.Vec{}), b: drilled(5, r3.Vec{X: apart}), apart: apart, lean: lean}
	}
	base := of(4, 0.5, 30)
	for _, c := range []struct {
		why  string
		q    couple
		want bool
	}{
		{"a screw of the next size", of(5, 0.5, 30), true},
		{"a hole twice as wide", of(8, 0.5, 30), false},
		{"the rounding of an angle", of(4, 0.5+1e-5, 30), true},
		{"axes a third of a degree further apart", of(4, 0.5+0.006, 30), true},
		{"axes a degree further apart", of(4, 0.5+0.015, 30), false},
		{"holes further apart", of(4, 0.5, 30.1), false},
	} {
		if like(base, c.q) != c.want {
			t.Errorf("%s: like %v", c.why, !c.want)
		}
	}
	// of two axes at an angle only the turns that keep it are tried
	slanted := couple{a: drilled(5, r3.Vec{}), b: feature.Hole{Axis: r3.Vec{X: math.Sqrt(0.75), Z: 0.5}, Centre: r3.Vec{Y: 20}}, lean: 0.5}
	if n := len(lay(slanted, slanted, rigid)); n != 2 {
		t.Errorf("%d motions lay axes at 60 degrees on themselves, want 2", n)
	}
}

// Two holes on one axis are told apart by where along it they are, though rounding
// puts the wrong ones nearer; of two beside each other the equal one is meant.
func TestHolesCompeteByPlaceAndSize(t *testing.T) {
	old := []feature.Hole{drilled(5, r3.Vec{}), drilled(5, r3.Vec{Z: 8})}
	moved := []feature.Hole{drilled(5, r3.Vec{X: 0.002, Z: 8}), drilled(5, r3.Vec{X: 0.002, Z: 0})}
	old[1].Centre.X = 0.003 // nearer to the wrong one, aside
	moved[0].Centre.X = 0
	for _, m := range pairUp(old, moved, reach) {
		if m.new != 1-m.old {
			t.Errorf("on one axis: hole %d is paired with %d", m.old, m.new)
		}
	}
	one := []feature.Hole{drilled(5, r3.Vec{})}
	two := []feature.Hole{drilled(6, r3.Vec{X: 0.3}), drilled(5, r3.Vec{X: -0.6})}
	if got := pairUp(one, two, reach); len(got) != 1 || got[0].new != 1 {
		t.Errorf("beside each other: %+v", got)
	}
	// but a hole that grew and stayed is no hole that kept its size and went
	two[1].Centre.X = -9
	if got := pairUp(one, two, reach); len(got) != 1 || got[0].new != 0 {
		t.Errorf("one grew: %+v", got)
	}
}

// The ring that a washer presses on has its middle at the mean of hole and washer:
// outer diameters of ISO 7089 over medium clearances of ISO 273, both from memory.
func TestASeatIsLookedForWhereAWasherPresses(t *testing.T) {
	for name, size := range map[string][2]float64{"M3": {7, 3.4}, "M4": {9, 4.5}, "M5": {10, 5.5}, "M6": {12, 6.6}, "M8": {16, 9}, "M10": {20, 11}, "M12": {24, 13.5}} {
		h := drilled(size[1], r3.Vec{Z: 3})
		middle := (size[0] + size[1]) / 4
		points := mouthRing(h, r3.Vec{Z: 1})
		for _, p := range points {
			if r := math.Hypot(p.X, p.Y); math.Abs(r-middle) > 0.1*middle {
				t.Errorf("%s: looked at %.2f mm from the axis, the washer's middle is at %.2f", name, r, middle)
			}
		}
		for start := range 360 { // a sixth of the mouth is met by two points
			met := 0
			for _, p := range points {
				turn := math.Mod(math.Atan2(p.Y, p.X)*180/math.Pi-float64(start)+720, 360)
				if turn < 60-1e-9 || turn > 360-1e-9 {
					met++
				}
			}
			if met < 2 {
				t.Fatalf("%s: from %d degrees on a sixth of the mouth holds %d points", name, start, met)
			}
		}
	}
}

func TestTheFaceOfAMouthLiesAboveWhatRoundsItsEdge(t *testing.T) {
	s := partOf(t, mesh.Cuboid(r3.Vec{}, r3.Vec{X: 40, Y: 40, Z: 10}))
	for below, found := range map[float64]bool{-0.1: true, 2.5: true, -0.5: false, 4: false} {
		h := drilled(6, r3.Vec{X: 20, Y: 20, Z: 7 - below}) // its mouth is below the face by that
		if face, _ := s.seatOf(h, r3.Vec{Z: 1}); (face >= 0) != found {
			t.Errorf("a mouth %g mm below the face: found %v", below, face >= 0)
		}
	}
}

func TestMotionsAreToldInWords(t *testing.T) {
	turned := func(degrees float64) string {
		m := mesh.RotationAbout(r3.Vec{Z: 1}, degrees*math.Pi/180)
		m.Shift = r3.Vec{X: 3}
		return motionText(m)
	}
	for _, degrees := range []float64{2e-4, 5e-4} {
		if text := turned(degrees); strings.Contains(text, "turned") {
			t.Errorf("rounding is told as a turn: %s", text)
		}
	}
	if text := turned(0.002); !strings.Contains(text, "turned by") {
		t.Errorf("a turn of 0.002 degrees: %s", text)
	}
	if text := turned(0.05); !strings.Contains(text, "turned by 0.05 degrees about +z") {
		t.Errorf("a turn of 0.05 degrees: %s", text)
	}
	if text := turned(180 - 1e-6); !strings.Contains(text, "about +z") {
		t.Errorf("half a turn: %s", text)
	}
	axis := r3.Vec{X: 1, Y: 2, Z: 3}
	want := nameOf(r3.Unit(axis))
	if text := motionText(mesh.RotationAbout(axis, math.Pi)); !strings.Contains(text, "turned by 180 degrees about "+want) {
		t.Errorf("half a turn about %s: %s", want, text)
	}
	for _, off := range []float64{3e-4, 7e-4} {
		if name := nameOf(r3.Vec{X: 1, Y: off}); name != "+x" {
			t.Errorf("a direction off by rounding is %s", name)
		}
	}
	if name := nameOf(r3.Unit(r3.Vec{X: 1, Y: 2e-3})); !strings.Contains(name, "to +y") {
		t.Errorf("a direction a tenth of a degree off is %s", name)
	}
	if name := nameOf(r3.Unit(r3.Vec{X: 1, Y: 0.02})); !strings.HasPrefix(name, "+x, leaning 1 degrees to +y") {
		t.Errorf("a direction a degree off is %s", name)
	}
	if got := array(r3.Vec{X: 1e-7, Y: -5e-6}); got != [3]float64{0, -5e-6} {
		t.Errorf("coordinates %v", got)
	}
}

// A corner whose chamfer became smaller grew across the chamfer, here along 15 degrees.
func TestGrowthBetweenTheSidesHasItsDirection(t *testing.T) {
	old := []r3.Vec{{}, {Y: 10}, {X: 10}, {X: 10, Y: 6}, {X: 9, Y: 9.73}}
	var e Envelope
	e.addOblique(feature.Square{{X: 1}, {Y: 1}, {Z: 1}}, old, append(old, r3.Vec{X: 10, Y: 9}))
	if len(e.Grew) != 1 || !strings.Contains(e.Grew[0].Side, "leaning 15 degrees to +y") {
		t.Errorf("%+v", e.Grew)
	}
}

// Cuts near both ends see a flange there, and are clear of a broken edge.
func TestOutlinesAreTakenClearOfBrokenEdges(t *testing.T) {
	square := func(half float64) []r2.Vec {
		return []r2.Vec{{X: -half, Y: -half}, {X: half, Y: -half}, {X: half, Y: half}, {X: -half, Y: half}}
	}
	layer := func(half, high float64) cut.Layer {
		return cut.Layer{Region: cut.Region{{Outer: square(half)}}, Thickness: high}
	}
	m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), layer(19.5, 0.4), layer(20, 3.6), layer(10, 32), layer(20, 3.6), layer(19.5, 0.4))
	if err != nil {
		t.Fatal(err)
	}
	rings := outlines(m, mesh.AxisPlane(mesh.Z, 0))
	if len(rings) != 3 {
		t.Fatalf("%d outlines, want 3", len(rings))
	}
	for k, half := range []float64{20, 10, 20} {
		if got := rings[k].points[0]; math.Abs(math.Abs(got.X)-half) > 1e-9 {
			t.Errorf("cut at %g mm: half as wide as %g, want %g", rings[k].height, math.Abs(got.X), half)
		}
	}
	bent := []r2.Vec{{}, {X: 10, Y: 5e-4}, {X: 20}, {X: 20, Y: 10}, {X: 10, Y: 9.998}, {Y: 10}}
	if got := bends(bent); len(got) != 5 {
		t.Errorf("%d corners, want 5: one is off by rounding, one by a drawn 0.002 mm: %v", len(got), got)
	}
}

func TestAHoleOfAnotherSizeIsNoFitThatWasLost(t *testing.T) {
	for _, c := range []struct {
		new  float64
		lost bool
	}{{22.01, false}, {22.3, true}, {22.9, false}, {24, false}} {
		if _, lost := fitLost(22.01, c.new, true); lost != c.lost {
			t.Errorf("a bore of 22.01 mm that became %g: fit lost %v", c.new, lost)
		}
	}
}

// Of motions that lay a part on equally well the one that turns least is taken, as of a
// square plate that was shifted; a better fit is taken whatever it turns.
func TestOfEqualMotionsTheOneThatTurnsLeastIsTaken(t *testing.T) {
	for _, c := range []struct{ a, b trial }{
		{trial{}, trial{turn: math.Pi / 2}},
		{trial{unlike: 1e-5}, trial{turn: math.Pi / 2}},
		{trial{turn: math.Pi}, trial{unlike: 0.5}},
	} {
		if c.a.compare(c.b) >= 0 || c.b.compare(c.a) <= 0 {
			t.Errorf("of %+v and %+v the second was taken", c.a, c.b)
		}
	}
}

// A burr that one file has and the other lacks leaves a frame complete; a pad does not.
func TestAFaceOfHalfAMillimetreProvesNothing(t *testing.T) {
	for half, complete := range map[float64]bool{0.25: true, 0.42: false, 1: false} {
		plain, padded := padded(t, half)
		if got := judge(plain, padded, mesh.Identity()).complete(); got != complete {
			t.Errorf("a pad of %g mm: complete %v", 2*half, got)
		}
	}
}

// padded is a square plate, without and with a square pad of 0.3 mm height beside its
// middle, of half a side.
func padded(t *testing.T, half float64) (plain, with *shape) {
	t.Helper()
	square := func(x, y, half float64) cut.Region {
		return cut.Region{{Outer: []r2.Vec{{X: x - half, Y: y - half}, {X: x + half, Y: y - half}, {X: x + half, Y: y + half}, {X: x - half, Y: y + half}}}}
	}
	stack := func(layers ...cut.Layer) *shape {
		m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0), layers...)
		if err != nil {
			t.Fatal(err)
		}
		return partOf(t, m)
	}
	plate := cut.Layer{Region: square(20, 20, 20), Thickness: 5}
	return stack(plate), stack(plate, cut.Layer{Region: square(12, 15, half), Thickness: 0.3})
}

func ringOf(at r2.Vec, radius float64, n int) []r2.Vec {
	out := make([]r2.Vec, n)
	for k := range out {
		s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		out[k] = r2.Vec{X: at.X + radius*c, Y: at.Y + radius*s}
	}
	return out
}

func back(loop []r2.Vec) []r2.Vec {
	out := make([]r2.Vec, len(loop))
	for k, p := range loop {
		out[len(loop)-1-k] = p
	}
	return out
}

// A boss around the hole of a screw locates nothing, also where the hole was moved by a
// tenth of a millimetre in it; a hole beside the middle is another matter.
func TestABossBelongsToTheScrewInItsMiddle(t *testing.T) {
	outline := []r2.Vec{{}, {X: 60}, {X: 60, Y: 60}, {Y: 60}}
	for off, screw := range map[float64]bool{0: true, 0.12: true, 0.3: false, 1.5: false} {
		bore := back(ringOf(r2.Vec{X: 30 + off, Y: 30}, 5.5/2, 48))
		m, err := cut.Stack(mesh.AxisPlane(mesh.Z, 0),
			cut.Layer{Region: cut.Region{{Outer: outline, Holes: [][]r2.Vec{bore}}}, Thickness: 6},
			cut.Layer{Region: cut.Region{{Outer: ringOf(r2.Vec{X: 30, Y: 30}, 7, 48), Holes: [][]r2.Vec{bore}}}, Thickness: 5})
		if err != nil {
			t.Fatal(err)
		}
		s := partOf(t, m)
		if len(s.spigots) != 1 || s.spigots[0].locates == screw {
			t.Errorf("a hole %g mm off the middle of its boss: %d spigots, the first locates %v", off, len(s.spigots), len(s.spigots) > 0 && s.spigots[0].locates)
		}
	}
}

// What tells a part from its mirror image is a pad of 2 by 2 mm, no burr.
func TestAPadTellsAPartFromItsMirrorImage(t *testing.T) {
	for half, tells := range map[float64]bool{0.8: false, 1.2: true} {
		plain, padded := padded(t, half)
		a, b := plain.lay(mesh.Identity()), padded.lay(mesh.Identity())
		if text := strayFace(a, b); (text != "") != tells {
			t.Errorf("a pad of %g mm: %q", 2*half, text)
		}
	}
}

// A mesher's point within a chord, off by the rounding of the file, does not shorten the
// chord by which a curve is judged.
func TestThePointsOfAMesherDoNotShortenAChord(t *testing.T) {
	for _, n := range []int{12, 24} {
		shortened(t, n, 1e-4, 0.01)
		shortened(t, n, 2.5e-3, 0.05)
	}
	fine := outlineOf{} // chords of one degree are chords
	for _, p := range ringOf(r2.Vec{}, 10, 360) {
		fine.corners = append(fine.corners, r3.Vec{X: p.X, Y: p.Y})
	}
	if got, want := fine.sagitta(0), 10*math.Pi/180*math.Pi/180/8; math.Abs(got-want) > 0.01*want {
		t.Errorf("a chord of a degree rises %g mm, want %g", got, want)
	}
	if got := (outlineOf{corners: []r3.Vec{{}, {X: 1}, {X: 1, Y: 1}, {Y: 1}}}).sagitta(1); got != 0 {
		t.Errorf("a square rises %g mm", got)
	}
}

// shortened draws n chords with a point in the middle of each that lies off by so much, and
// holds the height of every curve within a share.
func shortened(t *testing.T, n int, off, within float64) {
	t.Helper()
	const radius = 10.0
	turn := 2 * math.Pi / float64(n)
	chord := 2 * radius * math.Sin(turn/2)
	want := chord * turn / 8
	var corners []r3.Vec
	for k, p := range ringOf(r2.Vec{}, radius, n) {
		next := ringOf(r2.Vec{}, radius, n)[(k+1)%n]
		mid := r2.Scale(0.5, r2.Add(p, next))
		off := off * float64(k%3-1)
		corners = append(corners, r3.Vec{X: p.X, Y: p.Y}, r3.Vec{X: mid.X + off, Y: mid.Y - off})
	}
	o := outlineOf{corners: corners}
	for at := range corners {
		if got := o.sagitta(at); math.Abs(got-want) > within*want {
			t.Errorf("at corner %d the curve rises %g mm over its chord, want %g", at, got, want)
		}
	}
}

// Minor diameters of internal threads, ISO 724, from memory.
func TestAThreadDrawnAtItsMinorDiameterSuitsItsScrew(t *testing.T) {
	for name, minor := range map[string]float64{"M3": 2.459, "M5": 4.134, "M6": 4.917, "M8": 6.647, "M10": 8.376, "M12": 10.106} {
		suits, _ := screwsFor(minor, true)
		found := false
		for _, s := range suits {
			found = found || strings.HasPrefix(s, name+" ")
		}
		if !found {
			t.Errorf("%g mm suits %v, want %s", minor, suits, name)
		}
	}
}
