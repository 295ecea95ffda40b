package beam

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// The beam is a straight reference line along s with displacements a (along the
// beam), w_u, w_v and rotations t_u, t_v. A fibre at (u, v) from the line has
// the strain
//
//	e(u, v) = a' - u t_u' - v t_v'
//
// and the section forces that do work on a', t_u', t_v' are
//
//	N = integral s dA    M_u = -integral s u dA    M_v = -integral s v dA.
//
// Shear strains are w' - t, with the forces V_u, V_v. Equilibrium reads
// M' = -V. Sections need not be symmetric nor their centroids in line: the
// product of area couples the two planes and an offset couples bending with
// extension.

// rigidity is what a section contributes: moments of area about the reference
// line and areas effective in shear. Times E or G they are stiffnesses.
type rigidity struct {
	A, Su, Sv     float64 // mm2, mm3: integrals of 1, u, v
	Iuu, Iuv, Ivv float64 // mm4: integrals of u^2, uv, v^2
	ShearU        float64 // mm2, for forces along u; zero or less means rigid in shear
	ShearV        float64 // mm2, for forces along v
}

// station is a place along the beam where an integrand is evaluated.
type station struct {
	S       float64    // mm along the beam
	Weight  float64    // mm, the length it stands for
	Flex    rigidity   // as it bends
	Area    float64    // mm2, of material, for mass
	Inertia [2]float64 // mm4, second moments for rotary inertia in the u and in the v plane
}

// Node freedoms in order.
const (
	dofA = iota
	dofU
	dofTU
	dofV
	dofTV
	dofs
)

type (
	mat5   [5][5]float64
	mat510 [5][10]float64
)

// strainFlex returns the inverse of E [[A,-Su,-Sv],[-Su,Iuu,Iuv],[-Sv,Iuv,Ivv]]:
// the strains a', t_u', t_v' for unit N, M_u, M_v.
func (r rigidity) strainFlex(e float64) ([3][3]float64, error) {
	c := [3][3]float64{{r.A, -r.Su, -r.Sv}, {-r.Su, r.Iuu, r.Iuv}, {-r.Sv, r.Iuv, r.Ivv}}
	var f [3][3]float64
	det := 0.0
	for i := range 3 {
		for j := range 3 {
			a, b := (j+1)%3, (j+2)%3
			p, q := (i+1)%3, (i+2)%3
			f[i][j] = c[a][p]*c[b][q] - c[a][q]*c[b][p]
		}
	}
	for j := range 3 {
		det += c[0][j] * f[j][0]
	}
	if !(det > 0) {
		return f, errors.New("a section has no bending stiffness")
	}
	for i := range 3 {
		for j := range 3 {
			f[i][j] /= det * e
		}
	}
	return f, nil
}

// sectionForces are N, M_u, M_v, V_u, V_v.
type sectionForces struct{ N, MU, MV, VU, VV float64 }

// fromEnd returns the section forces at the distance x before the end of an
// element on which the forces q = (N, V_u, M_u, V_v, M_v) act and a load per
// length p = (p_u, p_v) lies in between.
func fromEnd(q [5]float64, x float64, p [2]float64) sectionForces {
	return sectionForces{
		N:  q[0],
		MU: q[2] + q[1]*x + p[0]*x*x/2,
		MV: q[4] + q[3]*x + p[1]*x*x/2,
		VU: q[1] + p[0]*x,
		VV: q[3] + p[1]*x,
	}
}

// element is a piece of the beam between two nodes with the stations inside it.
type element struct {
	from, to float64
	stations []station
	flex     [][3][3]float64 // strain flexibility at each station
	young    float64
	shear    float64
	inverse  mat5 // of the flexibility of the end forces
}

// newElement integrates the flexibility of the forces at its far end,
//
//	F = sum weight b^T f b,
//
// which is exact for any variation of the section between the nodes as far as
// the stations integrate it.
func newElement(from, to float64, st []station, young, shear float64) (*element, error) {
	e := &element{from: from, to: to, stations: st, young: young, shear: shear}
	var f mat5
	for _, s := range st {
		flex, err := s.Flex.strainFlex(young)
		if err != nil {
			return nil, err
		}
		e.flex = append(e.flex, flex)
		x := to - s.S
		// rows: what N, M_u, M_v are for each unit end force
		b := [3][5]float64{{1, 0, 0, 0, 0}, {0, x, 1, 0, 0}, {0, 0, 0, x, 1}}
		for i := range 5 {
			for j := range 5 {
				for p := range 3 {
					for q := range 3 {
						f[i][j] += s.Weight * b[p][i] * flex[p][q] * b[q][j]
					}
				}
			}
		}
		f[1][1] += s.Weight * s.shearFlexU(shear)
		f[3][3] += s.Weight * s.shearFlexV(shear)
	}
	var ok bool
	if e.inverse, ok = invert5(f); !ok {
		return nil, errors.New("a piece of the beam has no stiffness")
	}
	return e, nil
}

