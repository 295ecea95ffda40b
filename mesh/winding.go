package mesh

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/internal/boxtree"
	"swapworth/internal/parallel"
	"swapworth/internal/triangle"
)

// windingLines is how many lines along each axis are followed through a mesh, in
// rows of as many: a space that is a tenth of the part's size in each direction is
// met by about nine lines along every axis, a thin one by many along one.
const windingLines = 32

// winding is what lines through a mesh say of how often its faces wind around the
// space they bound: once in the solid and not at all elsewhere, if all is well.
type winding struct {
	once   float64 // mm3 that is wound around exactly once, the mean of three axes
	body   float64 // mm3 that is wound around once or more
	inward float64 // mm3 that is wound around less than not at all
	at     r3.Vec  // the middle of the longest stretch where all is not well
	box    Box     // of all such stretches
}

// wrong returns the volume, in mm3, that is wound around neither once nor not at all.
func (w winding) wrong() float64 { return w.body - w.once + w.inward }

// grown returns the box of all that is wrong, a cell of the lines wider all round.
func (w winding) grown(m *Mesh) Box {
	size := r3.Scale(1./windingLines, m.Bounds().Size())
	return Box{Min: r3.Sub(w.box.Min, size), Max: r3.Add(w.box.Max, size)}
}

// lineHit is a place where a line meets a face.
type lineHit struct {
	line  int32
	turns int8 // 1 for a face that looks along the line, -1 for one that looks against it
	at    float64
}

// windingOf follows the lines through a mesh whose edges are balanced. Stretches
// shorter than the rounding of the coordinates do not count.
func windingOf(m *Mesh) winding {
	w := winding{box: boxtree.Nowhere}
	bounds := m.Bounds()
	shortest := max(1e-6*r3.Norm(bounds.Size()), 2*m.rounding())
	longest := 0.0
	for axis := range 3 {
		lines := newLineGrid(bounds, axis)
		for _, stretch := range lines.stretches(m) {
			length := stretch.to - stretch.from
			if length <= shortest {
				continue
			}
			volume := length * lines.weight / 3
			if stretch.turns >= 1 {
				w.body += volume
			}
			switch {
			case stretch.turns == 1:
				w.once += volume
				continue
			case stretch.turns < 0:
				w.inward += volume
			}
			from, to := lines.place(stretch.line, stretch.from), lines.place(stretch.line, stretch.to)
			w.box = boxtree.Extend(boxtree.Extend(w.box, from), to)
			if length > longest {
				longest, w.at = length, r3.Scale(0.5, r3.Add(from, to))
			}
		}
	}
	return w
}

// cycled turns the axes so that the one with the number k becomes z.
func cycled(v r3.Vec, k int) r3.Vec {
	switch k {
	case 0:
		return r3.Vec{X: v.Y, Y: v.Z, Z: v.X}
	case 1:
		return r3.Vec{X: v.Z, Y: v.X, Z: v.Y}
	}
	return v
}

// lineGrid are lines along one axis, one in each cell of a square grid across it,
// at a place in the cell that is random but the same for every run: walls along an
// Axis do not fall in step with them.
type lineGrid struct {
	axis     int
	lo, step r3.Vec       // of the cells, axes turned so that the lines run along z
	feet     [][2]float64 // by line
	weight   float64      // mm2 that one line stands for
}

func newLineGrid(bounds Box, axis int) *lineGrid {
	lo, size := cycled(bounds.Min, axis), cycled(bounds.Size(), axis)
	g := &lineGrid{axis: axis, lo: lo, step: r3.Scale(1./windingLines, size), weight: size.X * size.Y / (windingLines * windingLines)}
	random := rand.New(rand.NewPCG(3, uint64(axis)))
	for i := range windingLines * windingLines {
		x, y := float64(i%windingLines), float64(i/windingLines)
		g.feet = append(g.feet, [2]float64{lo.X + (x+random.Float64())*g.step.X, lo.Y + (y+random.Float64())*g.step.Y})
	}
	return g
}

// place returns the point of a line at the coordinate z along it.
func (g *lineGrid) place(line int32, z float64) r3.Vec {
	p := r3.Vec{X: g.feet[line][0], Y: g.feet[line][1], Z: z}
	return cycled(cycled(p, (2-g.axis+2)%3), 2)
}

// stretch is a piece of a line around which the faces wind turns times, not 0.
type stretch struct {
	line     int32
	turns    int
	from, to float64
}

// stretches follows every line through the faces of m.
func (g *lineGrid) stretches(m *Mesh) []stretch {
	parts := make([][]lineHit, (len(m.Faces)+chunkSize-1)/chunkSize)
	parallel.Chunks(len(m.Faces), chunkSize, func(chunk, from, to int) {
		for f := from; f < to; f++ {
			parts[chunk] = g.hits(m, f, parts[chunk])
		}
	})
	hits := slices.Concat(parts...)
	slices.SortFunc(hits, func(a, b lineHit) int { return cmp.Or(cmp.Compare(a.line, b.line), cmp.Compare(a.at, b.at)) })
	var list []stretch
	turns := 0
	for i, h := range hits {
		if i > 0 && hits[i-1].line != h.line {
			turns = 0
		}
		turns -= int(h.turns) // a face that looks along the line ends a body
		if turns != 0 && i+1 < len(hits) && hits[i+1].line == h.line && hits[i+1].at > h.at {
			list = append(list, stretch{h.line, turns, h.at, hits[i+1].at})
		}
	}
	return list
}

// hits appends where the lines meet face f.
func (g *lineGrid) hits(m *Mesh, f int, list []lineHit) []lineHit {
	a, b, c := m.Triangle(f)
	a, b, c = cycled(a, g.axis), cycled(b, g.axis), cycled(c, g.axis)
	x0, x1 := min(a.X, b.X, c.X), max(a.X, b.X, c.X)
	y0, y1 := min(a.Y, b.Y, c.Y), max(a.Y, b.Y, c.Y)
	if x0 == x1 || y0 == y1 {
		return list // seen edge on
	}
	i0, i1 := cellOf(x0, g.lo.X, g.step.X), cellOf(x1, g.lo.X, g.step.X)
	j0, j1 := cellOf(y0, g.lo.Y, g.step.Y), cellOf(y1, g.lo.Y, g.step.Y)
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			line := j*windingLines + i
			foot := &g.feet[line]
			if foot[0] < x0 || foot[0] > x1 || foot[1] < y0 || foot[1] > y1 {
				continue
			}
			p := r3.Vec{X: foot[0], Y: foot[1]}
			if t := triangle.Around(p, a, b, c); t != 0 {
				list = append(list, lineHit{int32(line), int8(t), triangle.HeightAt(p, a, b, c)})
			}
		}
	}
	return list
}

// cellOf returns the cell of a coordinate.
func cellOf(x, lo, step float64) int {
	return max(0, min(windingLines-1, int((x-lo)/step)))
}

// rounding returns the spacing of the float32 numbers of a file at the corner of
// the part that lies farthest out, mm.
func (m *Mesh) rounding() float64 {
	b := m.Bounds()
	far := 0.0
	for _, v := range []r3.Vec{b.Min, b.Max} {
		far = max(far, math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
	}
	return far * 0x1p-23
}
