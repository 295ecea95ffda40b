package solid

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/multigrid"
	"swapworth/solid/internal/region"
)

// gridIn lays an even grid into the box of a surface.
func gridIn(s *grid.Surface, count [3]int) *grid.Grid {
	g := &grid.Grid{}
	for a := range 3 {
		g.SetAxis(a, []float64{s.Low[a], s.High[a]}, []int{count[a]})
	}
	return g
}

// modelSurface is the surface of a mesh along the model's axes.
func modelSurface(m *mesh.Mesh) *grid.Surface {
	return frameAlong([3]r3.Vec{mesh.X.Unit(), mesh.Y.Unit(), mesh.Z.Unit()}, r3.Vec{X: 3, Y: 2, Z: 1}, r3.Vec{}).surface(m)
}

// stiffnessOn returns the stiffness of a part of modulus 1 that is held at a region,
// under a force along each axis and a moment about the last, spread over a box.
func stiffnessOn(t *testing.T, s *grid.Surface, g *grid.Grid, hold *region.Region, box [2][3]float64) (k [4]float64) {
	t.Helper()
	cs := grid.Fill(s, g, 4)
	h := region.NewHolding()
	if err := hold.Hold(h, cs, s, held, 1); err != nil {
		t.Fatal(err)
	}
	sys, err := newSystem(cs, brick.LameOf(1, 0.33), h)
	if err != nil {
		t.Fatal(err)
	}
	load := &region.Region{Box: &box, Name: "box"}
	e, err := load.Extent(cs, s)
	if err != nil {
		t.Fatal(err)
	}
	for d := range 4 {
		f, u := make([]float64, sys.Length()), make([]float64, sys.Length())
		var unit [3]float64
		unit[d%3] = 1
		on := region.Spread(load, e, unit)
		if d == 3 {
			if on, err = region.Twist(load, e, [3]float64{2: 1}); err != nil {
				t.Fatal(err)
			}
		}
		on.Nodal(cs, s, sys.System, f)
		if _, err := sys.Solve(t.Context(), f, u, solverGoal); err != nil {
			t.Fatal(err)
		}
		k[d] = 1 / multigrid.Dot(f, u)
	}
	return k
}

// A block is held on its lower side from one end to a rim, which lies at four
// places between two grid lines in turn, and pulled, sheared and pushed at its
// other end. Where the rim seems to lie follows from the stiffness on a fine grid
// whose lines the rim lies on, extrapolated at order one, that of a hold which
// ends in the middle of a flat face.
func TestTheRimOfAHoldLiesWhereItIs(t *testing.T) {
	t.Parallel()
	const long, wide, high = 24.0, 4.0, 8.0
	s := modelSurface(mesh.Cuboid(r3.Vec{}, r3.Vec{X: long, Y: wide, Z: high}))
	end := [2][3]float64{{long - 4, 0, 0}, {long, wide, high}}
	at := func(rim, h, flat float64) [4]float64 {
		a, b, c, d := [3]float64{}, [3]float64{rim}, [3]float64{rim, wide}, [3]float64{0, wide}
		strip := &region.Region{Faces: [][3][3]float64{{a, c, b}, {a, d, c}}, Name: "strip"}
		return stiffnessOn(t, s, gridIn(s, [3]int{int(long / h), 2, int(high / h / flat)}), strip, end)
	}
	limit := func(rim float64) (k [3]float64) {
		p, q := at(rim, 0.5, 1), at(rim, 0.25, 1)
		for d := range 3 {
			k[d] = 2*q[d] - p[d]
		}
		return
	}
	from, to := limit(8), limit(10)
	for _, flat := range []float64{0.5, 1, 2} {
		var mean [3]float64
		for i := range 4 {
			k := at(8+float64(i)/4, 1, flat)
			for d := range 3 {
				mean[d] += ((k[d]-from[d])/(to[d]-from[d])*2 - float64(i)/4) / 4
			}
		}
		for d, shift := range mean {
			if math.Abs(shift) > 0.16 {
				t.Errorf("cells %g times as high as long, force along axis %d: the rim lies %.2f cells from where it is", flat, d, shift)
			}
		}
		t.Logf("cells %g times as high as long: %+.2f cells", flat, mean)
	}
}

// A disc held at its bore and turned by a moment about its axis, spread as f = c r:
// balance gives the shear c (b^4 - r^4)/(4 r^2) and the turn of a ring at r, and
// with them the work of the moment, in closed form.
func TestAHeldBoreIsAsWideAsItIs(t *testing.T) {
	const bore, rim, thick = 3.0, 10.0, 3.0
	m := extruded(t, round(0, 0, rim, 192), mesh.Z, 0, thick, reversed(round(0, 0, bore, 96)))
	s := modelSurface(m)
	wall := &region.Region{Name: "bore"}
	for _, f := range s.Faces {
		tri := [3][3]float64{s.Points[f[0]], s.Points[f[1]], s.Points[f[2]]}
		if math.Hypot(tri[0][0], tri[0][1]) < bore*1.01 && math.Hypot(tri[1][0], tri[1][1]) < bore*1.01 && math.Hypot(tri[2][0], tri[2][1]) < bore*1.01 {
			wall.Faces = append(wall.Faces, tri)
		}
	}
	all := [2][3]float64{{-99, -99, -99}, {99, 99, 99}}
	exact := func(a float64) float64 {
		shear := 1 / (2 * 1.33)
		turn := func(r float64) float64 { // of the ring at r, for c = 1
			return (rim*rim*rim*rim*(1/(a*a)-1/(r*r))/2 - (r*r-a*a)/2) / (4 * shear)
		}
		moment, work := 0.0, 0.0
		const n = 4000
		for i := range n {
			r := a + (rim-a)*(float64(i)+0.5)/n
			dm := 2 * math.Pi * thick * r * r * r * (rim - a) / n
			moment += dm
			work += dm * turn(r)
		}
		return moment * moment / work
	}
	steeper := math.Log(exact(bore*1.05)/exact(bore)) / (0.05 * bore) // of the stiffness, by radius
	for _, cells := range []int{10, 17, 27} {
		k := stiffnessOn(t, s, gridIn(s, [3]int{cells, cells, max(1, cells/8)}), wall, all)
		h := 2 * rim / float64(cells)
		shift := math.Log(k[3]/exact(bore)) / steeper / h
		t.Logf("%.1f cells a radius: the wall lies %+.3f cells further out", bore/h, shift)
		if math.Abs(shift) > 0.05 {
			t.Errorf("%.1f cells a radius: the wall lies %+.3f cells further out than it does", bore/h, shift)
		}
	}
}
