package solid

import (
	"cmp"
	"math"
	"slices"

	"swapworth/internal/parallel"
	"swapworth/solid/internal/brick"
)

// sample is the stress at a point of a cell: xx, yy, zz, yz, zx, xy by grid
// axis, MPa.
type sample [6]float32

// samples holds eight stresses for each cell with material: at the points that
// lie one radius of gyration of the material from its centroid in each
// direction. In a full cell these are the Gauss points.
type samples struct {
	first []int32 // by cell, -1 where void
	at    []sample
	point [][brick.Corners][3]float64 // by kind, cell coordinates
}

// stresses evaluates the stress of each of several displacements in every cell.
func (s *system) stresses(us [][]float64) []*samples {
	c := s.c
	first, point := make([]int32, len(c.of)), make([][brick.Corners][3]float64, len(c.kinds))
	members := make([][]int32, len(c.kinds))
	n := int32(0)
	for cell, k := range c.of {
		first[cell] = -1
		if k != void {
			first[cell] = n * brick.Corners
			n++
			members[k] = append(members[k], int32(cell))
		}
	}
	var out []*samples
	for range us {
		out = append(out, &samples{first, make([]sample, int(n)*brick.Corners), point})
	}
	parallel.For(len(c.kinds), func(k int) {
		kd := &c.kinds[k]
		b := new(brick.Brick)
		b.Assemble(kd.edge, &kd.m, s.scale)
		point[k] = kd.m.Points()
		var grad [brick.Corners][brick.Functions][3]float64
		for q, p := range point[k] {
			grad[q] = b.Gradient(kd.edge, p)
		}
		for _, cell := range members[k] {
			for i, u := range us {
				w := s.amplitudes(b, int(cell), u)
				for q := range brick.Corners {
					out[i].at[int(first[cell])+q] = s.scale.Stress(&grad[q], &w)
				}
			}
		}
	})
	return out
}

// amplitudes returns the displacements of a cell's corners followed by the
// amplitudes of its bending modes.
func (s *system) amplitudes(b *brick.Brick, cell int, u []float64) (w [brick.Freedoms]float64) {
	c := s.c
	i, j, k := cell/(c.cells(1)*c.cells(2)), cell/c.cells(2)%c.cells(1), cell%c.cells(2)
	for v := range brick.Corners {
		p := s.EntryAt(i+v>>2, j+v>>1&1, k+v&1)
		copy(w[3*v:], u[p:p+3])
	}
	b.Amplitudes(&w)
	return
}

// vonMises returns the equivalent stress of von Mises.
func vonMises(t [6]float64) float64 {
	a, b, c := t[0]-t[1], t[1]-t[2], t[2]-t[0]
	return math.Sqrt((a*a+b*b+c*c)/2 + 3*(t[3]*t[3]+t[4]*t[4]+t[5]*t[5]))
}

// smoothAt fits a plane through the stresses around a cell by least squares and
// returns its value at a point. Near samples and well-filled cells count most.
func (s *system) smoothAt(st *samples, cell [3]int, p [3]float64) (t [6]float64) {
	c := s.c
	h := c.size(cell[0], cell[1], cell[2])
	var n [4][4]float64
	var rhs [4][6]float64
	lo, hi := cell, cell
	for a := range 3 {
		lo[a], hi[a] = max(cell[a]-1, 0), min(cell[a]+1, c.cells(a)-1)
	}
	for i := lo[0]; i <= hi[0]; i++ {
		for j := lo[1]; j <= hi[1]; j++ {
			for k := lo[2]; k <= hi[2]; k++ {
				at := c.cellIndex(i, j, k)
				first := st.first[at]
				if first < 0 {
					continue
				}
				kind := c.of[at]
				fill := c.kinds[kind].m[0]
				points := &st.point[kind]
				var x [3][2]float64 // the points are two along each axis
				for a, l := range [3]int{i, j, k} {
					x0, x1 := c.lines[a][l], c.lines[a][l+1]
					for side, q := range [2]int{0, brick.Corners - 1} {
						x[a][side] = ((x0+x1)/2 + points[q][a]*(x1-x0)/2 - p[a]) / h[a]
					}
				}
				values := (*[brick.Corners]sample)(st.at[first:])
				for q := range brick.Corners {
					bx, by, bz := x[0][q>>2], x[1][q>>1&1], x[2][q&1]
					d := 0.25 + bx*bx + by*by + bz*bz
					w := fill * fill / (d * d)
					wx, wy, wz := w*bx, w*by, w*bz
					n[0][0] += w
					n[1][0] += wx
					n[2][0] += wy
					n[3][0] += wz
					n[1][1] += wx * bx
					n[2][1] += wy * bx
					n[3][1] += wz * bx
					n[2][2] += wy * by
					n[3][2] += wz * by
					n[3][3] += wz * bz
					for m, v := range values[q] {
						t := float64(v)
						rhs[0][m] += w * t
						rhs[1][m] += wx * t
						rhs[2][m] += wy * t
						rhs[3][m] += wz * t
					}
				}
			}
		}
	}
	for r := range 4 {
		for m := range r {
			n[m][r] = n[r][m]
		}
	}
	return fitValue(&n, &rhs)
}

