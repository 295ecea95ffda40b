package feature

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// extruded is the prism over an outline.
func extruded(t *testing.T, outline []r2.Vec, height float64) *mesh.Mesh {
	t.Helper()
	m, err := cut.Extrude(cut.Region{{Outer: outline}}, mesh.AxisPlane(mesh.Z, 0), height)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// A disc with a small flat lies as it was drawn; one that is mostly told by its flats
// is turned along them.
func TestAFlatOrTwoDoNotTurnAPart(t *testing.T) {
	disc := func(height float64) *mesh.Mesh { // d 60, a flat 36 mm long at 30 degrees
		const n, reach = 180, 24.0
		var loop []r2.Vec
		half := math.Acos(reach / 30)
		for k := range n + 1 {
			sin, cos := math.Sincos(math.Pi/6 + half + (2*math.Pi-2*half)*float64(k)/n)
			loop = append(loop, r2.Vec{X: 30 * cos, Y: 30 * sin})
		}
		return extruded(t, loop, height)
	}
	for _, c := range []struct {
		height float64
		turns  bool
	}{{2, false}, {8, true}} { // the flat has 1.3 % of the surface, and 4 %
		m := disc(c.height)
		if _, askew := Find(m).OwnFrame(m); askew != c.turns {
			t.Errorf("a disc %g mm high: turned %v", c.height, askew)
		}
	}
}

// A vee stays as long as it is about as broad on one side as on the other.
func TestAVeeThatIsNearlyEvenStays(t *testing.T) {
	vee := func(more float64) *mesh.Mesh { // two arms at 45 degrees, the right one longer by more
		return extruded(t, []r2.Vec{{}, {X: 30 + more, Y: 30 + more}, {X: 27 + more, Y: 33 + more}, {Y: 6}, {X: -27, Y: 33}, {X: -30, Y: 30}}, 8)
	}
	for more, turns := range map[float64]bool{0: false, 0.5: false, 1: false, 3: true, 12: true} {
		m := vee(more)
		tilt := spreadOf(m).common([3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}})
		if _, askew := Find(m).OwnFrame(m); askew != turns {
			t.Errorf("the right arm longer by %g mm (tilt %.3f): turned %v", more, tilt, askew)
		}
	}
}

// By hand: a sheet a x b has the second moments A a^2/12 and A b^2/12 about its middle,
// however it is divided, and twice that as a mesh with two sides.
func TestTheSpreadOfASheetIsThatOfItsArea(t *testing.T) {
	const a, b = 6.0, 4.0
	m := &mesh.Mesh{
		Vertices: []r3.Vec{{}, {X: a}, {X: a, Y: b}, {Y: b}, {X: 1, Y: 3}},
		Faces:    [][3]int32{{0, 1, 4}, {1, 2, 4}, {2, 3, 4}, {3, 0, 4}},
	}
	got := spreadOf(m)
	for i, want := range []float64{a * b * a * a / 12, a * b * b * b / 12} {
		if math.Abs(got[i][i]-want) > 1e-9 {
			t.Errorf("the spread along axis %d is %g mm4, want %g", i, got[i][i], want)
		}
	}
	if math.Abs(got[0][1]) > 1e-9 {
		t.Errorf("the product is %g mm4, want none", got[0][1])
	}
}

func tiltedFace(area, lean float64, normal, towards r3.Vec) Face {
	s, c := math.Sincos(lean)
	return Face{Area: area, Normal: r3.Add(r3.Scale(c, normal), r3.Scale(s, towards))}
}

