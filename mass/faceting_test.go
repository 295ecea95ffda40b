package mass_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/mesh"
	"swapworth/mesh/cut"
)

// pierced extrudes an outline with one hole, both counter-clockwise, the hole
// shifted.
func pierced(t *testing.T, outline, hole []r2.Vec, height float64, shift ...r2.Vec) *mesh.Mesh {
	t.Helper()
	p := cut.Polygon{Outer: outline}
	if hole != nil {
		inner := slices.Clone(hole)
		slices.Reverse(inner)
		for _, by := range shift {
			for i := range inner {
				inner[i] = r2.Add(inner[i], by)
			}
		}
		p.Holes = [][]r2.Vec{inner}
	}
	m, err := cut.Extrude(cut.Region{p}, mesh.AxisPlane(mesh.Z, 0), height)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// disc is a cylinder whose wall is drawn with a row of corners at half height,
// half a chord on from those of the rims.
func disc(chords int, radius, height float64) *mesh.Mesh {
	rim, middle := polygon(chords, radius), polygon(2*chords, radius)
	n := int32(chords)
	m := &mesh.Mesh{}
	for i := range rim {
		m.Vertices = append(m.Vertices, r3.Vec{X: rim[i].X, Y: rim[i].Y})
	}
	for i := range rim {
		m.Vertices = append(m.Vertices, r3.Vec{X: middle[2*i+1].X, Y: middle[2*i+1].Y, Z: height / 2})
	}
	for i := range rim {
		m.Vertices = append(m.Vertices, r3.Vec{X: rim[i].X, Y: rim[i].Y, Z: height})
	}
	for i := range n {
		j := (i + 1) % n
		m.Faces = append(m.Faces, [3]int32{i, j, n + i}, [3]int32{n + i, j, n + j},
			[3]int32{2*n + j, 2*n + i, n + i}, [3]int32{2*n + j, n + i, n + j})
	}
	for i := int32(1); i < n-1; i++ {
		m.Faces = append(m.Faces, [3]int32{0, i + 1, i}, [3]int32{2 * n, 2*n + i, 2*n + i + 1})
	}
	return m
}

// bevelled is a rectangular plate 60 x 40 x 6 whose top edges are bevelled, w
// wide and h high, with mitred corners.
func bevelled(w, h float64) *mesh.Mesh {
	m := prism([]r2.Vec{{}, {X: 60}, {X: 60, Y: 40}, {Y: 40}}, 6-h)
	for _, v := range []r3.Vec{{X: w, Y: w}, {X: 60 - w, Y: w}, {X: 60 - w, Y: 40 - w}, {X: w, Y: 40 - w}} {
		v.Z = 6
		m.Vertices = append(m.Vertices, v)
	}
	m.Faces = slices.DeleteFunc(m.Faces, func(f [3]int32) bool { return min(f[0], f[1], f[2]) >= 4 })
	for i := range int32(4) {
		j := (i + 1) % 4
		m.Faces = append(m.Faces, [3]int32{4 + i, 4 + j, 8 + j}, [3]int32{4 + i, 8 + j, 8 + i})
	}
	m.Faces = append(m.Faces, [3]int32{8, 9, 10}, [3]int32{8, 10, 11})
	return m
}

// The exact volumes are closed forms of the solid that the faces stand for.
func TestTheEstimateFindsTheRoundBehindTheFaces(t *testing.T) {
	const pi = math.Pi
	ring := []r2.Vec{{X: 6, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 30}, {X: 6, Y: 30}}
	torus := polygon(24, 3)
	for i := range torus {
		torus[i].X += 12
	}
	plate := []r2.Vec{{}, {X: 80}, {X: 80, Y: 50}, {Y: 50}}
	slot := arc(arc(nil, r2.Vec{X: 60, Y: 25}, 4, -90, 90, 12), r2.Vec{X: 20, Y: 25}, 4, 90, 270, 12)
	ellipse := polygon(40, 1)
	for i := range ellipse {
		ellipse[i] = r2.Vec{X: 30 * ellipse[i].X, Y: 8 * ellipse[i].Y}
	}
	wave := []r2.Vec{{X: 0, Y: -20}, {X: 100, Y: -20}}
	for x := 100.0; x >= 0; x-- {
		wave = append(wave, r2.Vec{X: x, Y: 5 * math.Sin(x/50*pi)})
	}
	// A tangent fillet's corners lie on the arc, its faces inside.
	fillet := 60.0*40 - (4-pi)*25
	cases := []struct {
		name  string
		part  *mesh.Mesh
		exact float64
	}{
		{"cylinder of 64 chords", prism(polygon(64, 10), 30), pi * 100 * 30},
		{"cylinder of 12 chords", prism(polygon(12, 10), 30), pi * 100 * 30},
		{"cylinder of 9 chords", prism(polygon(9, 10), 30), pi * 100 * 30},
		{"disc of 12 chords, a row at half height", disc(12, 11, 8), pi * 121 * 8},
		{"disc of 48 chords, a row at half height", disc(48, 300, 40), pi * 90000 * 40},
		{"tube of 48 chords", lathe(ring, 48), pi * (100 - 36) * 30},
		{"sphere 32 x 16", lathe(ball(10, 16), 32), 4. / 3 * pi * 1000},
		{"sphere 100 x 80", lathe(ball(10, 80), 100), 4. / 3 * pi * 1000},
		{"torus", lathe(torus, 60), 2 * pi * pi * 12 * 9},
		{"cone", lathe([]r2.Vec{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 0, Y: 25}}, 36), pi * 100 * 25 / 3},
		{"cut cone", lathe([]r2.Vec{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 5, Y: 25}, {X: 0, Y: 25}}, 36), pi * 25 / 3 * 175},
		{"plate with round corners, 4 chords", prism(rounded(60, 40, 5, 4), 6), fillet * 6},
		{"plate with round corners, 16 chords", prism(rounded(60, 40, 5, 16), 6), fillet * 6},
		{"plate with a slot", pierced(t, plate, slot, 6), (4000 - 40*8 - pi*16) * 6},
		{"plate with a 9-sided hole", pierced(t, plate, polygon(9, 3), 6, r2.Vec{X: 40, Y: 25}), (4000 - pi*9) * 6},
		{"ellipse", pierced(t, ellipse, nil, 6), pi * 30 * 8 * 6},
		{"full wave", pierced(t, wave, nil, 6), 2000 * 6},
		{"half-round bar", prism(arc(nil, r2.Vec{}, 10, 0, 180, 24), 50), pi * 50 * 50},
	}
	for _, c := range cases {
		for i, m := range []*mesh.Mesh{c.part, single(placed(c.part, 3, r3.Vec{X: 40, Y: -200, Z: 15}))} {
			p := mass.Of(m)
			missing, estimate := c.exact-p.Volume, p.Faceting*p.Volume
			if math.Abs(missing-estimate) > p.Segments/3 {
				t.Errorf("%s (%d): %.4g mm3 missing, estimated %.4g of segments %.4g", c.name, i, missing, estimate, p.Segments)
			}
			if v := mass.VolumeRange(p, nil); !v.Contains(c.exact) {
				t.Errorf("%s (%d): exact %.6g lies outside %v", c.name, i, c.exact, v)
			}
			t.Logf("%-36s missing %10.5f estimated %10.5f segments %10.5f", c.name, missing, estimate, p.Segments)
		}
	}
}