// fitValue solves the normal equations and returns the constant term. A little
// weight on the slopes keeps them at zero where the samples do not tell them.
func fitValue(n *[4][4]float64, rhs *[4][6]float64) [6]float64 {
	ridge := 1e-4 * n[0][0]
	for r := 1; r < 4; r++ {
		n[r][r] += ridge
	}
	for r := 3; r >= 0; r-- { // eliminate the slopes, last first
		for m := range r {
			f := n[m][r] / n[r][r]
			for c := range r + 1 {
				n[m][c] -= f * n[r][c]
			}
			for c := range 6 {
				rhs[m][c] -= f * rhs[r][c]
			}
		}
	}
	var t [6]float64
	for c := range 6 {
		t[c] = rhs[0][c] / n[0][0]
	}
	return t
}

// surfacePoint is a point of the part's surface and the cell beneath it.
type surfacePoint struct {
	at   [3]float64
	cell [3]int
	near bool // within reach of a held or loaded place or of a sharp inner corner
}

// surfacePoints returns the corners of the pieces into which the grid cuts the
// surface, one of those nearer to each other than an eighth of a cell.
func (c *cells) surfacePoints(s *surface) []surfacePoint {
	all := &region{}
	for _, f := range s.faces {
		all.faces = append(all.faces, [3][3]float64{s.points[f[0]], s.points[f[1]], s.points[f[2]]})
	}
	return c.pointsOn(s, all)
}

// pointsOn is surfacePoints of a region.
func (c *cells) pointsOn(s *surface, all *region) []surfacePoint {
	seen := map[[3]int32]bool{}
	var out []surfacePoint
	c.pieces(s, all, func(cell [3]int, poly [][3]float64) {
		for _, p := range poly {
			x := c.local(cell, p)
			var key [3]int32
			for a := range 3 {
				key[a] = int32(8*cell[a]) + int32(math.Round(4*(x[a]+1)))
			}
			if !seen[key] {
				seen[key] = true
				out = append(out, surfacePoint{at: p, cell: cell})
			}
		}
	})
	return out
}

// peak is the largest equivalent stress and where it is.
type peak struct {
	mpa  float64
	at   [3]float64
	cell [3]int
	away float64 // largest out of reach of places and sharp inner corners

	hot []hotSpot // the hottest places, the hottest first
}

// hotSpot is a place at which the equivalent stress is the largest for some cells
// around.
type hotSpot struct {
	mpa  float64
	at   [3]float64
	cell [3]int
	near bool

	within *ball // what was asked; nil where nothing was
}

const (
	mostHot = 3 // places that are looked at closely
	// mostNear is how many of them may lie at held or loaded places and sharp
	// corners, so that a fillet further off is not left out.
	mostNear = 2
	hotApart = 4   // cells between them
	leastHot = 0.1 // of the largest stress: what is cooler cannot turn out the hottest
)

// hottest picks the hottest places from the stresses at points: those with nothing
// hotter within some cells.
func (c *cells) hottest(points []surfacePoint, value []float64) (hot []hotSpot) {
	order := make([]int32, 0, len(points))
	top := slices.Max(append(slices.Clone(value), 0))
	for i, v := range value {
		if v > leastHot*top {
			order = append(order, int32(i))
		}
	}
	slices.SortStableFunc(order, func(i, j int32) int { return cmp.Compare(value[j], value[i]) })
	hotter := make([]bool, len(c.of)) // cells with a point before
	nears := 0
	for _, i := range order {
		p := points[i]
		if len(hot) == mostHot {
			break
		}
		flank := c.marked(hotter, p.cell, hotApart)
		hotter[c.cellIndex(p.cell[0], p.cell[1], p.cell[2])] = true
		if flank || p.near && nears == mostNear {
			continue
		}
		hot = append(hot, hotSpot{mpa: value[i], at: p.at, cell: p.cell, near: p.near})
		if p.near {
			nears++
		}
	}
	return hot
}

