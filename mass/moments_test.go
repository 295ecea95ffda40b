package mass_test

import (
	"fmt"
	"math"
	"math/big"
	"reflect"
	"runtime"
	"testing"

	"swapworth/internal/property"
	"swapworth/mass"
	"swapworth/mesh"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func TestReferencePartsMeasureAsTheKernelSays(t *testing.T) {
	for _, name := range referenceParts {
		l, want := reference(t, name)
		p := mass.Of(l.Mesh)
		if l.Triangles != want.STL.Triangles {
			t.Errorf("%s: %d triangles, want %d", name, l.Triangles, want.STL.Triangles)
		}
		if e := relative(p.Volume, want.STL.Volume); e > 1e-9 {
			t.Errorf("%s: signed volume is off by %.2g", name, e)
		}
		// The parts with round holes differ by their faceting, 3e-5 at most.
		tolerance := 1e-9 + 2*p.Segments/p.Volume
		if e := relative(p.Volume, want.Volume); e > tolerance {
			t.Errorf("%s: volume is off by %.2g", name, e)
		}
		if e := relative(p.Area, want.Area); e > tolerance {
			t.Errorf("%s: area is off by %.2g", name, e)
		}
		for i, c := range []float64{p.Centroid.X, p.Centroid.Y, p.Centroid.Z} {
			if math.Abs(c-want.Centroid[i]) > 100*tolerance {
				t.Errorf("%s: centroid %d is %.9g, want %.9g", name, i, c, want.Centroid[i])
			}
		}
		trace := want.Inertia[0] + want.Inertia[4] + want.Inertia[8]
		for i := range 9 {
			if math.Abs(p.Inertia[i/3][i%3]-want.Inertia[i]) > tolerance*trace {
				t.Errorf("%s: inertia %d,%d is %.9g, want %.9g", name, i/3, i%3, p.Inertia[i/3][i%3], want.Inertia[i])
			}
		}
	}
}

// Closed forms of a solid of revolution and of a box, textbook mechanics.
func TestABoxHasTheInertiaOfABox(t *testing.T) {
	w, d, h := 60.0, 40.0, 6.0
	p := mass.Of(prism([]r2.Vec{{}, {X: w}, {X: w, Y: d}, {Y: d}}, h))
	v := w * d * h
	want := [3]float64{v * (d*d + h*h) / 12, v * (h*h + w*w) / 12, v * (w*w + d*d) / 12}
	for i := range 3 {
		if relative(p.Inertia[i][i], want[i]) > 1e-14 {
			t.Errorf("axis %d: %g, want %g", i, p.Inertia[i][i], want[i])
		}
	}
	// Smallest first: about the longest side.
	if got := mass.Principal(p.Inertia); relative(got[0], want[0]) > 1e-12 || relative(got[2], want[2]) > 1e-12 {
		t.Errorf("principal moments %v, want %v", got, want)
	}
}

// The product of inertia of a right triangle's prism, sides a along x and b
// along y: integral of xy dA about the centroid is -a^2 b^2/72 (textbook).
func TestOffDiagonalsAreMinusTheIntegralOfXY(t *testing.T) {
	a, b, h := 6.0, 4.0, 2.0
	p := mass.Of(prism([]r2.Vec{{}, {X: a}, {Y: b}}, h))
	if want := a * a * b * b / 72 * h; relative(p.Inertia[0][1], want) > 1e-13 || p.Inertia[0][1] != p.Inertia[1][0] {
		t.Errorf("Ixy = %g, want %g", p.Inertia[0][1], want)
	}
}

// exactProperties integrates over the same polyhedron in rational arithmetic.
func exactProperties(m *mesh.Mesh) (volume float64, inertia [3][3]float64) {
	rat := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	mul := func(a, b *big.Rat) *big.Rat { return new(big.Rat).Mul(a, b) }
	v6, first, second := new(big.Rat), [3]*big.Rat{}, [3][3]*big.Rat{}
	for i := range 3 {
		first[i] = new(big.Rat)
		for j := range 3 {
			second[i][j] = new(big.Rat)
		}
	}
	for f := range m.Faces {
		var p [3][3]*big.Rat
		a, b, c := m.Triangle(f)
		for k, q := range []r3.Vec{a, b, c} {
			p[k] = [3]*big.Rat{rat(q.X), rat(q.Y), rat(q.Z)}
		}
		d := new(big.Rat)
		for i := range 3 {
			j, k := (i+1)%3, (i+2)%3
			minor := new(big.Rat).Sub(mul(p[1][j], p[2][k]), mul(p[1][k], p[2][j]))
			d.Add(d, mul(p[0][i], minor))
		}
		v6.Add(v6, d)
		var s [3]*big.Rat
		for i := range 3 {
			s[i] = new(big.Rat).Add(p[0][i], new(big.Rat).Add(p[1][i], p[2][i]))
			first[i].Add(first[i], mul(d, s[i]))
		}
		for i := range 3 {
			for j := range 3 {
				q := mul(s[i], s[j])
				for k := range 3 {
					q.Add(q, mul(p[k][i], p[k][j]))
				}
				second[i][j].Add(second[i][j], mul(d, q))
			}
		}
	}
	var about [3][3]float64
	for i := range 3 {
		for j := range 3 {
			// integral of xx' - V c c' = second/120 - first first'/(96 v6)
			shift := new(big.Rat).Quo(mul(first[i], first[j]), mul(v6, rat(96)))
			about[i][j], _ = new(big.Rat).Sub(mul(second[i][j], big.NewRat(1, 120)), shift).Float64()
		}
	}
	volume, _ = mul(v6, big.NewRat(1, 6)).Float64()
	for i := range 3 {
		for j := range 3 {
			inertia[i][j] = -about[i][j]
		}
		inertia[i][i] = about[(i+1)%3][(i+1)%3] + about[(i+2)%3][(i+2)%3]
	}
	return volume, inertia
}

// Against rational arithmetic on the same float32 corners.
func TestAPartFarAwayOrVeryThinKeepsItsDigits(t *testing.T) {
	flange := lathe([]r2.Vec{{X: 5, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 6}, {X: 12, Y: 8}, {X: 12, Y: 30}, {X: 5, Y: 30}}, 16)
	thin := prism([]r2.Vec{{}, {X: 1000}, {X: 1000, Y: 700}, {Y: 800}}, 1e-3)
	cases := map[string]*mesh.Mesh{
		"near":                                   placed(flange, 1, r3.Vec{}),
		"10 m away":                              placed(flange, 2, r3.Vec{X: 1e4, Y: -1e4, Z: 1e4}),
		"1 km away":                              placed(flange, 3, r3.Vec{X: 1e6, Y: 1e6, Z: 1e6}),
		"plate a million times wider than thick": thin,
		"the same plate turned, 6 um thick":      placed(prism([]r2.Vec{{}, {X: 1000}, {X: 1000, Y: 700}, {Y: 800}}, 6e-3), 4, r3.Vec{}),
		"bar a million times longer than thick":  prism([]r2.Vec{{}, {X: 1e-3}, {X: 1e-3, Y: 1e-3}, {Y: 1e-3}}, 1000),
		"1 um features":                          prism(polygon(12, 1e-3), 2e-3),
	}
	for name, m := range cases {
		m = single(m)
		p := mass.Of(m)
		volume, inertia := exactProperties(m)
		if e := relative(p.Volume, volume); e > 1e-12 {
			t.Errorf("%s: volume is off by %.2g", name, e)
		}
		largest := 0.0
		for i := range 3 {
			largest = max(largest, inertia[i][i])
		}
		for i := range 3 {
			for j := range 3 {
				if e := math.Abs(p.Inertia[i][j]-inertia[i][j]) / largest; e > 1e-10 {
					t.Errorf("%s: inertia %d,%d is off by %.2g", name, i, j, e)
				}
			}
		}
	}
}

// 10 km away a float32 steps by 1 mm; the polyhedron is what is left of the
// part, and it is integrated as exactly as any other.
func TestTenKilometresAway(t *testing.T) {
	m := single(placed(prism(polygon(24, 300), 200), 9, r3.Vec{X: 1e7, Y: 1e7, Z: -1e7}))
	volume, _ := exactProperties(m)
	if e := relative(mass.Of(m).Volume, volume); e > 1e-12 {
		t.Errorf("volume is off by %.2g", e)
	}
}

func TestTurningAndScalingAPartFollowMechanics(t *testing.T) {
	property.Check(t, func(t *rapid.T) {
		radius := rapid.Float64Range(1, 50).Draw(t, "radius")
		sides := rapid.IntRange(3, 40).Draw(t, "sides")
		height := rapid.Float64Range(0.5, 100).Draw(t, "height")
		seed := rapid.Uint64().Draw(t, "seed")
		m := prism(polygon(sides, radius), height)
		p := mass.Of(m)
		turned := mass.Of(placed(m, seed, r3.Vec{X: 10, Y: -300, Z: 77}))
		if relative(turned.Volume, p.Volume) > 1e-11 || relative(turned.Area, p.Area) > 1e-11 {
			t.Fatalf("turning changed %v into %v", p, turned)
		}
		a, b := mass.Principal(p.Inertia), mass.Principal(turned.Inertia)
		for i := range 3 {
			if relative(b[i], a[i]) > 1e-9 {
				t.Fatalf("turning changed the principal moments %v into %v", a, b)
			}
		}
		k := rapid.Float64Range(0.1, 30).Draw(t, "k")
		scaled := &mesh.Mesh{Faces: m.Faces}
		for _, v := range m.Vertices {
			scaled.Vertices = append(scaled.Vertices, r3.Scale(k, v))
		}
		s := mass.Of(scaled)
		if relative(s.Volume, k*k*k*p.Volume) > 1e-12 || relative(s.Inertia[0][0], math.Pow(k, 5)*p.Inertia[0][0]) > 1e-11 {
			t.Fatalf("scaled by %g: volume %g from %g", k, s.Volume, p.Volume)
		}
		// The bias is a length to the third power too, if the part is a round at all.
		if math.Abs(s.Faceting-p.Faceting) > 1e-9 {
			t.Fatalf("scaled by %g: faceting %g from %g", k, s.Faceting, p.Faceting)
		}
	})
}

func TestTheResultDoesNotDependOnTheNumberOfCores(t *testing.T) {
	m := lathe(ball(20, 100), 250) // over several pieces of work
	first := mass.Of(m)
	for range 2 {
		if again := mass.Of(m); !reflect.DeepEqual(again, first) {
			t.Fatalf("%v, then %v", first, again)
		}
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	if again := mass.Of(m); !reflect.DeepEqual(again, first) {
		t.Fatalf("%v, then %v", first, again)
	}
}

func TestAnEmptyMeshHasNoMass(t *testing.T) {
	if p := mass.Of(&mesh.Mesh{}); !reflect.DeepEqual(p, mass.Properties{}) {
		t.Errorf("got %v", p)
	}
	flat := &mesh.Mesh{Vertices: []r3.Vec{{}, {X: 1}, {Y: 1}}, Faces: [][3]int32{{0, 1, 2}, {0, 2, 1}, {0, 0, 1}}}
	if p := mass.Of(flat); p.Volume != 0 || p.Area != 1 || math.IsNaN(p.Faceting) {
		t.Errorf("got %v", p)
	}
}

func BenchmarkOf2MTriangles(b *testing.B) {
	m := lathe(ball(50, 1000), 1000)
	b.ReportMetric(float64(len(m.Faces)), "triangles")
	b.ResetTimer()
	for b.Loop() {
		mass.Of(m)
	}
}

func ExampleOf() {
	box := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 100, Y: 20, Z: 5})
	p := mass.Of(box)
	fmt.Printf("%g mm3, centroid %g mm, 6061-T6 weighs %g g\n", p.Volume, p.Centroid, p.Volume*2700e-6)
	// Output: 10000 mm3, centroid {50 10 2.5} mm, 6061-T6 weighs 27 g
}