func TestRealEdgesAreNoRounds(t *testing.T) {
	chamfered := []r2.Vec{{X: 2, Y: 0}, {X: 58, Y: 0}, {X: 60, Y: 2}, {X: 60, Y: 38},
		{X: 58, Y: 40}, {X: 2, Y: 40}, {X: 0, Y: 38}, {X: 0, Y: 2}}
	roof := []r2.Vec{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 10}, {X: 30, Y: 12.6}, {X: 0, Y: 10}}
	mansard := []r2.Vec{{X: 0, Y: 0}, {X: 60, Y: 0}, {X: 60, Y: 10}, {X: 45, Y: 12.6}, {X: 15, Y: 12.6}, {X: 0, Y: 10}}
	cases := map[string]*mesh.Mesh{
		"box":                      prism([]r2.Vec{{}, {X: 60}, {X: 60, Y: 40}, {Y: 40}}, 6),
		"box with chamfers":        prism(chamfered, 6),
		"bevels of 30 degrees":     bevelled(3, 3*math.Tan(math.Pi/6)),
		"pyramid of 4 sides":       lathe([]r2.Vec{{X: 0, Y: 0}, {X: 20, Y: 0}, {X: 0, Y: 5}}, 4),
		"hexagon bar":              prism(polygon(6, 10), 30),
		"octagon bar":              prism(polygon(8, 10), 30),
		"one crease of 10 degrees": prism(roof, 50),
		"two creases":              prism(mansard, 50),
		"diamond":                  prism(polygon(4, 20), 20),
		"plate with a hexagon pocket": pierced(t, []r2.Vec{{}, {X: 60}, {X: 60, Y: 40}, {Y: 40}}, polygon(6, 8), 6,
			r2.Vec{X: 30, Y: 20}),
		"hexagon bar in a lathe": lathe([]r2.Vec{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 30}, {X: 0, Y: 30}}, 6),
	}
	for name, part := range cases {
		for _, m := range []*mesh.Mesh{part, single(placed(part, 5, r3.Vec{X: 300, Y: 20, Z: -70}))} {
			if p := mass.Of(m); p.Segments != 0 || p.Faceting != 0 {
				t.Errorf("%s: taken for a round: segments %g mm3 of %g", name, p.Segments, p.Volume)
			}
		}
	}
}

func TestExactReferenceVolumesLieInsideTheFacetingRange(t *testing.T) {
	for _, name := range referenceParts {
		l, want := reference(t, name)
		p := mass.Of(l.Mesh)
		missing, estimate := want.Volume-p.Volume, p.Faceting*p.Volume
		if math.Abs(missing-estimate) > p.Segments/3+1e-9*want.Volume {
			t.Errorf("%s: %.4f mm3 missing, estimated %.4f of segments %.4f", name, missing, estimate, p.Segments)
		}
		v := mass.VolumeRange(p, nil)
		if want.Volume < v.Low-1e-12*v.Low || want.Volume > v.High+1e-12*v.High {
			t.Errorf("%s: exact %.6f lies outside %v", name, want.Volume, v)
		}
		t.Logf("%-14s missing %8.4f estimated %8.4f segments %8.4f mm3", name, missing, estimate, p.Segments)
	}
}