// marked reports whether a cell within reach of one is marked.
func (c *cells) marked(mark []bool, cell [3]int, reach int) bool {
	var lo, hi [3]int
	for a := range 3 {
		lo[a], hi[a] = max(cell[a]-reach, 0), min(cell[a]+reach, c.cells(a)-1)
	}
	for i := lo[0]; i <= hi[0]; i++ {
		for j := lo[1]; j <= hi[1]; j++ {
			if slices.Contains(mark[c.cellIndex(i, j, lo[2]):c.cellIndex(i, j, hi[2])+1], true) {
				return true
			}
		}
	}
	return false
}

// peakStress finds the largest equivalent stress on the surface: first at one
// point of each cell, then at all points of the cells where that reached half of
// the largest. The points are worked through in a fixed order, so that equal
// peaks do not wander.
func (s *system) peakStress(st *samples, points []surfacePoint) peak {
	value := make([]float64, len(points))
	evaluate := func(which []int32) {
		parallel.Blocks(len(which), 512, func(lo, hi int) {
			for _, i := range which[lo:hi] {
				value[i] = vonMises(s.smoothAt(st, points[i].cell, points[i].at))
			}
		})
	}
	probe := make([]int32, len(s.c.of)) // by cell: its first point and one
	var first, rest []int32
	for i, p := range points {
		if at := &probe[s.c.cellIndex(p.cell[0], p.cell[1], p.cell[2])]; *at == 0 {
			*at = int32(i) + 1
			first = append(first, int32(i))
		}
	}
	evaluate(first)
	all, away := 0.0, 0.0
	for _, i := range first {
		all = max(all, value[i])
		if !points[i].near {
			away = max(away, value[i])
		}
	}
	for i, p := range points {
		v := value[probe[s.c.cellIndex(p.cell[0], p.cell[1], p.cell[2])]-1]
		if v >= all/2 || (!p.near && v >= away/2) {
			rest = append(rest, int32(i))
		}
	}
	evaluate(rest)
	var p peak
	for i, v := range value {
		if v > p.mpa {
			p.mpa, p.at, p.cell = v, points[i].at, points[i].cell
		}
		if !points[i].near {
			p.away = max(p.away, v)
		}
	}
	p.hot = s.c.hottest(points, value)
	return p
}

// sharpInner is the turn in degrees above which an inner edge is a corner, not
// a chord of a round.
const sharpInner = 25

// innerCorners returns the edges at which the surface turns inwards sharply.
func innerCorners(s *surface) (out [][2][3]float64) {
	limit := math.Cos(sharpInner * math.Pi / 180)
	s.eachEdge(func(e surfaceEdge) {
		if e.cos <= limit && e.above > s.tol {
			out = append(out, e.ends)
		}
	})
	return out
}

// smoothEdge is an edge at which the surface turns inwards a little, as at a chord of a
// drawn round, and how far the nearer of its two faces reaches from it.
type smoothEdge struct {
	ends   [2][3]float64
	height float64
}

// flatTurn is the turn in degrees below which two faces count as one plane.
const flatTurn = 0.5

// smoothEdges returns the edges between the chords of holes and fillets, at which the
// surface turns inwards.
func smoothEdges(s *surface) (out []smoothEdge) {
	sharp, flat := math.Cos(sharpInner*math.Pi/180), math.Cos(flatTurn*math.Pi/180)
	s.eachEdge(func(e surfaceEdge) {
		if e.cos > sharp && e.cos < flat && e.above > 0 {
			out = append(out, smoothEdge{e.ends, e.height})
		}
	})
	return out
}

// surfaceEdge is an edge of two faces: the cosine of the turn there, how far the one
// face rises above the other (below zero where the edge is an outer one), and how far
// the nearer of the faces reaches from it, mm.
type surfaceEdge struct {
	ends               [2][3]float64
	cos, above, height float64
}

