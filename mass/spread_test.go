package mass_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/mesh"
)

// Centroids (mm, along z where they are not by symmetry at 0) and principal
// moments (mm5, smallest first) are closed forms of the solid that the faces
// stand for; V is its volume.
func TestExactCentroidAndInertiaLieInsideTheFacetingRange(t *testing.T) {
	const pi = math.Pi
	round := func(r, h, v float64) [3]float64 { // a cylinder
		axial, across := v*r*r/2, v*(3*r*r+h*h)/12
		return sorted(axial, across, across)
	}
	tube := func() [3]float64 {
		outer, inner := round(10, 30, pi*100*30), round(6, 30, pi*36*30)
		var out [3]float64
		for k := range out {
			out[k] = outer[k] - inner[k]
		}
		return out
	}
	ring := []r2.Vec{{X: 6, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 30}, {X: 6, Y: 30}}
	sphere := 4. / 3 * pi * 1000
	cone := pi * 100 * 25 / 3
	// half a cylinder of radius 10: the centroid at 4 r/(3 pi) from the flat
	half := pi * 50 * 50
	low := 4 * 10 / (3 * pi)
	cases := []struct {
		name      string
		part      *mesh.Mesh
		centroid  r3.Vec
		principal [3]float64
	}{
		{"cylinder of 64 chords", prism(polygon(64, 10), 30), r3.Vec{Z: 15}, round(10, 30, pi*3000)},
		{"cylinder of 12 chords", prism(polygon(12, 10), 30), r3.Vec{Z: 15}, round(10, 30, pi*3000)},
		{"cylinder of 9 chords", prism(polygon(9, 10), 30), r3.Vec{Z: 15}, round(10, 30, pi*3000)},
		{"disc of 12 chords, a row at half height", disc(12, 11, 8), r3.Vec{Z: 4}, round(11, 8, pi*121*8)},
		{"tube of 16 chords", lathe(ring, 16), r3.Vec{Z: 15}, tube()},
		{"sphere 32 x 16", lathe(ball(10, 16), 32), r3.Vec{}, sorted(sphere*40, sphere*40, sphere*40)},
		{"cone of 12 chords", lathe([]r2.Vec{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 0, Y: 25}}, 12), r3.Vec{Z: 6.25},
			sorted(cone*0.3*100, cone*(3./20*100+3./80*625), cone*(3./20*100+3./80*625))},
		{"half-round bar of 12 chords", prism(arc(nil, r2.Vec{}, 10, 0, 180, 12), 50), r3.Vec{Y: low, Z: 25},
			sorted(half*(100./2-low*low), half*(100./4-low*low+2500./12), half*(100./4+2500./12))},
	}
	for _, c := range cases {
		for _, move := range []mesh.Transform{{}, mesh.RotationAbout(r3.Vec{X: 1, Y: -2, Z: 0.5}, 0.8)} {
			m, want := c.part, c.centroid
			if move != (mesh.Transform{}) {
				m, want = m.Transformed(move), move.Apply(want)
			}
			p := mass.Of(m)
			s := mass.SpreadOf(p, m, nil)
			for k, x := range [3]float64{want.X, want.Y, want.Z} {
				if r := s.Centroid[k]; x < r.Low-1e-9 || x > r.High+1e-9 {
					t.Errorf("%s: centroid %c at %.6g, range %v", c.name, "xyz"[k], x, r)
				}
			}
			for k, moment := range c.principal {
				r := s.Principal[k]
				if moment < r.Low*(1-1e-9) || moment > r.High*(1+1e-9) {
					t.Errorf("%s: principal moment %d is %.6g, range %v", c.name, k+1, moment, r)
				}
				if r.Nominal > moment*(1+1e-9) && c.name != "tube of 16 chords" {
					t.Errorf("%s: the mesh has more inertia than what it is drawn in", c.name)
				}
				if width, off := r.High-r.Low, math.Abs(moment-r.Nominal); width > 2*off+1e-6*moment && c.name != "tube of 16 chords" {
					t.Errorf("%s: a range of %.3g for %.3g that is missing", c.name, width, off)
				}
			}
		}
	}
}

// A hole near one end, drawn with 9 chords, is too small: the centroid of the
// mesh lies towards it.
func TestTheCentroidOfAPlateWithACoarseHoleHasARange(t *testing.T) {
	const a, b, h, r, x = 80.0, 50.0, 6.0, 12.0, 60.0
	plate := []r2.Vec{{}, {X: a}, {X: a, Y: b}, {Y: b}}
	m := pierced(t, plate, polygon(9, r), h, r2.Vec{X: x, Y: 25})
	p := mass.Of(m)
	area := a*b - math.Pi*r*r
	exact := (a*b*a/2 - math.Pi*r*r*x) / area
	s := mass.SpreadOf(p, m, nil)
	if got := s.Centroid[0]; !got.Contains(exact) || got.High-got.Low > 3*math.Abs(exact-got.Nominal) || exact > got.Nominal {
		t.Errorf("centroid at %.5f, range %v", exact, got)
	}
}

// Added volume at a far corner widens the centroid by its lever.
func TestARepairWidensTheCentroid(t *testing.T) {
	m := prism([]r2.Vec{{}, {X: 60}, {X: 60, Y: 40}, {Y: 40}}, 6)
	p := mass.Of(m)
	fix := mesh.Repair{At: r3.Vec{X: 60, Y: 20, Z: 3}, AddedVolumeMM3: 144}
	less, more := fix.Doubt()
	got := mass.SpreadOf(p, m, []mesh.Repair{fix}).Centroid[0]
	if want := max(less, more) * 30 / p.Volume; want == 0 || math.Abs(got.High-30-want) > 1e-9 || math.Abs(30-got.Low-want) > 1e-9 {
		t.Errorf("range %v, want 30 +- %g", got, want)
	}
}

func sorted(v ...float64) [3]float64 {
	slices.Sort(v)
	return [3]float64(v)
}

func TestExactReferenceCentroidsAndInertiaLieInsideTheRange(t *testing.T) {
	for _, name := range referenceParts {
		l, want := reference(t, name)
		s := mass.SpreadOf(mass.Of(l.Mesh), l.Mesh, nil)
		size := max(want.Inertia[0], want.Inertia[4], want.Inertia[8])
		for i := range 3 {
			if r := s.Centroid[i]; want.Centroid[i] < r.Low-1e-9 || want.Centroid[i] > r.High+1e-9 {
				t.Errorf("%s: centroid %.9f outside %v", name, want.Centroid[i], r)
			}
			for j := range 3 {
				if r, x := s.Inertia[i][j], want.Inertia[3*i+j]; x < r.Low-1e-9*size || x > r.High+1e-9*size {
					t.Errorf("%s: inertia %d%d is %.6f, outside %v", name, i, j, x, r)
				}
			}
		}
	}
}
