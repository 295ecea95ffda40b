package solid

import "math"

// The element is the eight-node brick with the nine incompatible bending modes
// of Wilson, Taylor, Doherty and Ghaboussi (1973) in the consistent form of
// Taylor, Beresford and Wilson (1976): the gradient of a mode is taken less its
// mean over the material in the cell, so that the modes do no work on a uniform
// stress and the patch test holds in cells that the surface cuts as well. The
// modes are condensed out.
//
// Every integrand of the element stiffness is a polynomial of degree two at
// most in each of the cell coordinates xi, eta, zeta in [-1, 1]. The 27 moments
//
//	M[9i+3j+k] = (1/8) integral over the material of xi^i eta^j zeta^k, i,j,k <= 2
//
// therefore hold all that a cell needs to know of the surface in it.

const (
	shapes = 8 // corner shape functions
	modes  = 3 // 1-xi^2, 1-eta^2, 1-zeta^2, each in three directions
	funcs  = shapes + modes
	ndof   = 3 * shapes // 24
	nmode  = 3 * modes  // 9
)

// moments of the material in a cell, as above; [0] is the filled fraction.
type moments [27]float64

// fullMoments are those of a cell filled to the brim.
var fullMoments = func() (m moments) {
	one := [3]float64{1, 0, 1.0 / 3}
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				m[9*i+3*j+k] = one[i] * one[j] * one[k]
			}
		}
	}
	return
}()

// cornerSign returns the cell coordinate, -1 or 1, of corner c along an axis: bit 2
// of c is for axis 0, bit 1 for axis 1, bit 0 for axis 2.
func cornerSign(c, axis int) float64 {
	if c>>(2-axis)&1 == 1 {
		return 1
	}
	return -1
}

// refGradient holds d(function)/d(xi, eta, zeta) at the 27 points with
// coordinates -1, 0, 1.
var refGradient = func() (g [27][funcs][3]float64) {
	for q := range 27 {
		g[q] = gradientAt([3]float64{float64(q/9) - 1, float64(q/3%3) - 1, float64(q%3) - 1})
	}
	return
}()

// shapeAt returns the eight corner functions at cell coordinates p.
func shapeAt(p [3]float64) (n [shapes]float64) {
	for c := range shapes {
		n[c] = (1 + cornerSign(c, 0)*p[0]) * (1 + cornerSign(c, 1)*p[1]) * (1 + cornerSign(c, 2)*p[2]) / 8
	}
	return
}

// gradientAt returns the gradients of all functions by cell coordinates at p.
func gradientAt(p [3]float64) (g [funcs][3]float64) {
	for c := range shapes {
		var f, s [3]float64
		for a := range 3 {
			s[a] = cornerSign(c, a)
			f[a] = 1 + s[a]*p[a]
		}
		g[c] = [3]float64{s[0] * f[1] * f[2] / 8, f[0] * s[1] * f[2] / 8, f[0] * f[1] * s[2] / 8}
	}
	for a := range modes {
		g[shapes+a][a] = -2 * p[a]
	}
	return
}

// weights returns the quadrature weights at the points -1, 0, 1 that reproduce
// the moments: the integrals of the Lagrange polynomials through these points.
func (m *moments) weights() (w [27]float64) {
	// coefficients of L_-1, L_0, L_1 in 1, t, t^2
	lag := [3][3]float64{{0, -0.5, 0.5}, {1, 0, -1}, {0, 0.5, 0.5}}
	var t [27]float64
	for pass := range 3 { // one axis at a time
		src := w
		if pass == 0 {
			src = *m
		}
		stride := [3]int{9, 3, 1}[pass]
		for base := range 27 {
			if base/stride%3 != 0 {
				continue
			}
			for q := range 3 {
				t[base+q*stride] = lag[q][0]*src[base] + lag[q][1]*src[base+stride] + lag[q][2]*src[base+2*stride]
			}
		}
		w = t
	}
	return
}

// lame are Lamé's constants in MPa.
type lame struct{ lambda, mu float64 }

// lameOf returns Lamé's constants from Young's modulus (MPa) and Poisson's ratio.
func lameOf(young, poisson float64) lame {
	return lame{young * poisson / ((1 + poisson) * (1 - 2*poisson)), young / (2 * (1 + poisson))}
}

// element is the condensed stiffness of one kind of cell, N/mm, row-major, with
// the direction running fastest in rows and columns.
type element [ndof * ndof]float64

