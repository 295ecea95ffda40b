package triangulation

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// A Domain is refined after Ruppert (A Delaunay refinement algorithm for quality
// 2-dimensional mesh generation, J. Algorithms 18, 1995) with the treatment of small
// angles by Shewchuk (Delaunay refinement algorithms for triangular mesh generation,
// Comput. Geom. 22, 2002).
//
// Domain is one connected piece of a region, triangulated. Pieces that touch at
// a point only are separate, and a piece that touches itself at a point is not
// joined there: such a point appears once for each side of it.
type Domain struct {
	m     net
	grid  grid
	angle []float64 // interior angle at each corner of the outlines, rad
	sides []edge    // ends of each side of the outlines
	side  []int32   // the side that a point was put on by refinement, else -1
}

// errEmpty says that the outlines enclose nothing.
var errEmpty = errors.New("the outlines enclose no area")

// Domains triangulates the area that the loops wind around at least once, outlines
// counter-clockwise and holes clockwise. Overlapping loops are united, loops
// that cross are divided. It returns one domain a connected piece.
func Domains(loops [][]r2.Vec) ([]*Domain, error) {
	box, ok := bounds(loops)
	if !ok {
		return nil, errEmpty
	}
	g := gridOver(box)
	m, err := framed(loops, g)
	if err != nil {
		return nil, err
	}
	kept := m.wound()
	return m.pieces(kept, g)
}

// bounds reports false for loops without extent or with coordinates that are
// no numbers.
func bounds(loops [][]r2.Vec) (r2.Box, bool) {
	inf := math.Inf(1)
	box := r2.Box{Min: r2.Vec{X: inf, Y: inf}, Max: r2.Vec{X: -inf, Y: -inf}}
	for _, loop := range loops {
		for _, p := range loop {
			if math.IsNaN(p.X+p.Y) || math.IsInf(p.X, 0) || math.IsInf(p.Y, 0) {
				return box, false
			}
			box.Min.X, box.Max.X = min(box.Min.X, p.X), max(box.Max.X, p.X)
			box.Min.Y, box.Max.Y = min(box.Min.Y, p.Y), max(box.Max.Y, p.Y)
		}
	}
	size := max(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
	return box, size > 1e-100 && size < 1e100
}

// framed puts all points into the frame along a space-filling curve, then the
// outlines.
func framed(loops [][]r2.Vec, g grid) (*net, error) {
	var all []r2.Vec
	for _, loop := range loops {
		for _, p := range loop {
			all = append(all, g.snap(p))
		}
	}
	const margin = 1 << gridBits
	m := frame(r2.Vec{X: -margin, Y: -margin}, r2.Vec{X: 2 * margin, Y: 2 * margin})
	id := m.insertAll(all, func(p r2.Vec) uint64 { return alongCurve(int64(p.X), int64(p.Y)) })
	start := 0
	for _, loop := range loops {
		n := len(loop)
		for i := range n {
			if err := m.addOutline(id[start+i], id[start+(i+1)%n], laid{1}); err != nil {
				return nil, err
			}
		}
		start += n
	}
	return m, nil
}

// wound marks the triangles with a winding number above zero.
func (m *net) wound() []bool {
	kept := make([]bool, len(m.tri))
	for i, turns := range m.turns() {
		kept[i] = turns[0] > 0
	}
	return kept
}

// pieces cuts the kept triangles out of the frame, one domain for each set that
// hangs together by sides.
func (m *net) pieces(kept []bool, g grid) ([]*Domain, error) {
	to := make([]int32, len(m.tri)) // index in its piece
	for i := range to {
		to[i] = -1
	}
	var out []*Domain
	for s := range m.tri {
		if !kept[s] || to[s] >= 0 {
			continue
		}
		members := []int32{int32(s)}
		to[s] = 0
		for i := 0; i < len(members); i++ {
			for _, n := range m.tri[members[i]].n {
				if n >= 0 && kept[n] && to[n] < 0 {
					to[n] = int32(len(members))
					members = append(members, n)
				}
			}
		}
		out = append(out, m.cutOut(members, to, kept, g))
	}
	if len(out) == 0 {
		return nil, errEmpty
	}
	return out, nil
}

func (m *net) cutOut(members, to []int32, kept []bool, g grid) *Domain {
	d := &Domain{grid: g}
	d.m.tri = make([]face, len(members))
	for i, t := range members {
		for k, n := range m.tri[t].n {
			if n >= 0 && kept[n] {
				d.m.tri[i].n[k] = to[n]
			} else {
				d.m.tri[i].n[k] = -1
			}
			d.m.tri[i].v[k] = -1
		}
	}
	for i, t := range members {
		for k, v := range m.tri[t].v {
			if d.m.tri[i].v[k] < 0 {
				d.nameCorner(int32(i), k, d.m.addPoint(m.pts[v]))
			}
		}
	}
	d.m.sweep()
	d.measure()
	return d
}

// nameCorner gives the corner k of triangle t, and every corner that meets it
// across inner sides, the number v.
func (d *Domain) nameCorner(t int32, k int, v int32) {
	tri := d.m.tri
	turn := func(t int32, k, step int) {
		for {
			s := (k + step) % 3
			n := tri[t].n[s]
			if n < 0 {
				return
			}
			j := d.m.sideOf(n, t)
			// the side's ends swap places in the neighbour
			t, k = n, (j+step)%3
			if tri[t].v[k] == v {
				return
			}
			tri[t].v[k] = v
		}
	}
	tri[t].v[k] = v
	d.m.at[v] = t
	turn(t, k, 1)
	turn(t, k, 2)
}

// measure numbers the outlines' sides and takes the angle at each corner.
func (d *Domain) measure() {
	n := len(d.m.pts)
	next, prev := make([]int32, n), make([]int32, n)
	for i := range next {
		next[i], prev[i] = -1, -1
	}
	d.side = make([]int32, n)
	for i := range d.side {
		d.side[i] = -1
	}
	for t := range d.m.tri {
		tr := &d.m.tri[t]
		for k := range 3 {
			if tr.n[k] < 0 {
				a, b := tr.v[(k+1)%3], tr.v[(k+2)%3]
				next[a], prev[b] = b, a
				tr.n[k] = -1 - int32(len(d.sides))
				d.sides = append(d.sides, edge{a, b})
			}
		}
	}
	d.angle = make([]float64, n)
	for v := range d.angle {
		if next[v] < 0 || prev[v] < 0 {
			continue
		}
		p, q := r2.Sub(d.m.pts[next[v]], d.m.pts[v]), r2.Sub(d.m.pts[prev[v]], d.m.pts[v])
		a := math.Atan2(r2.Cross(p, q), r2.Dot(p, q))
		if a <= 0 {
			a += 2 * math.Pi
		}
		d.angle[v] = a
	}
}

// Points returns the number of points.
func (d *Domain) Points() int { return len(d.m.pts) }

// Point returns point i in the coordinates of the loops.
func (d *Domain) Point(i int) r2.Vec { return d.grid.place(d.m.pts[i]) }

// Triangles returns the number of triangles.
func (d *Domain) Triangles() int { return len(d.m.tri) }

// Triangle returns the corners of triangle t, counter-clockwise, and the
// triangle beyond the side opposite each corner, or -1 at the outlines.
func (d *Domain) Triangle(t int) (corners, beyond [3]int32) {
	tr := d.m.tri[t]
	for i, n := range tr.n {
		beyond[i] = max(n, -1)
	}
	return tr.v, beyond
}
