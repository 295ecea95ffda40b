package solid

// keepShape stores displacement and stress at the vertices of the mesh.
func (c *check) keepShape(sys *system, u []float64, st *samples) {
	sh := &shape{m: c.m, move: make([][3]float64, len(c.s.points)), mpa: make([]float64, len(c.s.points))}
	seen := make([]bool, len(c.s.points))
	for _, t := range c.s.faces {
		tri := [3][3]float64{c.s.points[t[0]], c.s.points[t[1]], c.s.points[t[2]]}
		n := normalOf(tri)
		for e, v := range t {
			if seen[v] {
				continue
			}
			p := tri[e]
			var cell [3]int
			for a := range 3 {
				// towards the inside, and towards the middle of the face
				mid := (tri[0][a] + tri[1][a] + tri[2][a]) / 3
				cell[a] = sys.c.find(a, p[a]+1e-3*(mid-p[a])-n[a]*2*c.s.tol)
			}
			cell, ok := sys.c.nearActive(cell, p)
			if !ok {
				continue
			}
			seen[v] = true
			shape := shapeAt(sys.c.local(cell, p))
			for k := range shapes {
				q := 3 * int(sys.op.storedAt(cell[0]+k>>2, cell[1]+k>>1&1, cell[2]+k&1))
				for a, m := range c.f.model {
					sh.move[v][m] += shape[k] * u[q+a]
				}
			}
			sh.mpa[v] = vonMises(sys.smoothAt(st, cell, p))
		}
	}
	c.res.shape = sh
}
