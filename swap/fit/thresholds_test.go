package fit

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/mesh/feature"
)

// A screw's hole that grew to the next but one size is the same hole; a bearing's bore
// where a screw's was is another.
func TestAHoleThatBecameAnotherKindOfHoleIsNoPartner(t *testing.T) {
	for _, c := range []struct {
		old, new float64
		pair     bool
	}{{5.5, 9, true}, {5.5, 11, true}, {22, 5.5, false}, {16, 4.5, false}} {
		a, b := drilled(c.old, r3.Vec{}), drilled(c.new, r3.Vec{})
		if mayPair(&a, &b, coincide) != c.pair || mayPair(&b, &a, coincide) != c.pair {
			t.Errorf("%g and %g mm: may be one %v", c.old, c.new, !c.pair)
		}
	}
}

// A 608 has 22 mm; H7 is 22.000 to 22.021 mm there (ISO 286-2).
func TestABoreIsASeatOffH7OnlyNearIt(t *testing.T) {
	for diameter, says := range map[float64]string{22.01: "22 mm bearing seat", 22.024: "22 mm bearing seat", 22.06: "off H7", 21.94: "off H7", 22.2: "", 21.8: ""} {
		words, is := bearingSeat(diameter)
		if said := strings.Join(words, "; "); is != (says != "") || !strings.Contains(said, says) || says != "off H7" && strings.Contains(said, "off") {
			t.Errorf("%g mm: %q", diameter, said)
		}
	}
}

// Chords of one circle that were drawn unevenly span up to 40 degrees, each beside others
// like it; one alone of 37 is a flat.
func TestALongChordIsAFlatWhereOthersAreShort(t *testing.T) {
	round := feature.Round{Axis: r3.Vec{Z: 1}, Radius: 10}
	for _, c := range []struct {
		here, others float64
		covers       bool
	}{{28, 9, true}, {37, 9, false}, {40, 30, true}, {60, 30, false}} {
		var o outlineOf
		for at := c.here / 2; at <= 360-c.here/2+1e-9; at += c.others {
			s, cos := math.Sincos(at * math.Pi / 180)
			o.corners = append(o.corners, r3.Vec{X: 10 * cos, Y: 10 * s})
		}
		s, cos := math.Sincos(-c.here / 2 * math.Pi / 180)
		o.corners = append(o.corners, r3.Vec{X: 10 * cos, Y: 10 * s})
		if o.covers(round, r3.Vec{X: 1}) != c.covers {
			t.Errorf("a chord of %g degrees among chords of %g: part of the round %v", c.here, c.others, !c.covers)
		}
	}
}

// strips is a block with three strips along its upper side, which turn by 10 and 14 degrees
// against each other: a middle one that is level, and two beside it. Mm.
func strips(t *testing.T, long, wide, beside float64) *shape {
	t.Helper()
	left, right := 10*math.Pi/180, 14*math.Pi/180
	top := []r2.Vec{{X: wide + beside*math.Cos(right), Y: 20 - beside*math.Sin(right)}, {X: wide, Y: 20}, {Y: 20}, {X: -beside * math.Cos(left), Y: 20 - beside*math.Sin(left)}}
	outline := append([]r2.Vec{{X: top[3].X}, {X: top[0].X}}, top...)
	m, err := cut.Extrude(cut.Region{{Outer: outline}}, mesh.AxisPlane(mesh.Z, 0), long)
	if err != nil {
		t.Fatal(err)
	}
	return partOf(t, m)
}

// A strip of a surface that curves runs along others like it on a good part of its edge;
// the level part of a roof is a face.
func TestAFacetRunsAlongOthersLikeIt(t *testing.T) {
	for _, c := range []struct {
		why                string
		long, wide, beside float64
		facet              bool
	}{
		{"as long as wide, half of its edge", 3, 3, 3, true},
		{"beside it one four times as large", 3, 3, 12, true},
		{"beside it one twelve times as large", 3, 3, 36, false},
		{"four times as wide as long, a fifth of its edge", 3, 12, 12, false},
	} {
		s := strips(t, c.long, c.wide, c.beside)
		at := slices.IndexFunc(s.flats, func(f flat) bool { return f.Normal.Y > 0.9999 })
		if at < 0 || s.flats[at].facet != c.facet {
			t.Errorf("%s: facet %v", c.why, !c.facet)
		}
	}
}