func TestASideIsSquareToATenthOfADegree(t *testing.T) {
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	turnedX := r3.Vec{X: math.Cos(0.3), Y: math.Sin(0.3)}
	m := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 10, Y: 6, Z: 2})
	for lean, follows := range map[float64]bool{1e-3: true, 4e-3: false} {
		faces := []Face{{Area: 100, Normal: z}, tiltedFace(50, lean, turnedX, z), {Area: 10, Normal: y}}
		if got := Axes(m, faces); (math.Abs(r3.Dot(got[1], turnedX)) > 0.999) != follows {
			t.Errorf("a side that leans by %g rad: second axis %v", lean, got[1])
		}
	}
	for lean, coordinates := range map[float64]bool{0.5e-5: true, 3e-5: false} {
		faces := []Face{{Area: 100, Normal: z}, tiltedFace(50, lean, x, y)}
		if got := Axes(m, faces); (got == Square{x, y, z}) != coordinates {
			t.Errorf("a part turned by %g rad about z is square to %v", lean, got)
		}
	}
}

func TestFacesOfOneDirectionCountTogether(t *testing.T) {
	x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
	near := []Face{{Area: 10, Normal: z}, {Area: 6, Normal: x}, tiltedFace(6, 1e-3, x, y)}
	if got := Broadest(near); math.Abs(r3.Dot(got, x)) < 0.999 {
		t.Errorf("two sides 0.06 degrees apart do not add up: the broadest is %v", got)
	}
	apart := []Face{{Area: 10, Normal: z}, {Area: 6, Normal: x}, tiltedFace(6, 3e-3, x, y)}
	if got := Broadest(apart); got != z {
		t.Errorf("two sides 0.2 degrees apart add up: the broadest is %v", got)
	}
	for more, want := range map[float64]r3.Vec{3e-7: z, 5e-6: x} {
		equal := []Face{{Area: 10, Normal: z}, {Area: 10 * (1 + more), Normal: x}}
		if got := Broadest(equal); got != want {
			t.Errorf("of two sides of which one is larger by %g of it %v is the broadest", more, got)
		}
	}
	later := []Face{}
	for k := range 50 { // of twenty larger ones none has another of its direction
		s, c := math.Sincos(0.05 * float64(k+1))
		later = append(later, Face{Area: 1, Normal: r3.Vec{X: c, Y: s}})
		if k >= 20 {
			later[k] = Face{Area: 0.9, Normal: z}
		}
	}
	if got := Broadest(later); got != z {
		t.Errorf("thirty small sides of one direction are not the broadest: %v", got)
	}
	var many []Face
	for k := range 5000 {
		s, c := math.Sincos(float64(k))
		many = append(many, Face{Area: 1, Normal: r3.Vec{X: s, Y: c}})
	}
	looked := 0
	broadest(many, func(Face) bool { looked++; return true })
	if looked > 100 {
		t.Errorf("%d of 5000 facets were held against all others", looked)
	}
}

func TestPointsInLineHaveNoCircle(t *testing.T) {
	var points []r3.Vec
	for k := range 9 { // on a slanted line, rounded
		points = append(points, r3.Vec{X: 0.1 * float64(k), Y: 0.1 * float64(k) * 7 / 3, Z: 5})
	}
	if c, ok := circleThrough(points, r3.Vec{Z: 1}); ok {
		t.Errorf("a line has the circle %+v", c)
	}
	for _, degrees := range []float64{5, 0.003} {
		arc := make([]r3.Vec, 9)
		for k := range arc {
			s, c := math.Sincos(float64(k) * degrees / 8 * math.Pi / 180)
			arc[k] = r3.Vec{X: 20 * c, Y: 20 * s}
		}
		if c, ok := circleThrough(arc, r3.Vec{Z: 1}); !ok || math.Abs(c.radius-20) > 0.01 {
			t.Errorf("%g degrees of a circle of 20 mm have %+v, %v", degrees, c, ok)
		}
	}
}

// A cylinder is refined to the points that were drawn on it, from a start that leans.
func TestRefiningFindsTheDrawnCylinder(t *testing.T) {
	axis := r3.Unit(r3.Vec{X: 0.2, Y: -0.1, Z: 1})
	u, v := across(axis)
	var points []r3.Vec
	for k := range 40 {
		s, c := math.Sincos(float64(k))
		points = append(points, r3.Add(r3.Scale(float64(k%3), axis), r3.Add(r3.Scale(6*c, u), r3.Scale(6*s, v))))
	}
	start := cylinder{axis: r3.Unit(r3.Vec{X: 0.1, Y: 0.1, Z: 1}), radius: 5}
	if c := start.refine(points); c.worst(points) > 1e-9 {
		t.Errorf("%+v lies %g mm off the points", c, c.worst(points))
	}
	if c := start.refine(points[:5]); c != start {
		t.Error("five points, which any cylinder of five unknowns fits, moved it")
	}
}

