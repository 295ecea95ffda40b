package brick

// Lame are Lamé's constants in MPa.
type Lame struct{ lambda, mu float64 }

// LameOf returns Lamé's constants from Young's modulus (MPa) and Poisson's ratio.
func LameOf(young, poisson float64) Lame {
	return Lame{young * poisson / ((1 + poisson) * (1 - 2*poisson)), young / (2 * (1 + poisson))}
}

// Gradient returns the gradients of all functions, 1/mm, at cell coordinates p.
func (b *Brick) Gradient(edge, p [3]float64) [Functions][3]float64 {
	g := gradientAt(p)
	for f := range Functions {
		for a := range 3 {
			g[f][a] *= 2 / edge[a]
		}
	}
	for f := range modes {
		g[Corners+f][f] -= b.mean[f][f]
	}
	return g
}

// Stress applies Hooke's law to the gradients of the functions, 1/mm, and their
// amplitudes w, mm: those of the corners, then those of the bending modes. It returns
// xx, yy, zz, yz, zx, xy, MPa.
func (e Lame) Stress(grad *[Functions][3]float64, w *[Freedoms]float64) [6]float32 {
	var g [3][3]float64
	for f := range Functions {
		for i := range 3 {
			for a := range 3 {
				g[i][a] += grad[f][a] * w[3*f+i]
			}
		}
	}
	trace := e.lambda * (g[0][0] + g[1][1] + g[2][2])
	return [6]float32{
		float32(trace + 2*e.mu*g[0][0]), float32(trace + 2*e.mu*g[1][1]), float32(trace + 2*e.mu*g[2][2]),
		float32(e.mu * (g[1][2] + g[2][1])), float32(e.mu * (g[2][0] + g[0][2])), float32(e.mu * (g[0][1] + g[1][0])),
	}
}

// Amplitudes sets what follows the displacements of the corners in w, mm, to the
// amplitudes of the bending modes that go with them.
func (b *Brick) Amplitudes(w *[Freedoms]float64) {
	for m := range nmode {
		sum := 0.0
		for d := range DOF {
			sum += b.kuaInv[m][d] * w[d]
		}
		w[DOF+m] = -sum
	}
}
