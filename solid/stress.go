package solid

import (
	"cmp"
	"math"
	"slices"

	"swapworth/internal/parallel"
	"swapworth/solid/internal/brick"
	"swapworth/solid/internal/grid"
	"swapworth/solid/internal/region"
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
	first, point := make([]int32, len(c.Of)), make([][brick.Corners][3]float64, len(c.Kinds))
	members := make([][]int32, len(c.Kinds))
	n := int32(0)
	for cell, k := range c.Of {
		first[cell] = -1
		if k != grid.Void {
			first[cell] = n * brick.Corners
			n++
			members[k] = append(members[k], int32(cell))
		}
	}
	var out []*samples
	for range us {
		out = append(out, &samples{first, make([]sample, int(n)*brick.Corners), point})
	}
	parallel.For(len(c.Kinds), func(k int) {
		kd := &c.Kinds[k]
		b := new(brick.Brick)
		b.Assemble(kd.Edge, &kd.Moments, s.scale)
		point[k] = kd.Moments.Points()
		var grad [brick.Corners][brick.Functions][3]float64
		for q, p := range point[k] {
			grad[q] = b.Gradient(kd.Edge, p)
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
	i, j, k := cell/(c.Count(1)*c.Count(2)), cell/c.Count(2)%c.Count(1), cell%c.Count(2)
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
	h := c.Size(cell[0], cell[1], cell[2])
	var n [4][4]float64
	var rhs [4][6]float64
	lo, hi := cell, cell
	for a := range 3 {
		lo[a], hi[a] = max(cell[a]-1, 0), min(cell[a]+1, c.Count(a)-1)
	}
	for i := lo[0]; i <= hi[0]; i++ {
		for j := lo[1]; j <= hi[1]; j++ {
			for k := lo[2]; k <= hi[2]; k++ {
				at := c.CellIndex(i, j, k)
				first := st.first[at]
				if first < 0 {
					continue
				}
				kind := c.Of[at]
				fill := c.Kinds[kind].Moments[0]
				points := &st.point[kind]
				var x [3][2]float64 // the points are two along each axis
				for a, l := range [3]int{i, j, k} {
					x0, x1 := c.Lines[a][l], c.Lines[a][l+1]
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
func surfacePoints(c *grid.Cells, s *grid.Surface) []surfacePoint {
	return pointsOn(c, s, region.Of(s))
}

// pointsOn is surfacePoints of a region.
func pointsOn(c *grid.Cells, s *grid.Surface, all *region.Region) []surfacePoint {
	seen := map[[3]int32]bool{}
	var out []surfacePoint
	all.Pieces(c, s, func(cell [3]int, poly [][3]float64) {
		for _, p := range poly {
			x := c.Local(cell, p)
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

	judged   float64                 // what would be judged there on this grid
	resolved bool                    // the grid is fine enough for that
	within   func(p [3]float64) bool // where the place may lie; nil for anywhere
}

// places says which of the hottest places are wanted: how many near held and loaded
// places and sharp corners, how many clear of them, and how many cells apart.
type places struct{ near, clear, apart int }

// leastHot is the share of the largest stress below which a place cannot turn out the
// hottest.
const leastHot = 0.1

// hottest picks the hottest places from the stresses at points: those with nothing
// hotter within some cells.
func hottest(c *grid.Cells, points []surfacePoint, value []float64, want places) (hot []hotSpot) {
	order := make([]int32, 0, len(points))
	top := slices.Max(append(slices.Clone(value), 0))
	for i, v := range value {
		if v > leastHot*top {
			order = append(order, int32(i))
		}
	}
	slices.SortStableFunc(order, func(i, j int32) int { return cmp.Compare(value[j], value[i]) })
	hotter := make([]bool, len(c.Of)) // cells with a point before
	for _, i := range order {
		p := points[i]
		if want.near <= 0 && want.clear <= 0 {
			break
		}
		flank := c.Marked(hotter, p.cell, want.apart)
		hotter[c.CellIndex(p.cell[0], p.cell[1], p.cell[2])] = true
		left := &want.clear
		if p.near {
			left = &want.near
		}
		if flank || *left <= 0 {
			continue
		}
		*left--
		hot = append(hot, hotSpot{mpa: value[i], at: p.at, cell: p.cell, near: p.near})
	}
	return hot
}

// peakStress finds the largest equivalent stress on the surface: first at one
// point of each cell, then at all points of the cells where that reached half of
// the largest. The points are worked through in a fixed order, so that equal
// peaks do not wander. It returns the stress at every point too, 0 where it is not
// among the larger ones.
func (s *system) peakStress(st *samples, points []surfacePoint) (p peak, value []float64) {
	value = make([]float64, len(points))
	evaluate := func(which []int32) {
		parallel.Blocks(len(which), 512, func(lo, hi int) {
			for _, i := range which[lo:hi] {
				value[i] = vonMises(s.smoothAt(st, points[i].cell, points[i].at))
			}
		})
	}
	probe := make([]int32, len(s.c.Of)) // by cell: its first point and one
	var first, rest []int32
	for i, p := range points {
		if at := &probe[s.c.CellIndex(p.cell[0], p.cell[1], p.cell[2])]; *at == 0 {
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
		v := value[probe[s.c.CellIndex(p.cell[0], p.cell[1], p.cell[2])]-1]
		if v >= all/2 || (!p.near && v >= away/2) {
			rest = append(rest, int32(i))
		}
	}
	evaluate(rest)
	for i, v := range value {
		if v > p.mpa {
			p.mpa, p.at, p.cell = v, points[i].at, points[i].cell
		}
		if !points[i].near {
			p.away = max(p.away, v)
		}
	}
	return p, value
}

// markNear marks the cells within reach (in cells) of sharp inner corners and
// of the given regions.
func markNear(c *grid.Cells, s *grid.Surface, corners [][2][3]float64, regions []*region.Region, reach int) []bool {
	mark := make([]bool, len(c.Of))
	put := func(p [3]float64) {
		var lo, hi [3]int
		for a := range 3 {
			// a point on a grid line belongs to the cells on both sides
			lo[a] = max(c.Find(a, p[a]-2*s.Tol)-reach, 0)
			hi[a] = min(c.Find(a, p[a]+2*s.Tol)+reach, c.Count(a)-1)
		}
		for i := lo[0]; i <= hi[0]; i++ {
			for j := lo[1]; j <= hi[1]; j++ {
				row := mark[c.CellIndex(i, j, lo[2]) : c.CellIndex(i, j, hi[2])+1]
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
			for _, h := range c.Sizes[a] {
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
		if r.Box != nil {
			for i := range c.Count(0) {
				for j := range c.Count(1) {
					for k := range c.Count(2) {
						inside := true
						for a, n := range [3]int{i, j, k} {
							inside = inside && c.Lines[a][n+1] >= r.Box[0][a] && c.Lines[a][n] <= r.Box[1][a]
						}
						if inside {
							put([3]float64{
								(c.Lines[0][i] + c.Lines[0][i+1]) / 2, (c.Lines[1][j] + c.Lines[1][j+1]) / 2, (c.Lines[2][k] + c.Lines[2][k+1]) / 2,
							})
						}
					}
				}
			}
			continue
		}
		r.Pieces(c, s, func(_ [3]int, poly [][3]float64) {
			for _, p := range poly {
				put(p)
			}
		})
	}
	return mark
}