// The point of a drill is a fan of faces whose tips lie on the axis: rounding must not
// let the axis slip between two of them.
func TestTheAxisPiercesAFanAtItsTip(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 4))
	const n = 7
	for range 3000 {
		draw := func(size float64) r3.Vec {
			return r3.Scale(size, r3.Vec{X: random.NormFloat64(), Y: random.NormFloat64(), Z: random.NormFloat64()})
		}
		c := cylinder{axis: r3.Unit(draw(1)), centre: draw(300), radius: 4}
		u, v := across(c.axis)
		m := &mesh.Mesh{Vertices: []r3.Vec{r3.Add(c.centre, r3.Scale(3, c.axis))}}
		for k := range n {
			s, cos := math.Sincos(2 * math.Pi * float64(k) / n)
			m.Vertices = append(m.Vertices, r3.Add(c.centre, r3.Add(r3.Scale(4*cos, u), r3.Scale(4*s, v))))
			m.Faces = append(m.Faces, [3]int32{0, int32(k) + 1, int32((k+1)%n) + 1})
		}
		s := newSurface(m)
		hits := 0
		for f := range m.Faces {
			if _, hit := s.pierced(c, int32(f), u, v); hit {
				hits++
			}
		}
		if hits == 0 {
			t.Fatal("the axis slips through the tip of a fan")
		}
	}
	c := cylinder{axis: r3.Vec{Z: 1}, radius: 4}
	u, v := across(c.axis)
	wall := &mesh.Mesh{Vertices: []r3.Vec{{}, {Z: 1}, {X: 1, Z: 0.5}}, Faces: [][3]int32{{0, 1, 2}}}
	if _, hit := newSurface(wall).pierced(c, 0, u, v); hit {
		t.Error("the axis pierces a face that it runs along")
	}
}

func TestNearlyEqualPartsOfADirectionLeaveTheFirstToDecide(t *testing.T) {
	for _, off := range []float64{-1e-6, 1e-6} {
		if !positive(r3.Vec{X: 0.7 + off, Y: -0.7, Z: 0.1}) {
			t.Errorf("off by %g, rounding turned the axis", off)
		}
	}
	if !positive(r3.Vec{X: 0.7, Y: -0.7035}) {
		t.Error("of components half a percent apart the first does not decide")
	}
	if positive(r3.Vec{X: 0.7, Y: -0.711}) || positive(r3.Vec{X: 0.5, Y: -0.7}) {
		t.Error("the larger component does not decide")
	}
}

// hinge is two faces that meet at the angle along an edge of 10 mm; the second reaches
// the given way from the edge. It lies away mm from the origin.
func hinge(degrees, reach, away float64) *mesh.Mesh {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	at := r3.Vec{X: away}
	m := &mesh.Mesh{Faces: [][3]int32{{0, 1, 2}, {1, 0, 3}}}
	for _, v := range []r3.Vec{{}, {Y: 10}, {X: -10, Y: 5}, {X: reach * cos, Y: 5, Z: reach * sin}} {
		m.Vertices = append(m.Vertices, r3.Add(at, v))
	}
	return m
}

