package solid

import (
	"context"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
)

// uneven is a grid over [-1, 35] x [-2, 22] x [-1, 12] that no face of the
// block [0, 30] x [0, 20] x [0, 10] follows. Along the first two axes the faces
// lie at eighths of a cell, where eight rays a cell measure exactly.
func uneven() *grid.Grid {
	g := &grid.Grid{}
	g.SetAxis(0, []float64{-1, 7, 19, 35}, []int{2, 3, 4})
	g.SetAxis(1, []float64{-2, 6, 14, 22}, []int{1, 2, 1})
	g.SetAxis(2, []float64{-1, 2.3, 12}, []int{1, 2})
	return g
}

// The patch test: under the tractions of a uniform stress on its whole surface
// a body of any shape is stressed uniformly, and the element must say so
// exactly (Taylor, Simo, Zienkiewicz and Chan, 1986). Here with cut cells.
func TestUniformStressComesOutExactlyInCutCells(t *testing.T) {
	block := mesh.Cuboid(r3.Vec{}, r3.Vec{X: 30, Y: 20, Z: 10})
	f := frameOf(mesh.Box{})
	s := f.surface(block)
	want := [3][3]float64{{12, 3, -2}, {3, -7, 4}, {-2, 4, 5}}
	e := brick.LameOf(70000, 0.33)

	cs := grid.Fill(s, uneven(), 8)
	if math.Abs(cs.Volume-6000) > 1e-6 {
		t.Fatalf("volume %g, want 6000", cs.Volume)
	}
	h := &region.Holding{Nodes: map[[3]int][3]bool{
		{1, 1, 1}: {true, true, true},
		{6, 1, 1}: {false, true, true},
		{1, 3, 1}: {false, false, true},
	}}
	sys, err := newSystem(cs, e, h)
	if err != nil {
		t.Fatal(err)
	}
	load := make([]float64, sys.Length())
	for _, face := range s.Faces {
		tri := [3][3]float64{s.Points[face[0]], s.Points[face[1]], s.Points[face[2]]}
		n, area := grid.NormalOf(tri), grid.AreaOf(tri)
		var force [3]float64
		for i := range 3 {
			for j := range 3 {
				force[i] += want[i][j] * n[j] * area
			}
		}
		r := &region.Region{Faces: [][3][3]float64{tri}}
		e, err := r.Extent(cs, s)
		if err != nil {
			t.Fatal(err)
		}
		region.Spread(r, e, force).Nodal(cs, s, sys.System, load)
	}
	u := make([]float64, len(load))
	if _, err := sys.Solve(context.Background(), load, u, 1e-13); err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for _, got := range sys.stresses([][]float64{u})[0].at {
		for c, v := range []float64{want[0][0], want[1][1], want[2][2], want[1][2], want[2][0], want[0][1]} {
			worst = max(worst, math.Abs(float64(got[c])-v)/12)
		}
	}
	if worst > 3e-7 { // samples are kept in single precision
		t.Errorf("stress off by %.1e of the largest component", worst)
	}
	// the displacement in double precision: strain from stress by Hooke's law
	trace := want[0][0] + want[1][1] + want[2][2]
	base := sys.EntryAt(1, 1, 1)
	origin := [3]float64{cs.Lines[0][1], cs.Lines[1][1], cs.Lines[2][1]}
	var spin [3]float64 // rotation left open by symmetry of strain, fixed by the supports
	strain := func(i, j int) float64 {
		v := 1.33 * want[i][j] / 70000
		if i == j {
			v -= 0.33 * trace / 70000
		}
		return v
	}
	// held: u_y, u_z vanish along x and u_z along y from the origin
	spin[2] = -strain(1, 0)
	spin[1] = strain(2, 0)
	spin[0] = -strain(2, 1)
	worst = 0
	for n := range sys.Nodes() {
		x, p := sys.Place(n), sys.Entry(n)
		var d [3]float64
		for a := range 3 {
			d[a] = x[a] - origin[a]
		}
		turn := [3]float64{spin[1]*d[2] - spin[2]*d[1], spin[2]*d[0] - spin[0]*d[2], spin[0]*d[1] - spin[1]*d[0]}
		for a := range 3 {
			v := u[base+a] + turn[a]
			for b := range 3 {
				v += strain(a, b) * d[b]
			}
			worst = max(worst, math.Abs(u[p+a]-v))
		}
	}
	largest := 30 * 12 / 70000.0
	t.Logf("displacement off by %.1e", worst/largest)
	if worst > 1e-8*largest {
		t.Errorf("displacement off by %.1e of the largest, want 1e-8", worst/largest)
	}
}
