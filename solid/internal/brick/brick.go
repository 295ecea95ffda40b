package brick

import "math"

// Element is the condensed stiffness of one kind of cell, N/mm, row-major, with
// the direction running fastest in rows and columns.
type Element [DOF * DOF]float64

// ghost is the share of the stiffness that the empty part of a cut cell keeps,
// so that a corner hanging in the air by a sliver of material stays well posed.
const ghost = 1e-9

// Brick holds the matrices of a cell before and after its modes are condensed:
// 11 functions in three directions each, corners first.
type Brick struct {
	k      [Freedoms][Freedoms]float64
	kuaInv [nmode][DOF]float64 // mode amplitudes = -kuaInv u
	mean   [modes][3]float64   // mean gradient of each mode over the material, 1/mm
}

// Assemble integrates the stiffness of a cell of the given edges (mm) with
// material as in m, in a material with constants e, and condenses the modes.
func (b *Brick) Assemble(edge [3]float64, m *Moments, e Lame) {
	mixed := *m
	for i := range mixed {
		mixed[i] += ghost * (Full[i] - m[i])
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
	var h [Freedoms][Freedoms]float64 // integrals of products of gradient components
	var g [Freedoms]float64
	for q := range 27 {
		for f := range Functions {
			for a := range 3 {
				g[3*f+a] = refGradient[q][f][a] * scale[a]
			}
		}
		for f := range modes {
			g[3*(Corners+f)+f] -= b.mean[f][f]
		}
		for i := range Freedoms {
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
	for i := range Freedoms {
		for j := range i {
			h[i][j] = h[j][i]
		}
	}
	// K_ai,bj = lambda H_ai,bj + mu H_aj,bi + mu delta_ij sum_k H_ak,bk
	for p := range Functions {
		for q := range Functions {
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
func (b *Brick) condense() {
	var l [nmode][nmode]float64
	for i := range nmode {
		full := b.k[DOF+i][DOF+i]
		for j := range i + 1 {
			v := b.k[DOF+i][DOF+j]
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
	for c := range DOF {
		var y [nmode]float64
		for i := range nmode {
			if l[i][i] == 0 {
				continue
			}
			v := b.k[DOF+i][c]
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

// Stiffness writes the condensed matrix Kuu - Kua Kaa^-1 Kau.
func (b *Brick) Stiffness(out *Element) {
	for i := range DOF {
		for j := i; j < DOF; j++ {
			v := b.k[i][j]
			for a := range nmode {
				v -= b.k[DOF+a][i] * b.kuaInv[a][j]
			}
			out[i*DOF+j] = v
			out[j*DOF+i] = v
		}
	}
}
