package beam

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/beam/section"
	"swapworth/mesh/cut"
)

// frameOf builds a beam from its sections, rigid in shear; E is 1000 MPa.
func frameOf(t *testing.T, sup Support, length float64, breaks []float64, at func(s float64) cut.Region) *frame {
	t.Helper()
	p, err := newProfile(func(s float64) (cut.Region, error) { return at(s), nil }, length, breaks, breaks, 1)
	if err != nil {
		t.Fatal(err)
	}
	u0, v0 := p.line()
	var st []station
	for c := range p.cuts() {
		st = append(st, c.station(u0, v0))
	}
	for i := range st {
		st[i].Flex.ShearU, st[i].Flex.ShearV = 0, 0
	}
	f, err := newFrame(p.nodes, st, 1000, 1, sup, 0, len(p.nodes)-1)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// rectangle has its centroid at the origin.
func rectangle(width, height float64) cut.Region {
	w, h := width/2, height/2
	return cut.Region{{Outer: []r2.Vec{{X: -w, Y: -h}, {X: w, Y: -h}, {X: w, Y: h}, {X: -w, Y: h}}}}
}

// A cantilever of E I_1 over a length a from the clamp and E I_2 beyond sags
// under a tip force F by F/(3E) ((L^3-b^3)/I_1 + b^3/I_2), b = L - a: unit-load
// theorem.
func TestASteppedCantileverSagsAsTheUnitLoadTheoremSays(t *testing.T) {
	const l, a = 200.0, 80.0
	f := frameOf(t, Cantilever, l, []float64{a}, func(s float64) cut.Region {
		if s < a {
			return rectangle(10, 12)
		}
		return rectangle(10, 6)
	})
	last := len(f.nodes) - 1
	forces := make(nodeForces, last+1)
	forces[last][dofV] = 1
	i1, i2, b := 10*12*12*12/12.0, 10*6*6*6/12.0, l-a
	want := ((l*l*l-b*b*b)/i1 + b*b*b/i2) / (3 * 1000)
	near(t, "tip", f.solve(forces, nil).nodes[last][dofV], want, 1e-6)
}

// A wedge whose depth grows linearly from h at the tip to 2h at the clamp: the
// unit-load integral of x^2/(1+x/L)^3 is L^3 (ln 2 - 5/8).
func TestATaperedCantileverIsIntegratedExactly(t *testing.T) {
	const l, h = 300.0, 5.0
	f := frameOf(t, Cantilever, l, nil, func(s float64) cut.Region {
		return rectangle(8, h*(1+(l-s)/l))
	})
	last := len(f.nodes) - 1
	forces := make(nodeForces, last+1)
	forces[last][dofV] = 1
	want := l * l * l * (math.Ln2 - 5.0/8) / (1000 * 8 * h * h * h / 12)
	near(t, "tip", f.solve(forces, nil).nodes[last][dofV], want, 1e-6)
}

// A Z section under a vertical tip force bends sideways too: with
// D = I_uu I_vv - I_uv^2, v = F L^3 I_uu/(3 E D) and u = -F L^3 I_uv/(3 E D)
// (I_uu = integral of u^2); Timoshenko, Strength of Materials, unsymmetrical
// bending.
func TestAnUnsymmetricalSectionBendsObliquely(t *testing.T) {
	z := cut.Region{{Outer: []r2.Vec{{X: -10, Y: 0}, {X: 2, Y: 0}, {X: 2, Y: 18}, {X: 12, Y: 18},
		{X: 12, Y: 20}, {X: 0, Y: 20}, {X: 0, Y: 2}, {X: -10, Y: 2}}}}
	const l = 400.0
	f := frameOf(t, Cantilever, l, nil, func(float64) cut.Region { return z })
	s, err := section.Of(z)
	if err != nil {
		t.Fatal(err)
	}
	last := len(f.nodes) - 1
	forces := make(nodeForces, last+1)
	forces[last][dofV] = 1
	tip := f.solve(forces, nil).nodes[last]
	d := s.Ixx*s.Iyy - s.Ixy*s.Ixy
	near(t, "along the force", tip[dofV], l*l*l*s.Iyy/(3*1000*d), 1e-8)
	near(t, "across the force", tip[dofU], -l*l*l*s.Ixy/(3*1000*d), 1e-8)
	if abs(tip[dofU]) < 0.3*tip[dofV] {
		t.Errorf("the section hardly bends sideways: %v", tip)
	}
}

// The frequencies of a stepped cantilever from the exact solution of each piece,
// w = A cos bx + B sin bx + C cosh bx + D sinh bx: the determinant of the
// boundary and joint conditions vanishes.
func TestASteppedCantileverRingsAtItsExactFrequencies(t *testing.T) {
	const l, a, e, density = 200.0, 80.0, 1000.0, 1e-9
	heights := [2]float64{12, 6}
	f := frameOf(t, Cantilever, l, []float64{a}, func(s float64) cut.Region {
		if s < a {
			return rectangle(10, heights[0])
		}
		return rectangle(10, heights[1])
	})
	for _, el := range f.elements { // the exact solution has no rotary inertia
		for i := range el.stations {
			el.stations[i].Inertia = [2]float64{}
		}
	}
	modes, err := f.modes(density, nil, 6)
	if err != nil {
		t.Fatal(err)
	}
	var got []float64
	for _, m := range modes {
		if m.ShareU < 0.5 {
			got = append(got, m.FrequencyHz)
		}
	}
	determinant := func(omega float64) float64 { return steppedDeterminant(omega, a, l, e, density, 10, heights) }
	var want []float64
	step := got[0] / 50
	for w := step; len(want) < 2; w += step {
		if (determinant(2*math.Pi*w) > 0) != (determinant(2*math.Pi*(w+step)) > 0) {
			want = append(want, bisect(w, w+step, func(x float64) float64 { return determinant(2 * math.Pi * x) }))
		}
	}
	near(t, "first", got[0], want[0], 1e-4)
	near(t, "second", got[1], want[1], 1e-3)
}

func steppedDeterminant(omega, a, l, e, density, width float64, heights [2]float64) float64 {
	var b, ei [2]float64
	for i, h := range heights {
		ei[i] = e * width * h * h * h / 12
		b[i] = math.Pow(omega*omega*density*width*h/ei[i], 0.25)
	}
	// rows of w, w', EI w'', EI w''' at x in piece i
	row := func(i int, x float64, order int) [4]float64 {
		k := b[i]
		c, s, ch, sh := math.Cos(k*x), math.Sin(k*x), math.Cosh(k*x), math.Sinh(k*x)
		switch order {
		case 0:
			return [4]float64{c, s, ch, sh}
		case 1:
			return [4]float64{-k * s, k * c, k * sh, k * ch}
		case 2:
			return [4]float64{-ei[i] * k * k * c, -ei[i] * k * k * s, ei[i] * k * k * ch, ei[i] * k * k * sh}
		}
		k3 := ei[i] * k * k * k
		return [4]float64{k3 * s, -k3 * c, k3 * sh, k3 * ch}
	}
	m := mat.NewDense(8, 8, nil)
	put := func(r, i int, values [4]float64, sign float64) {
		for k, v := range values {
			m.Set(r, 4*i+k, sign*v)
		}
	}
	put(0, 0, row(0, 0, 0), 1)
	put(1, 0, row(0, 0, 1), 1)
	for order := range 4 {
		put(2+order, 0, row(0, a, order), 1)
		put(2+order, 1, row(1, 0, order), -1)
	}
	put(6, 1, row(1, l-a, 2), 1)
	put(7, 1, row(1, l-a, 3), 1)
	for r := range 8 { // one size for every row
		v := m.RawRowView(r)
		most := 0.0
		for _, x := range v {
			most = max(most, abs(x))
		}
		for k := range v {
			v[k] /= most
		}
	}
	return mat.Det(m)
}