func (s station) shearFlexU(g float64) float64 { return shearFlex(s.Flex.ShearU, g) }
func (s station) shearFlexV(g float64) float64 { return shearFlex(s.Flex.ShearV, g) }

func shearFlex(area, g float64) float64 {
	if area <= 0 || g <= 0 {
		return 0
	}
	return 1 / (g * area)
}

func invert5(f mat5) (mat5, bool) {
	// Rotations and displacements differ by a length; scaling the diagonal to
	// one keeps the inverse accurate.
	var scale [5]float64
	sym := mat.NewSymDense(5, nil)
	for i := range 5 {
		if !(f[i][i] > 0) {
			return f, false
		}
		scale[i] = f[i][i]
	}
	for i := range 5 {
		for j := i; j < 5; j++ {
			sym.SetSym(i, j, f[i][j]/math.Sqrt(scale[i]*scale[j]))
		}
	}
	var chol mat.Cholesky
	var inv mat.SymDense
	if !chol.Factorize(sym) || chol.InverseTo(&inv) != nil {
		return f, false
	}
	var out mat5
	for i := range 5 {
		for j := range 5 {
			out[i][j] = inv.At(i, j) / math.Sqrt(scale[i]*scale[j])
		}
	}
	return out, true
}

// motion returns the matrix that turns the freedoms of both nodes into what the
// far end does beyond the rigid motion of the near one.
func (e *element) motion() mat510 {
	h := e.to - e.from
	var g mat510
	for row, dof := range []int{dofA, dofU, dofTU, dofV, dofTV} {
		g[row][dof] = -1
		g[row][5+dof] = 1
	}
	g[1][dofTU] = -h
	g[3][dofTV] = -h
	return g
}

// stiffness returns G^T F^-1 G in the freedoms of both nodes.
func (e *element) stiffness() [10][10]float64 {
	g := e.motion()
	var kg mat510
	for i := range 5 {
		for j := range 10 {
			for k := range 5 {
				kg[i][j] += e.inverse[i][k] * g[k][j]
			}
		}
	}
	var out [10][10]float64
	for i := range 10 {
		for j := range 10 {
			for k := range 5 {
				out[i][j] += g[k][i] * kg[k][j]
			}
		}
	}
	return out
}

// loadedEnd returns what the far end does under a load per length p = (p_u,
// p_v) while the near end is held.
func (e *element) loadedEnd(p [2]float64) [5]float64 {
	var d [5]float64
	for i, s := range e.stations {
		x := e.to - s.S
		f := fromEnd([5]float64{}, x, p)
		n := [3]float64{f.N, f.MU, f.MV}
		var strain [3]float64
		for r := range 3 {
			for c := range 3 {
				strain[r] += e.flex[i][r][c] * n[c]
			}
		}
		d[0] += s.Weight * strain[0]
		d[1] += s.Weight * (x*strain[1] + s.shearFlexU(e.shear)*f.VU)
		d[2] += s.Weight * strain[1]
		d[3] += s.Weight * (x*strain[2] + s.shearFlexV(e.shear)*f.VV)
		d[4] += s.Weight * strain[2]
	}
	return d
}

// nodalLoad returns the forces on both nodes that do the same as a load per
// length p between them.
func (e *element) nodalLoad(p [2]float64) [10]float64 {
	var f [10]float64
	d, g := e.loadedEnd(p), e.motion()
	for i := range 5 {
		var q float64
		for j := range 5 {
			q += e.inverse[i][j] * d[j]
		}
		for j := range 10 {
			f[j] += g[i][j] * q
		}
	}
	h := e.to - e.from
	f[dofU] += p[0] * h
	f[dofTU] += p[0] * h * h / 2
	f[dofV] += p[1] * h
	f[dofTV] += p[1] * h * h / 2
	return f
}

// endForces returns the forces on the far end for given node freedoms and a
// load per length p.
func (e *element) endForces(x [10]float64, p [2]float64) [5]float64 {
	d, g := e.loadedEnd(p), e.motion()
	var q [5]float64
	for i := range 5 {
		for j := range 5 {
			move := -d[j]
			for k := range 10 {
				move += g[j][k] * x[k]
			}
			q[i] += e.inverse[i][j] * move
		}
	}
	return q
}

// scaled changes the second moment i about the section's own centroid that
// resists bending in a plane.
func (s station) scaled(plane int, i, by float64) station {
	if plane == 0 {
		s.Flex.Iuu += (by - 1) * i
	} else {
		s.Flex.Ivv += (by - 1) * i
	}
	return s
}