// eachEdge visits the edges at which two faces meet.
func (s *surface) eachEdge(visit func(e surfaceEdge)) {
	type half struct {
		lo, hi int32
		face   int32
	}
	var halves []half
	for f, t := range s.faces {
		for e := range 3 {
			a, b := t[e], t[(e+1)%3]
			halves = append(halves, half{min(a, b), max(a, b), int32(f)})
		}
	}
	slices.SortFunc(halves, func(p, q half) int {
		return cmp.Or(cmp.Compare(p.lo, q.lo), cmp.Compare(p.hi, q.hi), cmp.Compare(p.face, q.face))
	})
	corner := func(f int32) [3][3]float64 {
		t := s.faces[f]
		return [3][3]float64{s.points[t[0]], s.points[t[1]], s.points[t[2]]}
	}
	for i := 1; i < len(halves); i++ {
		p, q := halves[i-1], halves[i]
		if p.lo != q.lo || p.hi != q.hi {
			continue
		}
		fp, fq := corner(p.face), corner(q.face)
		np, nq := normalOf(fp), normalOf(fq)
		// inward where the far corner of one face lies above the other
		above := 0.0
		for _, v := range fq {
			d := 0.0
			for a := range 3 {
				d += np[a] * (v[a] - s.points[p.lo][a])
			}
			if math.Abs(d) > math.Abs(above) {
				above = d
			}
		}
		e := surfaceEdge{ends: [2][3]float64{s.points[p.lo], s.points[p.hi]}, above: above}
		e.cos = np[0]*nq[0] + np[1]*nq[1] + np[2]*nq[2]
		if length := norm([3]float64{e.ends[1][0] - e.ends[0][0], e.ends[1][1] - e.ends[0][1], e.ends[1][2] - e.ends[0][2]}); length > 0 {
			e.height = 2 * min(areaOf(fp), areaOf(fq)) / length
		}
		visit(e)
	}
}

// markNear marks the cells within reach (in cells) of sharp inner corners and
// of the given regions.
func (c *cells) markNear(s *surface, corners [][2][3]float64, regions []*region, reach int) []bool {
	mark := make([]bool, len(c.of))
	put := func(p [3]float64) {
		var lo, hi [3]int
		for a := range 3 {
			// a point on a grid line belongs to the cells on both sides
			lo[a] = max(c.find(a, p[a]-2*s.tol)-reach, 0)
			hi[a] = min(c.find(a, p[a]+2*s.tol)+reach, c.cells(a)-1)
		}
		for i := lo[0]; i <= hi[0]; i++ {
			for j := lo[1]; j <= hi[1]; j++ {
				row := mark[c.cellIndex(i, j, lo[2]) : c.cellIndex(i, j, hi[2])+1]
				for k := range row {
					row[k] = true
				}
			}
		}
	}
	for _, e := range corners {
		length, least := 0.0, math.Inf(1)
		for a := range 3 {
			length += (e[1][a] - e[0][a]) * (e[1][a] - e[0][a])
			for _, h := range c.sizes[a] {
				least = min(least, h)
			}
		}
		steps := 1 + int(math.Sqrt(length)/least)
		for n := range steps + 1 {
			t := float64(n) / float64(steps)
			put([3]float64{
				e[0][0] + t*(e[1][0]-e[0][0]), e[0][1] + t*(e[1][1]-e[0][1]), e[0][2] + t*(e[1][2]-e[0][2]),
			})
		}
	}
	for _, r := range regions {
		if r.box != nil {
			for i := range c.cells(0) {
				for j := range c.cells(1) {
					for k := range c.cells(2) {
						inside := true
						for a, n := range [3]int{i, j, k} {
							inside = inside && c.lines[a][n+1] >= r.box[0][a] && c.lines[a][n] <= r.box[1][a]
						}
						if inside {
							put([3]float64{
								(c.lines[0][i] + c.lines[0][i+1]) / 2, (c.lines[1][j] + c.lines[1][j+1]) / 2, (c.lines[2][k] + c.lines[2][k+1]) / 2,
							})
						}
					}
				}
			}
			continue
		}
		c.pieces(s, r, func(_ [3]int, poly [][3]float64) {
			for _, p := range poly {
				put(p)
			}
		})
	}
	return mark
}
