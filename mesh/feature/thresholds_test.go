package feature

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
)

// A bar with two arms at an angle lies along the file with the one; it is turned along the
// other where that holds more than half of what the file's axes leave out. By hand: of
// sides that go with the arms' lengths a and b the turn gains (b - a)/b.
func TestABentBarIsTurnedAlongItsLongArmAlone(t *testing.T) {
	s, c := math.Sincos(math.Pi / 6)
	for long, turns := range map[float64]bool{70: false, 95: false, 400: true} { // of 60 mm: 0.14, 0.37, 0.85
		end := r2.Vec{X: 60 + long*c, Y: long * s}
		m := extruded(t, []r2.Vec{{}, {X: 60}, end, {X: end.X - 10*s, Y: end.Y + 10*c}, {X: 60 - 10*math.Tan(math.Pi/12), Y: 10}, {Y: 10}}, 8)
		if _, askew := Find(m).OwnFrame(m); askew != turns {
			t.Errorf("an arm of %g mm beside one of 60: turned %v", long, askew)
		}
	}
}

// A plate of many sides lies along the two that are square to each other, though each of
// the others is longer: seven directions are tried before the first of them.
func TestSidesBeyondTheLargestAreTried(t *testing.T) {
	var outline []r2.Vec
	at := r2.Vec{}
	add := func(degrees, long float64) {
		s, c := math.Sincos(degrees * math.Pi / 180)
		outline = append(outline, at)
		at = r2.Add(at, r2.Vec{X: long * c, Y: long * s})
	}
	for _, half := range []float64{0, 180} { // a polygon that is its own half turn
		for _, side := range [][2]float64{{7, 8}, {24, 8.1}, {41, 8.2}, {58, 8.3}, {75, 8.4}, {83, 7}, {173, 6}} {
			add(half+side[0], side[1])
		}
	}
	flat := extruded(t, outline, 6)
	tilt := mesh.RotationAbout(r3.Vec{X: 1, Y: 2, Z: 0.5}, 0.6)
	m := flat.Transformed(tilt)
	turn, askew := Find(m).OwnFrame(m)
	s, c := math.Sincos(83 * math.Pi / 180)
	along := turn.Turn(tilt.Turn(r3.Vec{X: c, Y: s}))
	if most := max(math.Abs(along.X), math.Abs(along.Y), math.Abs(along.Z)); !askew || most < 0.9999 {
		t.Errorf("turned %v, the side of 7 mm runs along %v", askew, along)
	}
}

// conical is a plate with a hole of 6 mm whose mouth is a cone: how deep, and how much
// wider it ends, mm; every second corner of the mouth lies off outward.
func conical(t *testing.T, deep, wider, off float64) Hole {
	t.Helper()
	m := block(t, 10, 32, ring{3 + wider, 10}, ring{3, 10 - deep}, ring{3, 0})
	k := 0
	for i, v := range m.Vertices {
		if math.Abs(v.Z-10) < 1e-9 && math.Abs(math.Hypot(v.X, v.Y)-3-wider) < 1e-9 {
			if k++; k%2 == 0 {
				m.Vertices[i] = r3.Add(v, r3.Scale(off/(3+wider), r3.Vec{X: v.X, Y: v.Y}))
			}
		}
	}
	holes := Find(m).Holes
	if len(holes) != 1 {
		t.Fatalf("%d holes", len(holes))
	}
	return holes[0]
}

// What falls by less than nine degrees to the middle is a floor; what a kernel rounds leaves a cone one, and a break of a few hundredths is a break.
func TestAConeWidensAtTheMouthOfAHole(t *testing.T) {
	for _, c := range []struct {
		why              string
		deep, wider, off float64
		cone             bool
	}{
		{"a countersink of 90 degrees", 2.5, 2.5, 0, true},
		{"corners a kernel's rounding off", 2.5, 2.5, 0.004, true},
		{"corners a hundredth off", 2.5, 2.5, 0.012, false},
		{"20 degrees a side", 2.5, 2.5 * math.Tan(20*math.Pi/180), 0, true},
		{"78 degrees a side", 2.5 * math.Tan(12*math.Pi/180), 2.5, 0, true},
		{"85 degrees a side", 2.5 * math.Tan(5*math.Pi/180), 2.5, 0, false},
		{"an edge broken by 0.05 mm", 0.05, 0.05, 0, true},
		{"an edge off by 0.02 mm", 0.02, 0.02, 0, false},
	} {
		h := conical(t, c.deep, c.wider, c.off)
		if is := h.Chamfer > 0 || h.Kind == Countersink; is != c.cone {
			t.Errorf("%s: %+v", c.why, h)
		}
	}
}

