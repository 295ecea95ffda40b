package warp

// measures are the integrals that the results are made of, in the level's own
// units, and what each triangle adds to the error.
type measures struct {
	high, low float64       // bounds of the torsion constant
	gap       []float64     // a triangle's share of high - low
	energy    [2][2]float64 // integral grad w_k . grad w_l
	cross     [2][2]float64 // integral q_k . grad w_l
	twist     [2]float64    // integral q_k . (grad phi + (-y, x))
	force     [2]float64    // integral x_k phi
	sum       float64       // integral phi
	square    float64       // integral phi^2
	jump      [2][]float64  // a triangle's share of the error in energy[k][k]
}

// poisson is the field q of flexure, for the normal stress gradient x (k = 0) or
// y (k = 1): what Poisson's effect adds to the shear strain.
//
//	q_x = ((x^2 - y^2)/2, x y)    q_y = (x y, (y^2 - x^2)/2)
func poisson(k int, x, y float64) (qx, qy float64) {
	if k == 0 {
		return (x*x - y*y) / 2, x * y
	}
	return x * y, (y*y - x*x) / 2
}

// measure integrates over all triangles. Without a stress function low is zero
// and the gap is left out.
func (l *level) measure(f fields) measures {
	m := measures{gap: make([]float64, len(l.shapes))}
	for t := range l.shapes {
		l.addTriangle(&m, f, t)
	}
	for k := range 2 {
		m.jump[k] = l.recover(f.flex[k])
	}
	return m
}

func (l *level) addTriangle(m *measures, f fields, t int) {
	s := &l.shapes[t]
	phi := l.values(f.phi, t)
	flex := [2][nodes]float64{l.values(f.flex[0], t), l.values(f.flex[1], t)}
	var psi [nodes]float64
	if f.psi != nil {
		psi = l.values(f.psi, t)
	}
	for q, at := range degree4.at {
		w := degree4.weight[q] * s.area
		x, y := s.point(at)
		d := &degree4.d[q]
		tx, ty := s.gradient(d, &phi)
		tx, ty = tx-y, ty+x
		m.high += w * (tx*tx + ty*ty)
		if f.psi != nil {
			px, py := s.gradient(d, &psi)
			m.low += w * (px*px + py*py)
			m.gap[t] += w * ((tx-py)*(tx-py) + (ty+px)*(ty+px))
		}
		var gx, gy [2]float64
		for k := range 2 {
			gx[k], gy[k] = s.gradient(d, &flex[k])
		}
		for k := range 2 {
			qx, qy := poisson(k, x, y)
			m.twist[k] += w * (qx*tx + qy*ty)
			for j := range 2 {
				m.energy[k][j] += w * (gx[k]*gx[j] + gy[k]*gy[j])
				m.cross[k][j] += w * (qx*gx[j] + qy*gy[j])
			}
		}
	}
	for q, at := range degree6.at {
		w := degree6.weight[q] * s.area
		x, y := s.point(at)
		var v float64
		for a, n := range degree6.n[q] {
			v += n * phi[a]
		}
		m.sum += w * v
		m.square += w * v * v
		m.force[0] += w * x * v
		m.force[1] += w * y * v
	}
}

// The six points at which a gradient, quadratic in a triangle, is compared with
// its neighbours': corners and middles of sides.
var sixPoints = func() (d [6][nodes][3]float64) {
	for i := range 3 {
		var corner, middle [3]float64
		corner[i] = 1
		middle[(i+1)%3], middle[(i+2)%3] = 0.5, 0.5
		_, d[i] = shapes(corner)
		_, d[3+i] = shapes(middle)
	}
	return d
}()

// recover estimates each triangle's error in the energy of a field from the
// difference between its gradient and the average of all gradients that meet at
// a point (Zienkiewicz and Zhu, Int. J. Numer. Meth. Eng. 24, 1987). At the
// outline the gradient is known to run along it.
func (l *level) recover(u []float64) []float64 {
	n := len(l.shapes)
	grad := make([][6][2]float64, n)
	sum := make([][3]float64, l.total) // x, y and weight at corners
	for t := range n {
		s, v := &l.shapes[t], l.values(u, t)
		for i := range 6 {
			grad[t][i][0], grad[t][i][1] = s.gradient(&sixPoints[i], &v)
		}
		for i := range 3 {
			c := &sum[l.node[t][i]]
			c[0] += s.area * grad[t][i][0]
			c[1] += s.area * grad[t][i][1]
			c[2] += s.area
		}
	}
	out := make([]float64, n)
	for t := range n {
		var dx, dy [6]float64
		for i := range 3 {
			c := sum[l.node[t][i]]
			dx[i], dy[i] = c[0]/c[2]-grad[t][i][0], c[1]/c[2]-grad[t][i][1]
			dx[3+i], dy[3+i] = l.acrossSide(grad, t, i)
		}
		out[t] = l.shapes[t].area * (massOf(dx) + massOf(dy))
	}
	return out
}

// acrossSide is the average of the gradients at the middle of side i less the
// triangle's own.
func (l *level) acrossSide(grad [][6][2]float64, t, i int) (dx, dy float64) {
	own := grad[t][3+i]
	if b := l.beyond[t][i]; b >= 0 {
		j := 0
		for l.beyond[b][j] != int32(t) {
			j++
		}
		other := grad[b][3+j]
		return (other[0] - own[0]) / 2, (other[1] - own[1]) / 2
	}
	s := &l.shapes[t]
	g2 := s.gx[i]*s.gx[i] + s.gy[i]*s.gy[i] // along the normal
	f := (own[0]*s.gx[i] + own[1]*s.gy[i]) / g2
	return -f * s.gx[i], -f * s.gy[i]
}

// massOf integrates the square of a quadratic with the given values at corners
// and middles of sides, over a triangle of area one.
func massOf(v [6]float64) float64 {
	var sum float64
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		sum += v[i]*v[i]/30 - v[i]*v[j]/90 - 2*v[i]*v[3+i]/45
		sum += 8*v[3+i]*v[3+i]/45 + 8*v[3+j]*v[3+k]/45
	}
	return sum
}