// A face is said to be tilted from a third of a degree on: 0.1 mm over 20.
func TestAFaceIsTiltedFromAThirdOfADegree(t *testing.T) {
	for degrees, said := range map[float64]bool{0.15: false, 0.5: true} {
		rise := 40 * math.Tan(degrees*math.Pi/180)
		m, err := cut.Extrude(cut.Region{{Outer: []r2.Vec{{}, {X: 40}, {X: 40, Y: 10 + rise}, {Y: 10}}}}, mesh.AxisPlane(mesh.Z, 0), 30)
		if err != nil {
			t.Fatal(err)
		}
		l := partOf(t, m).lay(mesh.Identity())
		var points []r3.Vec
		for k := range 10 {
			points = append(points, r3.Vec{X: 2 + 4*float64(k), Y: 8, Z: 15})
		}
		if _, tilt, _ := l.probe(points, r3.Vec{Y: 1}); (tilt > 0) != said {
			t.Errorf("a face at %g degrees: a tilt of %g", degrees, tilt)
		}
	}
}

// The walls of a window that was cast or moulded lean by a draft of 1 to 3 degrees (common
// practice), and are its walls all the same; what leans by 12 is a funnel.
func TestWallsMayHaveADraft(t *testing.T) {
	const thick = 4.0
	for degrees, walls := range map[float64]int{0: 4, 3: 4, 12: 0, 45: 0} {
		in := thick * math.Tan(degrees*math.Pi/180)
		outline := box(0, 0, 60, 40)
		wide, narrow := box(20, 12, 44, 28), box(20+in, 12+in, 44-in, 28-in)
		lift := func(loop []r2.Vec, z float64) (out []r3.Vec) {
			for _, q := range loop {
				out = append(out, r3.Vec{X: q.X, Y: q.Y, Z: z})
			}
			return out
		}
		d := draft{t: t}
		d.face(mesh.AxisPlane(mesh.Z, thick), outline, back(wide))
		below := mesh.Plane{U: r3.Vec{Y: 1}, V: r3.Vec{X: 1}, Normal: r3.Vec{Z: -1}}
		swapped := func(loop []r2.Vec) (out []r2.Vec) {
			for _, q := range loop {
				out = append(out, r2.Vec{X: q.Y, Y: q.X})
			}
			return out
		}
		d.face(below, back(swapped(outline)), swapped(narrow))
		d.wall(lift(outline, 0), lift(outline, thick))
		d.wall(lift(back(narrow), 0), lift(back(wide), thick))
		m := mesh.Weld(d.corners)
		if r := mesh.Check(m); !r.Closed {
			t.Fatalf("%g degrees: %+v", degrees, r)
		}
		s := partOf(t, m)
		if len(s.openings) != 1 || len(s.openings[0].walls) != walls {
			t.Errorf("%g degrees: %+v, want one opening with %d walls", degrees, s.openings, walls)
		}
	}
}

// Another motion that matches as many holes stands where it matches a good part more of the
// surface; a part that grew away from where it was keeps its frame, one that was turned on
// its corner does not.
func TestTheFilesFrameIsKeptUnlessAnotherIsMuchBetter(t *testing.T) {
	box := mesh.Box{Max: r3.Vec{X: 80, Y: 50, Z: 30}}
	part := body{size: 100, box: box, moments: [3]float64{1, 2, 3}, holes: []feature.Hole{drilled(5, r3.Vec{}), drilled(5, r3.Vec{X: 30})}}
	for more, want := range map[float64]Method{0.1: Given, 0.3: HolePattern} {
		given := trial{matched: 2, worth: 2, same: 0.5, lacks: 1}
		pattern := trial{matched: 2, worth: 2, same: 0.5 + more, lacks: 1}
		if a := choose(part, part, given, pattern, trial{unlike: 50, lacks: 1}); a.Method != want {
			t.Errorf("a motion that matches %g more of the surface: %v", more, a.Method)
		}
	}
	part.holes = nil
	for times, want := range map[float64]Method{3.5: Given, 9: PrincipalAxes} {
		const axes = 0.5
		if a := choose(part, part, trial{unlike: times * axes, lacks: 1}, trial{lacks: 1}, trial{unlike: axes, lacks: 1}); a.Method != want {
			t.Errorf("%g times as unlike as on its axes: %v", times, a.Method)
		}
	}
}

