package beam

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// Where the middle of a section moves across the depth along the span, as at
// the floor of a pocket, plane sections would need axial forces to jump from
// one strip of the width into the next. They cannot: they build up through
// in-plane shear over a length like the width (shear lag). The model: strips
// across the width share the deflection, so the curvature k, but each has its
// own axial displacement a_i, tied to its neighbours by the shear stiffness of
// the material between them. With A, S, I the strip's area and its first and
// second moments along the load, the energy per length
//
//	E/2 sum(A a'^2 - 2 S k a' + I k^2) + G/2 sum t (a_i - a_i+1)^2/d - M k
//
// is least over k and all a_i. Under the moment M(x) of the load it gives the
// effective I(x) = M/(E k). A wide flange beside a peak of the moment, at a clamp
// or under a point load, lags in the same way.

// lagStrips is the number of strips that the width is divided into at most.
const lagStrips = 16

// lagSection is one cut of the strip model, in mm.
type lagSection struct {
	length  float64
	area    []float64 // of each strip
	first   []float64
	second  []float64
	between []float64 // thickness over distance of the material between neighbours
}

// plane is the second moment of plane sections about the centroid; 0 where
// nothing works, as at the very tip of a round end.
func (l lagSection) plane() float64 {
	var a, s, i float64
	for k := range l.area {
		a, s, i = a+l.area[k], s+l.first[k], i+l.second[k]
	}
	if !(a > 0) {
		return 0
	}
	return i - s*s/a
}

// skew is the product of area over the polar moment from which on a section
// bends to the side as well, which the strips know nothing of.
const skew = 0.05

// lag divides the effective second moments along the load by what shear lag
// makes of the curvature, for the moment at every cut.
func (a *analysis) lag(cuts []*cut, moment []float64) {
	sections := make([]lagSection, len(cuts))
	u0, v0 := a.profile.line()
	line := [2]float64{u0, v0}[a.plane]
	cells := a.cellsOf(cuts)
	inParallel(len(cuts), func(i int) {
		sections[i] = cells[i].lagSection(cuts[i].Weight, line)
	})
	curvature := lagCurvature(sections, moment, 1/(2*(1+a.elastic.Poisson)))
	most := floats.Norm(moment, math.Inf(1))
	for i, c := range cuts {
		if c.Split || abs(c.Section.Ixy) > skew*(c.Section.Ixx+c.Section.Iyy) || abs(moment[i]) < 0.02*most || !(sections[i].plane() > 0) {
			continue
		}
		c.soften(a.plane, min(max(curvature[i]*sections[i].plane()/moment[i], 0.3), 10))
	}
}

// cellsOf returns the cells of every cut. A prismatic part has no shade and the
// same cells everywhere.
func (a *analysis) cellsOf(cuts []*cut) []*idleCells {
	out := make([]*idleCells, len(cuts))
	var even *idleCells
	for i, c := range cuts {
		if out[i] = c.Shade; c.Shade != nil {
			continue
		}
		if even == nil {
			g := newGrid(cuts, a.plane)
			even = &idleCells{g, g.fill(g.stretches(c)), make([]bool, g.cells())}
		}
		out[i] = even
	}
	return out
}

// lagSection sums the cells of a cut into strips.
func (g *idleCells) lagSection(length, line float64) lagSection {
	full, idle := g.full, g.idle
	strip := stripOf(g.across)
	n := strip[len(strip)-1] + 1
	l := lagSection{length: length,
		area: make([]float64, n), first: make([]float64, n), second: make([]float64, n), between: make([]float64, n-1)}
	for k, f := range full {
		if f == 0 {
			continue
		}
		i := k % g.columns()
		s := strip[i]
		_, y, dx, dy := g.centre(k)
		if !idle[k] {
			area := float64(f) * dx * dy
			l.area[s] += area
			l.first[s] += area * (y - line)
			l.second[s] += area * ((y-line)*(y-line) + dy*dy/12)
		}
		if i+1 < len(strip) && strip[i+1] != s {
			// material shades only along the span, so shear passes idle cells
			l.between[s] += float64(min(f, full[k+1])) * dy
		}
	}
	middles := stripMiddles(g.across, strip, n)
	for s := range l.between {
		l.between[s] /= middles[s+1] - middles[s]
	}
	return l
}

