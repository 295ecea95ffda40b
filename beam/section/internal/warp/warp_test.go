package warp

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"swapworth/internal/triangulation"
)

// The shape functions add up to one and are one at their own node only.
func TestShapeFunctionsInterpolate(t *testing.T) {
	third := 1. / 3
	at := [nodes][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1},
		{0, 2 * third, third}, {0, third, 2 * third}, {third, 0, 2 * third}, {2 * third, 0, third},
		{2 * third, third, 0}, {third, 2 * third, 0}, {third, third, third}}
	for i, l := range at {
		n, _ := shapes(l)
		for j, v := range n {
			want := 0.0
			if i == j {
				want = 1
			}
			if math.Abs(v-want) > 1e-14 {
				t.Errorf("shape %d at node %d is %g, want %g", j, i, v, want)
			}
		}
	}
}

func TestDerivativesAreThoseOfTheShapeFunctions(t *testing.T) {
	const h = 1e-6
	l := [3]float64{0.2, 0.5, 0.3}
	_, d := shapes(l)
	for k := range 3 {
		hi, lo := l, l
		hi[k] += h
		lo[k] -= h
		a, _ := shapes(hi)
		b, _ := shapes(lo)
		for i := range nodes {
			if got, want := d[i][k], (a[i]-b[i])/(2*h); math.Abs(got-want) > 1e-8 {
				t.Errorf("derivative %d of shape %d is %g, want %g", k, i, got, want)
			}
		}
	}
}

// integral of l1^i l2^j l3^k over a triangle of area one = 2 i! j! k!/(i+j+k+2)!
func TestQuadratureIsExactToItsDegree(t *testing.T) {
	factorial := func(n int) float64 { return math.Gamma(float64(n) + 1) }
	for degree, q := range map[int]*quadrature{4: degree4, 6: degree6} {
		for i := 0; i <= degree; i++ {
			for j := 0; i+j <= degree; j++ {
				k := degree - i - j
				var got float64
				for p, l := range q.at {
					got += q.weight[p] * math.Pow(l[0], float64(i)) * math.Pow(l[1], float64(j)) * math.Pow(l[2], float64(k))
				}
				want := 2 * factorial(i) * factorial(j) * factorial(k) / factorial(degree+2)
				if math.Abs(got-want) > 1e-13 {
					t.Errorf("degree %d, powers %d %d %d: %g, want %g", degree, i, j, k, got, want)
				}
			}
		}
	}
}

func TestTheBoundsCloseInAsTheToleranceShrinks(t *testing.T) {
	angle := []r2.Vec{{X: 0, Y: 0}, {X: 40, Y: 0}, {X: 40, Y: 8}, {X: 8, Y: 8}, {X: 8, Y: 40}, {X: 0, Y: 40}}
	var last Piece
	for i, tol := range []float64{1e-2, 1e-3, 1e-4, 1e-5} {
		p, err := Solve([][]r2.Vec{angle}, Options{Tolerance: tol, Points: 1e6})
		if err != nil {
			t.Fatal(err)
		}
		now := p[0]
		if (now.JHigh-now.JLow)/now.JHigh > tol || now.JHigh < now.JLow || now.Error > tol {
			t.Errorf("tolerance %g: J from %g to %g", tol, now.JLow, now.JHigh)
		}
		if i > 0 && (now.JLow < last.JLow || now.JHigh > last.JHigh) {
			t.Errorf("tolerance %g: bounds %g to %g reach beyond %g to %g", tol, now.JLow, now.JHigh, last.JLow, last.JHigh)
		}
		a, _ := now.ShearArea(0.3)
		b, _ := last.ShearArea(0.3)
		if change := math.Abs(a[0]/b[0] - 1); i > 0 && change > 2*last.Error {
			t.Errorf("tolerance %g: the shear area changed by %g, above the estimate %g", tol, change, last.Error)
		}
		last = now
	}
}

