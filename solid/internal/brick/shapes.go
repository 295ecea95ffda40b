package brick

import "math"

const (
	// Corners of a brick, each with a function that is one there and nothing at the others.
	Corners = 8
	// Functions are those of the corners, then the bending modes.
	Functions = Corners + modes
	// DOF are the displacements of the corners.
	DOF = 3 * Corners
	// Freedoms are the displacements of the corners, then the amplitudes of the modes.
	Freedoms = DOF + nmode

	modes = 3         // 1-xi^2, 1-eta^2, 1-zeta^2, each in three directions
	nmode = 3 * modes // 9
)

// Moments of the material in a cell as in the package comment, without unit; [0] is the
// filled fraction.
type Moments [27]float64

// Full are those of a cell filled to the brim.
var Full = func() (m Moments) {
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

// Sign returns the cell coordinate, -1 or 1, of corner c along an axis: bit 2
// of c is for axis 0, bit 1 for axis 1, bit 0 for axis 2.
func Sign(c, axis int) float64 {
	if c>>(2-axis)&1 == 1 {
		return 1
	}
	return -1
}

// refGradient holds d(function)/d(xi, eta, zeta) at the 27 points with
// coordinates -1, 0, 1.
var refGradient = func() (g [27][Functions][3]float64) {
	for q := range 27 {
		g[q] = gradientAt([3]float64{float64(q/9) - 1, float64(q/3%3) - 1, float64(q%3) - 1})
	}
	return
}()

// Shapes returns the eight corner functions at cell coordinates p.
func Shapes(p [3]float64) (n [Corners]float64) {
	for c := range Corners {
		n[c] = (1 + Sign(c, 0)*p[0]) * (1 + Sign(c, 1)*p[1]) * (1 + Sign(c, 2)*p[2]) / 8
	}
	return
}

// gradientAt returns the gradients of all functions by cell coordinates at p.
func gradientAt(p [3]float64) (g [Functions][3]float64) {
	for c := range Corners {
		var f, s [3]float64
		for a := range 3 {
			s[a] = Sign(c, a)
			f[a] = 1 + s[a]*p[a]
		}
		g[c] = [3]float64{s[0] * f[1] * f[2] / 8, f[0] * s[1] * f[2] / 8, f[0] * f[1] * s[2] / 8}
	}
	for a := range modes {
		g[Corners+a][a] = -2 * p[a]
	}
	return
}

// weights returns the quadrature weights at the points -1, 0, 1 that reproduce
// the moments: the integrals of the Lagrange polynomials through these points.
func (m *Moments) weights() (w [27]float64) {
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

// Points returns eight points, cell coordinates, that lie one radius of gyration of the
// material from its centroid in each direction. In a full cell these are the Gauss
// points.
func (m *Moments) Points() (p [Corners][3]float64) {
	for a := range 3 {
		stride := [3]int{9, 3, 1}[a]
		mean := m[stride] / m[0]
		radius := math.Sqrt(max(m[2*stride]/m[0]-mean*mean, 0))
		for v := range Corners {
			p[v][a] = mean + Sign(v, a)*radius
		}
	}
	return
}