// stripOf assigns columns to strips of nearly even width.
func stripOf(lines []float64) []int {
	n := len(lines) - 1
	out := make([]int, n)
	size := (lines[n] - lines[0]) / lagStrips
	strip, start := 0, lines[0]
	for i := range n {
		if i > 0 && lines[i+1]-start > size*1.0001 {
			strip, start = strip+1, lines[i]
		}
		out[i] = strip
	}
	return out
}

func stripMiddles(lines []float64, strip []int, n int) []float64 {
	lo, hi := make([]float64, n), make([]float64, n)
	for i := len(strip) - 1; i >= 0; i-- {
		lo[strip[i]] = lines[i]
	}
	for i, s := range strip {
		hi[s] = lines[i+1]
	}
	for s := range lo {
		lo[s] = (lo[s] + hi[s]) / 2
	}
	return lo
}

// secondMoments sums the strips of every section, in mm4. A section in which
// nothing works, as at the very tip of a round end, keeps a trace, so that the
// equations stay regular.
func secondMoments(sections []lagSection) []float64 {
	out := make([]float64, len(sections))
	for e, s := range sections {
		for _, i := range s.second {
			out[e] += i
		}
	}
	trace := 1e-9 * slices.Max(out)
	for e := range out {
		out[e] = max(out[e], trace)
	}
	return out
}

// lagCurvature returns E k in every section under the moments there, for shear
// modulus over Young's modulus g. Both ends stay plane, the far one free to slide.
func lagCurvature(sections []lagSection, moment []float64, g float64) []float64 {
	out := make([]float64, len(sections))
	totals := secondMoments(sections)
	band, rhs := lagEquations(sections, moment, totals, g)
	factor, ok := factorBand(band)
	if !ok { // strips that nothing ties together: leave plane sections
		for i, s := range sections {
			out[i] = moment[i] / s.plane()
		}
		return out
	}
	x := factor.solveVec(rhs)
	n := len(sections[0].area)
	near := make([]float64, n) // displacements at the near side
	for e, s := range sections {
		far := x[e*n : (e+1)*n]
		sum := moment[e]
		for i := range n {
			sum += s.first[i] * (far[i] - near[i]) / s.length
		}
		out[e] = sum / totals[e]
		near = far
	}
	return out
}

// lagEquations are those of least energy over the displacements of every strip
// at the far side of every section; k is eliminated.
func lagEquations(sections []lagSection, moment, totals []float64, g float64) (*mat.SymBandDense, []float64) {
	n := len(sections[0].area)
	size := len(sections) * n
	band := mat.NewSymBandDense(size, min(2*n-1, size-1), nil)
	rhs := make([]float64, size)
	add := func(i, j int, v float64) {
		if j >= i {
			band.SetSymBand(i, j, band.At(i, j)+v)
		}
	}
	for e, s := range sections {
		total := totals[e]
		near, far := (e-1)*n, e*n // first unknown on either side; below 0 it is held
		floor := 1e-9 * math.Sqrt(total)
		for i := range n {
			load := moment[e] * s.first[i] / total
			rhs[far+i] += load
			if near >= 0 {
				rhs[near+i] -= load
			}
			for j := range n {
				k := -s.first[i] * s.first[j] / total
				if i == j {
					k += s.area[i] + floor
				}
				k /= s.length
				add(far+i, far+j, k)
				if near >= 0 {
					add(near+i, near+j, k)
					add(near+i, far+j, -k)
				}
			}
		}
		for i, t := range s.between {
			k := g * t * s.length / 2
			if e == len(sections)-1 { // the end stays plane
				k = (s.area[i] + s.area[i+1]) * 1e3 / s.length
			}
			for _, p := range [2]int{near, far} {
				if p >= 0 {
					add(p+i, p+i, k)
					add(p+i+1, p+i+1, k)
					add(p+i, p+i+1, -k)
				}
			}
		}
	}
	return band, rhs
}