// Without Poisson's effect the force through the shear centre and the torque
// about it do no work on each other's strains: what is left of the warping
// function about that point has no moment (Trefftz, ZAMM 15, 1935).
func TestWithoutPoissonsEffectTheShearCentreIsTrefftzs(t *testing.T) {
	z := []r2.Vec{{X: 0, Y: 0}, {X: 30, Y: 0}, {X: 30, Y: 4}, {X: 4, Y: 4}, {X: 4, Y: 40}, {X: -12, Y: 40}, {X: -12, Y: 37}, {X: 0, Y: 37}}
	p, err := Solve([][]r2.Vec{z}, Options{Tolerance: 1e-6, Points: 1e6})
	if err != nil {
		t.Fatal(err)
	}
	// solve again about that point: its own first moments of phi vanish
	c := p[0].ShearCentre(0)
	l := levelFor(t, z)
	f, err := l.neumann()
	if err != nil {
		t.Fatal(err)
	}
	dx, dy := (c.X-l.center.X)/l.unit, (c.Y-l.center.Y)/l.unit
	var mx, my, size float64
	for i := range l.shapes {
		s, phi := &l.shapes[i], l.values(f.phi, i)
		for q, at := range degree4.at {
			x, y := s.point(at)
			var v float64
			for a, n := range degree4.n[q] {
				v += n * phi[a]
			}
			v += dx*y - dy*x // the warping function about another pole
			w := degree4.weight[q] * s.area
			mx, my, size = mx+w*x*v, my+w*y*v, size+w*v*v
		}
	}
	if bound := 1e-3 * math.Sqrt(size); math.Abs(mx) > bound || math.Abs(my) > bound {
		t.Errorf("first moments %g and %g of a warping of size %g", mx, my, math.Sqrt(size))
	}
}

// tangle draws loops from random numbers: crossing, touching, doubled.
func tangle(rng *rand.Rand) [][]r2.Vec {
	var loops [][]r2.Vec
	grid := math.Exp2(float64(rng.IntN(8)))
	for range 1 + rng.IntN(5) {
		loop := make([]r2.Vec, 3+rng.IntN(12))
		for i := range loop {
			loop[i] = r2.Vec{X: math.Round(rng.Float64()*grid*4) / grid, Y: math.Round(rng.Float64()*grid*3) / grid}
		}
		loops = append(loops, loop)
	}
	return loops
}

func TestAnyTangleIsSolvedOrRefused(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 26))
	solved := 0
	for range 150 {
		pieces, err := Solve(tangle(rng), Options{Tolerance: 0.02, Points: 3000})
		if err != nil {
			continue
		}
		solved++
		for _, p := range pieces {
			a, _ := p.ShearArea(0)
			if !(p.JLow > 0 && p.JLow <= p.JHigh*(1+1e-9) && a[0] > 0 && a[1] > 0 && a[0] < p.Area*1.001) {
				t.Errorf("J %g to %g, shear areas %v of %g", p.JLow, p.JHigh, a, p.Area)
			}
		}
	}
	if solved < 100 {
		t.Errorf("only %d of 150 tangles were solved", solved)
	}
}

func FuzzSolve(f *testing.F) {
	f.Add(uint64(1), uint64(2))
	f.Fuzz(func(t *testing.T, a, b uint64) {
		pieces, err := Solve(tangle(rand.New(rand.NewPCG(a, b))), Options{Tolerance: 0.05, Points: 2000})
		if err != nil {
			return
		}
		for _, p := range pieces {
			if !(p.JLow > 0 && p.JLow <= p.JHigh*(1+1e-9)) {
				t.Errorf("J %g to %g", p.JLow, p.JHigh)
			}
		}
	})
}

func levelFor(t *testing.T, loop []r2.Vec) *level {
	t.Helper()
	all, err := triangulation.Domains([][]r2.Vec{loop})
	if err != nil {
		t.Fatal(err)
	}
	wish := firstWish(all[0])
	for i := range wish {
		wish[i] = 1
	}
	all[0].Refine(wish, 1e6)
	return newLevel(all[0])
}
