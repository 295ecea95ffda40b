package brick

import (
	"math"
	"testing"

	"swapworth/internal/readingorder"
)

func TestReadsFromTheTopDown(t *testing.T) { readingorder.Hold(t, 0) }

// wedge is a brick of 3 x 2 x 1.5 mm filled up to xi = 0.2, the moments by hand:
// integrals of 1, xi, xi^2 from -1 to 0.2 over 2, times 1, 0, 1/3 across.
func wedge() (edge [3]float64, m Moments) {
	along := [3]float64{1.2 / 2, (0.04 - 1) / 4, (0.008 + 1) / 6}
	across := [3]float64{1, 0, 1.0 / 3}
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				m[9*i+3*j+k] = along[i] * across[j] * across[k]
			}
		}
	}
	return [3]float64{3, 2, 1.5}, m
}

// moved are the displacements of the corners under a displacement whose gradient is g.
func moved(edge [3]float64, g [3][3]float64) (u [DOF]float64) {
	for c := range Corners {
		for i := range 3 {
			for a := range 3 {
				u[3*c+i] += g[i][a] * Sign(c, a) * edge[a] / 2
			}
		}
	}
	return u
}

func TestARigidMotionTakesNoForce(t *testing.T) {
	edge, m := wedge()
	b, k := new(Brick), new(Element)
	b.Assemble(edge, &m, LameOf(70000, 0.33))
	b.Stiffness(k)
	for name, u := range map[string][DOF]float64{
		"slide": func() (u [DOF]float64) {
			for c := range Corners {
				u[3*c+1] = 1
			}
			return
		}(),
		"turn": moved(edge, [3][3]float64{{0, -1, 2}, {1, 0, -3}, {-2, 3, 0}}),
	} {
		for row := range DOF {
			force := 0.0
			for col, v := range u {
				force += k[row*DOF+col] * v
			}
			if math.Abs(force) > 1e-9*k[0] {
				t.Errorf("%s: force %g N in row %d beside a stiffness of %g", name, force, row, k[0])
			}
		}
	}
}

// Under a uniform strain the energy is that of the strain in the material alone, 0.6 of
// 9 mm3, and the stress is Hooke's: a strain of 1 along x makes lambda + 2 mu along x
// and lambda across.
func TestAUniformStrainIsThatOfTheMaterialInTheCell(t *testing.T) {
	edge, m := wedge()
	e := LameOf(70000, 0.33)
	lambda, mu := 70000*0.33/(1.33*0.34), 70000/2.66
	b, k := new(Brick), new(Element)
	b.Assemble(edge, &m, e)
	b.Stiffness(k)
	u := moved(edge, [3][3]float64{{1, 0, 0}, {0, 0, 0}, {0, 0, 0}})
	energy := 0.0
	for i := range DOF {
		for j := range DOF {
			energy += u[i] * k[i*DOF+j] * u[j] / 2
		}
	}
	if want := 5.4 * (lambda + 2*mu) / 2; math.Abs(energy/want-1) > 1e-8 {
		t.Errorf("energy %g, expected %g", energy, want)
	}
	var w [Freedoms]float64
	copy(w[:], u[:])
	b.Amplitudes(&w)
	for _, p := range m.Points() {
		grad := b.Gradient(edge, p)
		s := e.Stress(&grad, &w)
		for i, want := range [6]float64{lambda + 2*mu, lambda, lambda, 0, 0, 0} {
			if math.Abs(float64(s[i])-want) > 1e-6*lambda {
				t.Errorf("stress %v at %v, component %d expected %g", s, p, i, want)
			}
		}
	}
}

func TestThePointsOfAFullCellAreGaussPoints(t *testing.T) {
	for v, p := range Full.Points() {
		for a := range 3 {
			if want := Sign(v, a) / math.Sqrt(3); math.Abs(p[a]-want) > 1e-15 {
				t.Errorf("point %d at %v", v, p)
			}
		}
	}
}
