package warp

// fields are the solutions on one level, a value a node.
type fields struct {
	phi  []float64    // warping function of torsion
	flex [2][]float64 // flexure functions for the normal stress gradients x and y
	psi  []float64    // stress function of torsion; nil when not asked for
}

// neumann solves for the fields without a condition on the outline:
//
//	integral grad phi . grad v = integral (y v,x - x v,y)
//	integral grad w_k . grad v = 2 integral x_k v
//
// for all v; each is determined up to a constant, so one node is held at zero.
func (l *level) neumann() (f fields, err error) {
	var loads [3][]float64
	for i := range loads {
		loads[i] = make([]float64, l.total)
	}
	for t := range l.shapes {
		s := &l.shapes[t]
		for q, at := range degree4.at {
			w := degree4.weight[q] * s.area
			x, y := s.point(at)
			for a, n := range l.node[t] {
				gx, gy := s.slope(degree4.d[q][a])
				loads[0][n] += w * (y*gx - x*gy)
				loads[1][n] += w * 2 * x * degree4.n[q][a]
				loads[2][n] += w * 2 * y * degree4.n[q][a]
			}
		}
	}
	free := func(n int32) int32 { return n - 1 } // node 0 is held
	for i := range loads {
		loads[i] = loads[i][1:]
	}
	x, err := l.system(free, l.total-1, loads[:]).Solve()
	if err != nil {
		return f, err
	}
	for i := range x {
		x[i] = append([]float64{0}, x[i]...)
	}
	return fields{phi: x[0], flex: [2][]float64{x[1], x[2]}}, nil
}

// dirichlet solves for the stress function psi, zero on the outer loop and
// constant on each hole:
//
//	integral grad psi . grad v = 2 integral v + 2 sum over holes of v area
//
// Timoshenko and Goodier, Theory of Elasticity, torsion of hollow shafts.
func (l *level) dirichlet() ([]float64, error) {
	unknown := make([]int32, l.total)
	total := int32(0)
	hole := make([]int32, len(l.holes))
	for k, area := range l.holes {
		hole[k] = -1
		if area > 0 {
			hole[k] = total
			total++
		}
	}
	for n, k := range l.loop {
		if k >= 0 {
			unknown[n] = hole[k]
		} else {
			unknown[n] = total
			total++
		}
	}
	load := make([]float64, total)
	for k, area := range l.holes {
		if hole[k] >= 0 {
			load[hole[k]] += 2 * area
		}
	}
	for t := range l.shapes {
		for a, n := range l.node[t] {
			if u := unknown[n]; u >= 0 {
				load[u] += 2 * l.shapes[t].area * mean[a]
			}
		}
	}
	x, err := l.system(func(n int32) int32 { return unknown[n] }, int(total), [][]float64{load}).Solve()
	if err != nil {
		return nil, err
	}
	psi := make([]float64, l.total)
	for n, u := range unknown {
		if u >= 0 {
			psi[n] = x[0][u]
		}
	}
	return psi, nil
}

// mean holds the means of the shape functions over a triangle.
var mean = func() (m [nodes]float64) {
	for q, w := range degree4.weight {
		for a := range nodes {
			m[a] += w * degree4.n[q][a]
		}
	}
	return m
}()