// ghost is the share of the stiffness that the empty part of a cut cell keeps,
// so that a corner hanging in the air by a sliver of material stays well posed.
const ghost = 1e-9

// brick holds the matrices of a cell before and after its modes are condensed:
// 11 functions in three directions each, corners first.
type brick struct {
	k      [33][33]float64
	kuaInv [nmode][ndof]float64 // mode amplitudes = -kuaInv u
	mean   [modes][3]float64    // mean gradient of each mode over the material, 1/mm
}

// assemble integrates the stiffness of a cell of the given edges (mm) with
// material as in m, in a material with constants e, and condenses the modes.
func (b *brick) assemble(edge [3]float64, m *moments, e lame) {
	mixed := *m
	for i := range mixed {
		mixed[i] += ghost * (fullMoments[i] - m[i])
	}
	w := mixed.weights()
	volume := edge[0] * edge[1] * edge[2]
	scale := [3]float64{2 / edge[0], 2 / edge[1], 2 / edge[2]}
	for a := range modes {
		// the mean gradient of 1-xi^2 is -2 xi averaged: from the first moments
		first := mixed[[3]int{9, 3, 1}[a]]
		b.mean[a] = [3]float64{}
		b.mean[a][a] = -2 * first / mixed[0] * scale[a]
	}
	var h [33][33]float64 // integrals of products of gradient components
	var g [33]float64
	for q := range 27 {
		for f := range funcs {
			for a := range 3 {
				g[3*f+a] = refGradient[q][f][a] * scale[a]
			}
		}
		for f := range modes {
			g[3*(shapes+f)+f] -= b.mean[f][f]
		}
		for i := range 33 {
			s := w[q] * volume * g[i]
			if s == 0 {
				continue
			}
			row := &h[i]
			for j := i; j < 33; j++ {
				row[j] += s * g[j]
			}
		}
	}
	for i := range 33 {
		for j := range i {
			h[i][j] = h[j][i]
		}
	}
	// K_ai,bj = lambda H_ai,bj + mu H_aj,bi + mu delta_ij sum_k H_ak,bk
	for p := range funcs {
		for q := range funcs {
			trace := e.mu * (h[3*p][3*q] + h[3*p+1][3*q+1] + h[3*p+2][3*q+2])
			for i := range 3 {
				for j := range 3 {
					v := e.lambda*h[3*p+i][3*q+j] + e.mu*h[3*p+j][3*q+i]
					if i == j {
						v += trace
					}
					b.k[3*p+i][3*q+j] = v
				}
			}
		}
	}
	b.condense()
}

// condense finds kuaInv = Kaa^-1 Kau by Cholesky. A mode that the material in
// the cell does not resolve gets no amplitude.
func (b *brick) condense() {
	var l [nmode][nmode]float64
	for i := range nmode {
		full := b.k[ndof+i][ndof+i]
		for j := range i + 1 {
			v := b.k[ndof+i][ndof+j]
			for k := range j {
				v -= l[i][k] * l[j][k]
			}
			switch {
			case i != j && l[j][j] > 0:
				l[i][j] = v / l[j][j]
			case i == j && v > 1e-10*full:
				l[i][i] = math.Sqrt(v)
			}
		}
	}
	for c := range ndof {
		var y [nmode]float64
		for i := range nmode {
			if l[i][i] == 0 {
				continue
			}
			v := b.k[ndof+i][c]
			for k := range i {
				v -= l[i][k] * y[k]
			}
			y[i] = v / l[i][i]
		}
		for i := nmode - 1; i >= 0; i-- {
			b.kuaInv[i][c] = 0
			if l[i][i] == 0 {
				continue
			}
			v := y[i]
			for k := i + 1; k < nmode; k++ {
				v -= l[k][i] * b.kuaInv[k][c]
			}
			b.kuaInv[i][c] = v / l[i][i]
		}
	}
}

// stiffness writes the condensed matrix Kuu - Kua Kaa^-1 Kau.
func (b *brick) stiffness(out *element) {
	for i := range ndof {
		for j := i; j < ndof; j++ {
			v := b.k[i][j]
			for a := range nmode {
				v -= b.k[ndof+a][i] * b.kuaInv[a][j]
			}
			out[i*ndof+j] = v
			out[j*ndof+i] = v
		}
	}
}