// An arc of 20 degrees is a round: of 30 degrees a corner was rounded, of 12 it was bent.
func TestAShortArcIsNoRound(t *testing.T) {
	for degrees, rounds := range map[float64]int{12: 0, 30: 1} {
		const n, radius = 6, 20.0
		var outline []r2.Vec
		outline = append(outline, r2.Vec{X: -60, Y: -40}, r2.Vec{X: 60, Y: -40})
		for k := range n + 1 {
			s, c := math.Sincos((90 - degrees*(float64(k)/n-0.5)) * math.Pi / 180)
			outline = append(outline, r2.Vec{})
			copy(outline[3:], outline[2:])
			outline[2] = r2.Vec{X: radius * c, Y: radius * (s - 1)}
		}
		half := degrees / 2 * math.Pi / 180 // its neighbours go on along the tangents
		right, left := outline[2], outline[len(outline)-1]
		ends := func(p r2.Vec, way float64) r2.Vec {
			return r2.Add(p, r2.Vec{X: way * 30 * math.Cos(half), Y: -30 * math.Sin(half)})
		}
		outline = append(append([]r2.Vec{outline[0], outline[1], ends(right, 1)}, outline[2:]...), ends(left, -1))
		m := extruded(t, outline, 8)
		if got := len(Find(m).Rounds); got != rounds {
			t.Errorf("an arc of %g degrees: %d rounds, want %d", degrees, got, rounds)
		}
	}
}

// A face whose corners lie on a cylinder may be folded about a low row of an irregular wall;
// one with a corner within the circle is a chord that was split, and looks along the radius.
func TestAFaceOnACylinderLooksAlongTheRadius(t *testing.T) {
	const radius = 10.0
	c := cylinder{axis: r3.Vec{Z: 1}, radius: radius}
	point := func(degrees, share, z float64) r3.Vec {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return r3.Vec{X: radius * share * cos, Y: radius * share * sin, Z: z}
	}
	for _, f := range []struct {
		share, lean float64 // of the third corner's radius; of the normal along the radius
		on          bool
	}{{1, 0.5, true}, {1, 0.2, false}, {0.95, 0.85, true}, {0.95, 0.5, false}} {
		rise := radius * (f.share - math.Cos(20*math.Pi/180)) // of the third corner over the chord of the others
		z := rise * f.lean / math.Sqrt(1-f.lean*f.lean)
		m := &mesh.Mesh{Vertices: []r3.Vec{point(0, 1, 0), point(40, 1, 0), point(20, f.share, z)}, Faces: [][3]int32{{0, 1, 2}}}
		s := newSurface(m)
		if got := s.lean(c, 0); math.Abs(got-f.lean) > 0.02 {
			t.Fatalf("the face looks %g along the radius, want %g", got, f.lean)
		}
		if s.on(c, 0, false) != f.on {
			t.Errorf("a corner at %g of the radius, looking %g along it: on the cylinder %v", f.share, f.lean, !f.on)
		}
	}
}

// Eight chords that a mesher placed unevenly span up to 58 degrees; a hexagon's 60 are no
// round.
func TestAFaceSpansNoMoreThanAnUnevenChordOfEight(t *testing.T) {
	c := cylinder{axis: r3.Vec{Z: 1}, radius: 10}
	for degrees, on := range map[float64]bool{45: true, 56: true, 60: false} {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		m := &mesh.Mesh{Vertices: []r3.Vec{{X: 10}, {X: 10 * cos, Y: 10 * sin}, {X: 10 * cos, Y: 10 * sin, Z: 5}}, Faces: [][3]int32{{0, 1, 2}}}
		if newSurface(m).on(c, 0, false) != on {
			t.Errorf("a chord of %g degrees: on the cylinder %v", degrees, !on)
		}
	}
}

// coneWall is the wall of a cone of n chords that leans by degrees to its axis.
func coneWall(degrees float64, n int) *mesh.Mesh {
	wider := 4 * math.Tan(degrees*math.Pi/180)
	var corners []r3.Vec
	low, high := circle(0, 0, 10, n), circle(0, 0, 10+wider, n)
	for k := range n {
		j := (k + 1) % n
		a, b := r3.Vec{X: low[k].X, Y: low[k].Y}, r3.Vec{X: low[j].X, Y: low[j].Y}
		c, d := r3.Vec{X: high[j].X, Y: high[j].Y, Z: 4}, r3.Vec{X: high[k].X, Y: high[k].Y, Z: 4}
		corners = append(corners, a, b, c, a, c, d)
	}
	return mesh.Weld(corners)
}