func TestMomentsAHundredthApartHaveNoAxes(t *testing.T) {
	for apart, is := range map[float64]bool{0.01: true, 0.04: false} {
		if ambiguous([3]float64{0.5, 1 - apart, 1}) != is || ambiguous([3]float64{0.5, 0.5 + apart, 1}) != is {
			t.Errorf("moments that differ by %g of the largest: ambiguous %v", apart, !is)
		}
	}
}

// Holes as a mesh measures them, 0.03 mm apart, are of one size; of the next drill, 0.1 mm
// wider, of another.
func TestTheRarestSizeIsThatOfFewestHoles(t *testing.T) {
	row := func(n int, y float64, sizes ...float64) (out []feature.Hole) {
		for k := range n {
			out = append(out, drilled(sizes[k%len(sizes)], r3.Vec{X: 17 * float64(k), Y: y}))
		}
		return out
	}
	for want, other := range map[float64]float64{8: 5.53, 5.5: 5.6} {
		holes := append(row(4, 0, 5.5, other), row(3, 30, 8)...)
		couples, _ := pairsOf(holes, 2)
		if got := couples[0].a.Diameter; math.Abs(got-want) > 0.2 {
			t.Errorf("beside holes of 5.5 and %g mm the rarest are of %g mm, want %g", other, got, want)
		}
	}
}

func TestGrowthIsToldFromAFiftiethOfAMillimetre(t *testing.T) {
	for amount, told := range map[float64]int{0.012: 0, 0.04: 1} {
		var e Envelope
		if e.add(r3.Vec{X: 1}, 1, amount); len(e.Grew) != told {
			t.Errorf("grown by %g mm: %+v", amount, e.Grew)
		}
	}
}

// A window that turned by half a degree is 0.1 mm off over 12 mm, and blocks; one at 30
// degrees to where one was is another window.
func TestAWindowIsTurnedOrAnother(t *testing.T) {
	for _, c := range []struct {
		degrees        float64
		turned, blocks bool
	}{{0.38, true, false}, {0.9, true, true}, {12, true, true}, {30, false, false}} {
		at := func(degrees float64) Part {
			m := plain().with(turnedLoop(back(box(41, 19, 59, 31)), 50, 25, degrees)).mesh(t, 24)
			return Part{m, feature.Find(m)}
		}
		r := CompareFeatures(at(0), at(c.degrees), Options{SameFrame: true})
		turned := false
		for _, f := range r.Findings {
			turned = turned || strings.Contains(f, "is turned by")
		}
		if turned != c.turned || (len(r.Blocking) > 0) != c.blocks {
			t.Errorf("turned by %g degrees: %+v", c.degrees, r.Findings)
		}
	}
}

// A hole that leans by 0.06 degrees holds its screw: 0.01 mm over ten; by 0.2 it is told.
func TestAHoleTiltsFromATenthOfADegree(t *testing.T) {
	for degrees, told := range map[float64]bool{0.06: false, 0.2: true} {
		s := partOf(t, plain().mesh(t, 24))
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		m := &mesh.Mesh{Vertices: slices.Clone(s.Mesh.Vertices), Faces: s.Mesh.Faces}
		h := s.Features.Holes[0]
		for _, f := range h.Faces { // the wall of one hole leans about its middle
			for _, id := range m.Faces[f] {
				v := s.Mesh.Vertices[id]
				m.Vertices[id].X = v.X + (v.Z-h.Centre.Z)*sin/cos
			}
		}
		r := CompareFeatures(Part{s.Mesh, s.Features}, Part{m, feature.Find(m)}, Options{SameFrame: true})
		tilted := slices.ContainsFunc(r.Findings, func(f string) bool { return strings.Contains(f, "tilt") })
		if tilted != told {
			t.Errorf("%g degrees: %q", degrees, r.Findings)
		}
	}
}

