package warp

import (
	"math"

	"swapworth/internal/triangulation"
)

// shares is each triangle's part of the relative error.
type shares struct {
	of    []float64 // a triangle's parts of all errors, added
	worst float64   // the largest of the errors
}

func (m *measures) shares(opt Options) shares {
	s := shares{of: make([]float64, len(m.gap))}
	take := func(part []float64, whole float64) {
		var sum float64
		for t, e := range part {
			s.of[t] += e / whole
			sum += e / whole
		}
		s.worst = max(s.worst, sum)
	}
	if !opt.NoTorsion {
		take(m.gap, (m.low+m.high)/2)
	}
	for k := range 2 {
		take(m.jump[k], m.energy[k][k])
	}
	return s
}

// firstWish is a coarse mesh: a third of the longest extent.
func firstWish(d *triangulation.Domain) []float64 {
	lo, hi := d.Point(0), d.Point(0)
	for i := range d.Points() {
		p := d.Point(i)
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
	}
	wish := make([]float64, d.Points())
	for i := range wish {
		wish[i] = max(hi.X-lo.X, hi.Y-lo.Y) / 3
	}
	return wish
}

// nextWish spreads the error evenly: a triangle with more than its share is
// made smaller, by no more than eight. Where the field is smooth the error of a
// cubic triangle shrinks with the sixth power of its side and more, at an inner
// corner more slowly; the fourth power serves both.
func (l *level) nextWish(d *triangulation.Domain, s shares, tolerance float64) []float64 {
	wish := make([]float64, d.Points())
	for i := range wish {
		wish[i] = math.Inf(1)
	}
	fair := 0.5 * tolerance / float64(len(s.of))
	for t, e := range s.of {
		corners, _ := d.Triangle(t)
		f := 1.0
		if e > fair {
			f = max(math.Pow(fair/e, 0.25), 0.125)
		}
		side := l.unit * sideOf(&l.shapes[t]) * f
		for _, v := range corners {
			wish[v] = min(wish[v], side)
		}
	}
	return wish
}

// sideOf is the side of an equal-sided triangle with the same circumcircle.
func sideOf(s *shape) float64 {
	a := math.Hypot(s.x[1]-s.x[0], s.y[1]-s.y[0])
	b := math.Hypot(s.x[2]-s.x[1], s.y[2]-s.y[1])
	c := math.Hypot(s.x[0]-s.x[2], s.y[0]-s.y[2])
	return a * b * c / (4 * s.area) * math.Sqrt(3)
}