// By hand: the normals of a cone that leans by t have second moments of cos2 t/2 across the
// axis, twice, and sin2 t along it; of 8 degrees the least is 0.04 of the next, of 16 it is
// 0.16, and such a patch curves both ways.
func TestAWallThatLeansFarCurvesBothWays(t *testing.T) {
	for degrees, fits := range map[float64]bool{0: true, 8: true, 16: false} {
		s := newSurface(coneWall(degrees, 24))
		s.growPlanes()
		var faces []int32
		for f := range s.Mesh.Faces {
			faces = append(faces, int32(f))
		}
		if _, ok := s.fitRound(faces); ok != fits {
			t.Errorf("a wall that leans by %g degrees: a cylinder is tried %v", degrees, ok)
		}
	}
}

// The broadest plane beside a half round is the flat that it goes over into; it stands on
// the smaller one that is square to it.
func TestAWallStandsOnThePlaneSquareToIt(t *testing.T) {
	const n, radius = 12, 5.0
	var outline []r2.Vec
	for k := range n + 1 {
		sin, cos := math.Sincos((float64(k)/n - 0.5) * math.Pi)
		outline = append(outline, r2.Vec{X: 40 + radius*cos, Y: radius * sin})
	}
	m := extruded(t, append(outline, r2.Vec{Y: radius}, r2.Vec{Y: -radius}), 60)
	s := newSurface(m)
	s.growPlanes()
	var wall []int32
	for f := range m.Faces {
		if a, b, c := m.Triangle(f); min(a.X, b.X, c.X) >= 40-1e-9 && math.Abs(s.normal[f].Z) < 0.5 {
			wall = append(wall, int32(f))
		}
	}
	if c, ok := s.fitSquare(wall); !ok || math.Abs(c.axis.Z) < 0.999 || math.Abs(c.radius-radius) > 1e-6 {
		t.Errorf("the wall of radius %g has the axis %v and radius %g", radius, c.axis, c.radius)
	}
}

// A fine wall that was split unevenly turns by 3 degrees here and by 8 there; the chamfer
// beside it turns by 20.
func TestASeedTakesWhatTurnsLittleAndNoChamfer(t *testing.T) {
	at, way := r2.Vec{}, 0.0
	outline := []r2.Vec{at}
	for _, turn := range []float64{3, 3, 8, 3, 20} {
		sin, cos := math.Sincos(way * math.Pi / 180)
		at = r2.Add(at, r2.Vec{X: cos, Y: sin})
		outline = append(outline, at)
		way += turn
	}
	sin, cos := math.Sincos(way * math.Pi / 180)
	at = r2.Add(at, r2.Vec{X: 3 * cos, Y: 3 * sin})
	m := extruded(t, append(outline, at, r2.Vec{X: at.X, Y: 20}, r2.Vec{Y: 20}), 4)
	s := newSurface(m)
	s.growPlanes()
	chords := map[int32]bool{}
	for _, f := range s.smooth(s.bends()[0], make([]bool, len(m.Faces)), evennesses[0]) {
		chords[s.plane[f]] = true
	}
	if len(chords) != 5 {
		t.Errorf("the seed has %d chords, want the five before the chamfer", len(chords))
	}
}

// The last chord of an arc that another wall cuts may be 1.4 times as wide as the others, as
// chords drawn unevenly are; one more than twice as wide is a flat.
func TestTheCutChordAtTheEndOfAnArcIsLikeTheOthers(t *testing.T) {
	const radius = 10.0
	c := cylinder{axis: r3.Vec{Z: 1}, radius: radius}
	on := func(degrees float64) r2.Vec {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return r2.Vec{X: radius * cos, Y: radius * sin}
	}
	for last, even := range map[float64]bool{10: true, 14: true, 24: false} {
		outline := []r2.Vec{on(0), on(10), on(20), on(30), r2.Scale(0.5, r2.Add(on(30), on(30+last)))}
		var corners []r3.Vec
		for k := range len(outline) - 1 {
			p, q := outline[k], outline[k+1]
			a, b := r3.Vec{X: p.X, Y: p.Y}, r3.Vec{X: q.X, Y: q.Y}
			up := r3.Vec{Z: 4}
			corners = append(corners, a, b, r3.Add(b, up), a, r3.Add(b, up), r3.Add(a, up))
		}
		s := newSurface(mesh.Weld(corners))
		s.growPlanes()
		var faces []int32
		for f := range s.Mesh.Faces {
			faces = append(faces, int32(f))
		}
		if s.evenChords(c, faces) != even {
			t.Errorf("a last chord of %g degrees beside those of 10: even %v", last, !even)
		}
	}
}