// Countersinks of the metric and of the inch series, 90 and 82 degrees, are told apart; half
// a degree is what a mesh leaves of an angle.
func TestACountersinkChangesItsAngleFromHalfADegree(t *testing.T) {
	for angle, told := range map[float64]bool{90.3: false, 91: true} {
		part := func(angle float64) Part {
			m := sunkPlate(t, 10, angle, 48)
			return Part{m, feature.Find(m)}
		}
		r := CompareFeatures(part(90), part(angle), Options{SameFrame: true})
		if got := slices.ContainsFunc(r.Findings, func(f string) bool { return strings.Contains(f, "degrees") }); got != told {
			t.Errorf("%g degrees: %q", angle, r.Findings)
		}
	}
}

// Rounded outlines of other chords differ by some hundredths; a boss that was added by more.
func TestAnOutlineGrowsByMoreThanItsChords(t *testing.T) {
	for beyond, told := range map[float64]int{0.06: 0, 0.2: 1} {
		c := &comparison{told: map[string]bool{}}
		var e Envelope
		e.Outline.Beyond = beyond
		c.compareEnvelope(e)
		if len(c.found) != told {
			t.Errorf("beyond the outline by %g mm: %+v", beyond, c.found)
		}
	}
}

// A file in inch that was read as cm is 2.54 times as small on every side, the redesign's
// own changes of a percent included; one side five percent off is another part.
func TestAFileInAnotherUnitIsSoOnEverySide(t *testing.T) {
	old := partOf(t, mesh.Cuboid(r3.Vec{}, r3.Vec{X: 60, Y: 40, Z: 12}))
	for off, asked := range map[float64]bool{0.012: true, 0.045: false} {
		const times = 2.54
		new := partOf(t, mesh.Cuboid(r3.Vec{}, r3.Vec{X: 60 * times, Y: 40 * times, Z: 12 * times * (1 + off)}))
		if f := unitFinding(old, new); (f != nil) != asked {
			t.Errorf("one side off by %g: %+v", off, f)
		}
	}
}

func TestMotionsThatAgreeAtTheCornersAreOne(t *testing.T) {
	part := body{box: mesh.Box{Max: r3.Vec{X: 80, Y: 50, Z: 30}}}
	for off, one := range map[float64]bool{0.05: true, 0.2: false} {
		if oneMotion(mesh.Identity(), mesh.Translation(r3.Vec{X: off}), part) != one {
			t.Errorf("motions %g mm apart: one %v", off, !one)
		}
	}
}

// A thread is the one of the table within a micrometre; another diameter less the pitch is
// drilled for what is in no table.
func TestAThreadIsOfTheTableWithinAMicrometre(t *testing.T) {
	for diameter, tapping := range map[float64]float64{6: 5, 6.0007: 5, 6.002: 5.002} {
		if got := DrillsFor(diameter, 1).Tapping; math.Abs(got-tapping) > 1e-9 {
			t.Errorf("M%g is drilled %g mm, want %g", diameter, got, tapping)
		}
	}
}

// A hole of 17/64 inch, the close clearance of a quarter inch, is named so where no metric
// size is about as near: a mesh moves it by less than a hundredth.
func TestAnInchSizeIsNamedWhereItIsNearer(t *testing.T) {
	for metric, named := range map[float64]bool{0.006: false, 0.02: true} {
		if got := inchNearer(17.0/64*25.4, metric); (len(got) > 0) != named {
			t.Errorf("a metric size %g mm off: %v", metric, got)
		}
	}
}

