// Package warp solves Saint-Venant's problems of torsion and flexure on a plane
// section with holes: how the section warps, and what follows from it.
//
// The torsion problem is solved twice, for the warping function, whose energy
// bounds the torsion constant from above, and for the stress function, which
// bounds it from below. The difference of the two stress fields, triangle by
// triangle, tells where the mesh must be finer (Prager and Synge's hypercircle).
// Triangles are cubic, so that the fields of straight walls are exact.
package warp

// A cubic triangle has ten nodes: the corners, two on each side at thirds, in
// the direction of the outline of the triangle, and the centre. Side i lies
// opposite corner i.
const nodes = 10

// shapes returns the ten shape functions and their derivatives by the three
// area coordinates, taken as independent. Zienkiewicz, The Finite Element
// Method, triangular family.
func shapes(l [3]float64) (n [nodes]float64, d [nodes][3]float64) {
	for i := range 3 {
		x := l[i]
		n[i] = x * (3*x - 1) * (3*x - 2) / 2
		d[i][i] = (27*x*x - 18*x + 2) / 2
		j, k := (i+1)%3, (i+2)%3
		for s, ends := range [2][2]int{{j, k}, {k, j}} {
			p, q := ends[0], ends[1] // nearer to p
			at := 3 + 2*i + s
			n[at] = 4.5 * l[p] * l[q] * (3*l[p] - 1)
			d[at][p] = 4.5 * l[q] * (6*l[p] - 1)
			d[at][q] = 4.5 * l[p] * (3*l[p] - 1)
		}
		d[9][i] = 27 * l[j] * l[k]
	}
	n[9] = 27 * l[0] * l[1] * l[2]
	return n, d
}

// quadrature is a rule on the triangle: weights add up to one.
type quadrature struct {
	at     [][3]float64
	weight []float64
	n      [][nodes]float64
	d      [][nodes][3]float64
}

// Symmetric rules exact to degree 4 and 6: Dunavant, Int. J. Numer. Meth. Eng.
// 21 (1985) 1129.
var (
	degree4 = rule(
		[]float64{0.445948490915965, 0.091576213509771},
		[]float64{0.223381589678011, 0.109951743655322}, nil, 0)
	degree6 = rule(
		[]float64{0.249286745170910, 0.063089014491502},
		[]float64{0.116786275726379, 0.050844906370207},
		[]float64{0.053145049844817, 0.310352451033784}, 0.082851075618374)
)

// rule builds a rule from points (1-2a, a, a) and their turns and, if given,
// all six orders of (a, b, 1-a-b).
func rule(a, weight, six []float64, sixWeight float64) *quadrature {
	q := &quadrature{}
	add := func(x, y, z, w float64) {
		l := [3]float64{x, y, z}
		n, d := shapes(l)
		q.at, q.weight = append(q.at, l), append(q.weight, w)
		q.n, q.d = append(q.n, n), append(q.d, d)
	}
	for i, v := range a {
		add(1-2*v, v, v, weight[i])
		add(v, 1-2*v, v, weight[i])
		add(v, v, 1-2*v, weight[i])
	}
	if six != nil {
		x, y := six[0], six[1]
		z := 1 - x - y
		for _, p := range [][3]float64{{x, y, z}, {x, z, y}, {y, x, z}, {y, z, x}, {z, x, y}, {z, y, x}} {
			add(p[0], p[1], p[2], sixWeight)
		}
	}
	return q
}

// reference holds, for each side i with ends j and k, the integrals over a
// triangle of area one of (dN/dl_j - dN/dl_k)(dM/dl_j - dM/dl_k). With the
// cotangent-like weights c_jk = area grad l_j . grad l_k the stiffness of any
// triangle is
//
//	K = - sum over sides of c_jk reference_i,
//
// since the gradients of the area coordinates add up to zero.
var reference = func() (r [3][nodes * nodes]float64) {
	for q, w := range degree4.weight {
		for i := range 3 {
			j, k := (i+1)%3, (i+2)%3
			for a := range nodes {
				for b := range nodes {
					da := degree4.d[q][a][j] - degree4.d[q][a][k]
					db := degree4.d[q][b][j] - degree4.d[q][b][k]
					r[i][a*nodes+b] += w * da * db
				}
			}
		}
	}
	return r
}()

// shape is the geometry of one triangle.
type shape struct {
	x, y   [3]float64
	gx, gy [3]float64 // gradients of the area coordinates
	area   float64
}

func shapeOf(x, y [3]float64) shape {
	s := shape{x: x, y: y}
	twice := (x[1]-x[0])*(y[2]-y[0]) - (y[1]-y[0])*(x[2]-x[0])
	s.area = twice / 2
	for i := range 3 {
		j, k := (i+1)%3, (i+2)%3
		s.gx[i], s.gy[i] = (y[j]-y[k])/twice, (x[k]-x[j])/twice
	}
	return s
}

// stiffness writes the integrals of grad N . grad M.
func (s *shape) stiffness(k []float64) {
	for i := range k {
		k[i] = 0
	}
	for i := range 3 {
		a, b := (i+1)%3, (i+2)%3
		c := -s.area * (s.gx[a]*s.gx[b] + s.gy[a]*s.gy[b])
		for j, r := range reference[i] {
			k[j] += c * r
		}
	}
}

// point returns the place of area coordinates.
func (s *shape) point(l [3]float64) (x, y float64) {
	return l[0]*s.x[0] + l[1]*s.x[1] + l[2]*s.x[2], l[0]*s.y[0] + l[1]*s.y[1] + l[2]*s.y[2]
}

// slope returns the gradient of shape function a from its derivatives.
func (s *shape) slope(d [3]float64) (x, y float64) {
	return d[0]*s.gx[0] + d[1]*s.gx[1] + d[2]*s.gx[2], d[0]*s.gy[0] + d[1]*s.gy[1] + d[2]*s.gy[2]
}

// gradient returns the gradient of the field with values u.
func (s *shape) gradient(d *[nodes][3]float64, u *[nodes]float64) (x, y float64) {
	var by [3]float64
	for a, v := range u {
		by[0] += v * d[a][0]
		by[1] += v * d[a][1]
		by[2] += v * d[a][2]
	}
	return s.slope(by)
}