func TestFacesAreOnePlaneByTurnAndDistance(t *testing.T) {
	for _, c := range []struct {
		why                  string
		degrees, reach, away float64
		planes               int
	}{
		{"a kernel's rounding", 0.3, 0.1, 0, 1},
		{"a corner 0.05 mm off", 0.3, 10, 0, 2},
		{"a turn that is meant, on a narrow face", 0.8, 0.05, 0, 2},
		{"a corner 0.009 mm off", 0.05, 10, 0, 2},
		{"a corner 0.002 mm off", 0.05, 2.3, 0, 2},
		{"the same where the file's numbers are 0.001 mm apart", 0.05, 10, 1e4, 1},
		{"a corner 0.035 mm off there", 0.2, 10, 1e4, 2},
		{"a sliver, whose normal rounding decides", 30, 1e-4, 0, 1},
		{"a narrow face", 30, 6e-4, 0, 2},
	} {
		s := newSurface(hinge(c.degrees, c.reach, c.away))
		s.growPlanes()
		if len(s.planes) != c.planes {
			t.Errorf("%s: %d planes, want %d", c.why, len(s.planes), c.planes)
		}
	}
}

// Areas that rounding alone tells apart do not order faces; where they lie does.
func TestFacesOfOneAreaStandByTheirPlace(t *testing.T) {
	for _, off := range []float64{-1e-6, 1e-6} {
		faces := []Face{{Area: 100, Centroid: r3.Vec{X: 5}}, {Area: 100 * (1 + off), Centroid: r3.Vec{X: 1}}, {Area: 100.001, Centroid: r3.Vec{X: 9}}}
		if got := byArea(faces); got[0] != 2 || got[1] != 1 {
			t.Errorf("off by %g of it: order %v", off, got)
		}
	}
}

// Corners of a bore that lie off its circle by what a kernel rounds leave it one; by
// three times that it is none.
func TestCornersOfARoundLieOnItWithinAKernelsRounding(t *testing.T) {
	for _, c := range []struct {
		radius, off float64
		holes       int
	}{{5, 2.5e-3, 1}, {5, 8e-3, 0}, {0.3, 1.2e-3, 1}, {0.3, 3e-3, 0}} {
		const n = 24
		var loop []r2.Vec
		for k := range n {
			sin, cos := math.Sincos(-2 * math.Pi * float64(k) / n)
			r := c.radius + c.off*float64(k%2)
			loop = append(loop, r2.Vec{X: r * cos, Y: r * sin})
		}
		outer := []r2.Vec{{X: -9, Y: -9}, {X: 9, Y: -9}, {X: 9, Y: 9}, {X: -9, Y: 9}}
		m, err := cut.Extrude(cut.Region{{Outer: outer, Holes: [][]r2.Vec{loop}}}, mesh.AxisPlane(mesh.Z, 0), 6)
		if err != nil {
			t.Fatal(err)
		}
		if got := len(Find(m).Holes); got != c.holes {
			t.Errorf("radius %g, every second corner %g mm off: %d holes, want %d", c.radius, c.off, got, c.holes)
		}
	}
}

// Two bores on one axis are one stepped hole unless something lies between them or
// they do not line up.
func TestStepsOfOneHoleFollowEachOther(t *testing.T) {
	at := func(radius, low, high float64, shift r3.Vec, lean float64) bore {
		s, c := math.Sincos(lean)
		return bore{Round: Round{Axis: r3.Vec{X: s, Z: c}, Radius: radius, From: (low - high) / 2, To: (high - low) / 2,
			Centre: r3.Add(shift, r3.Vec{Z: (low + high) / 2}), Concave: true, ArcDeg: 360}}
	}
	base := at(5, 0, 10, r3.Vec{}, 0)
	for _, c := range []struct {
		why  string
		b    bore
		want bool
	}{
		{"a step", at(3, 10, 20, r3.Vec{}, 0), true},
		{"parted by what a fit leaves", at(3, 10.025, 20, r3.Vec{X: 0.025}, 0.006), true},
		{"parted by a gap", at(3, 10.05, 20, r3.Vec{}, 0), false},
		{"beside the axis", at(3, 10, 20, r3.Vec{X: 0.05}, 0), false},
		{"across a tilt of a degree", at(3, 10, 20, r3.Vec{}, 0.02), false},
		{"of a small hole, by a hundredth of it", at(0.3, 10.015, 12, r3.Vec{}, 0), true},
	} {
		if got := follows(base, c.b); got != c.want {
			t.Errorf("%s: one hole %v", c.why, got)
		}
	}
}