// A plate that became thicker moves the middle of a hole along its axis: by 4 mm it is
// still that one and not its neighbour 0.4 mm aside; by 8 the one 0.2 mm aside is nearer.
func TestAThickerPlateMovesAHoleAlongItsAxis(t *testing.T) {
	one := []feature.Hole{drilled(5, r3.Vec{})}
	for along, aside := range map[float64]float64{4: 0.4, 8: 0.2} {
		two := []feature.Hole{drilled(5, r3.Vec{Z: along}), drilled(5, r3.Vec{X: aside})}
		want := 0
		if along == 8 {
			want = 1
		}
		if got := pairUp(one, two, reach); len(got) != 1 || got[0].new != want {
			t.Errorf("%g mm along and %g mm aside: %+v", along, aside, got)
		}
	}
}

// A hole that was drilled one size larger where it was is meant, not one of its size that
// lies 0.9 mm aside.
func TestAHoleThatStayedAndGrewIsMeant(t *testing.T) {
	two := []feature.Hole{drilled(6, r3.Vec{}), drilled(5, r3.Vec{X: 0.9})}
	if got := pairUp([]feature.Hole{drilled(5, r3.Vec{})}, two, reach); len(got) != 1 || got[0].new != 0 {
		t.Errorf("%+v", got)
	}
}

// A face that was drawn again lies where it was within the rounding of a file; where a fifth
// of it stayed, something still touches it there.
func TestAFaceIsWhereItWas(t *testing.T) {
	var points []r3.Vec
	for k := range 10 {
		points = append(points, r3.Vec{X: 2 + 4*float64(k), Y: 15, Z: 10})
	}
	for up, want := range map[float64]float64{0.012: 0, 0.05: 0.05} {
		l := partOf(t, mesh.Cuboid(r3.Vec{}, r3.Vec{X: 40, Y: 30, Z: 10 + up})).lay(mesh.Identity())
		if shift, _, _ := l.probe(points, r3.Vec{Z: 1}); math.Abs(shift-want) > 1e-9 {
			t.Errorf("%g mm higher: shifted by %g", up, shift)
		}
	}
	step := func(at float64) []r2.Vec {
		return []r2.Vec{{}, {X: 40}, {X: 40, Y: 9}, {X: at, Y: 9}, {X: at, Y: 10}, {Y: 10}}
	}
	for at, stays := range map[float64]bool{8: true, 3: true, 1: false} { // two of ten points, one, none
		m, err := cut.Extrude(cut.Region{{Outer: step(at)}}, mesh.AxisPlane(mesh.Z, 0), 30)
		if err != nil {
			t.Fatal(err)
		}
		var on []r3.Vec
		for _, p := range points {
			on = append(on, r3.Vec{X: p.X, Y: 10, Z: p.Y})
		}
		if shift, _, _ := partOf(t, m).lay(mesh.Identity()).probe(on, r3.Vec{Y: 1}); (shift == 0) != stays {
			t.Errorf("cut back beyond %g of 40 mm: shifted by %g", at, shift)
		}
	}
}

// A window with two corners rounded has no round ends.
func TestAWindowWithTwoRoundCornersIsNoSlot(t *testing.T) {
	loop := []r2.Vec{{X: 40, Y: 15}}
	for corner, middle := range []r2.Vec{{X: 57, Y: 30}, {X: 43, Y: 30}} {
		for k := range 9 {
			s, c := math.Sincos((float64(corner) + float64(k)/8) * math.Pi / 2)
			loop = append(loop, r2.Add(middle, r2.Vec{X: 3 * c, Y: 3 * s}))
		}
	}
	loop = append([]r2.Vec{{X: 60, Y: 15}}, loop[1:]...)
	loop = append(loop, r2.Vec{X: 40, Y: 15})
	s := partOf(t, plain().with(back(loop)).mesh(t, 24))
	if len(s.openings) != 1 || s.openings[0].kind != windowOpening {
		t.Errorf("%+v", s.openings)
	}
}
