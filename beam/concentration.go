package beam

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Concentration is the stress at the edge of a hole.
type Concentration struct {
	Hole     int     `json:"hole"` // its number
	Diameter float64 `json:"diameter_mm"`
	Factor   float64 `json:"factor"`
	Nominal  float64 `json:"nominal_mpa"` // at the hole, on the section without it
	Peak     float64 `json:"peak_mpa"`
	Chart    string  `json:"chart"`
}

// The charts a hole may fit.
const (
	chartThrough = "hole through a plate bent across its thickness"
	chartAcross  = "hole across a flat bar bent on edge or pulled"
)

// throughFactor is the factor on the net-section stress of a hole through a
// plate of width w and thickness t that bends across its thickness, for d/w up
// to 0.3; Roark's Formulas for Stress and Strain, from memory.
func throughFactor(d, w, t float64) float64 {
	x := d / w
	return bendingConcentration(d/t) * (1 - 1.04*x + 1.22*x*x)
}

// pulledFactor is the factor on the net-section stress of a hole in the middle
// of a strip of width w that is pulled: Heywood's fit 2 + (1-d/w)^3 to
// Howland's solution (R. E. Peterson, Stress Concentration Factors), from
// memory.
func pulledFactor(d, w float64) float64 {
	x := 1 - d/w
	return 2 + x*x*x
}

// gradientFactor is the factor at the edge of a hole on the neutral axis of a
// bar bent in its own plane, on the nominal stress at the edge: 2, for d up to
// half of the depth (Peterson, after Howland and Stevenson), from memory.
const gradientFactor = 2.0

const (
	// kirsch is the factor beside a small hole in even stress, the most that any
	// hole has on its nominal stress; a hole with less than that share of the
	// largest stress cannot govern.
	kirsch = 3.0

	// alignedAxis is the cosine of the eight degrees by which a hole may lean and
	// still count as drilled at right angles, and filled the share of the
	// rectangle around a section that it may miss and still count as flat; both
	// change a factor by less than the charts' own few per cent.
	alignedAxis = 0.99
	filled      = 0.05

	// widestThrough is the largest d/w of the chart of throughFactor.
	widestThrough = 0.3
)

// concentrate raises the equivalent stress to that at a hole where a chart
// fits, and names the holes where none does.
func (p problem) concentrate(out *Stress, fr *frame, sol *solution) (unfit []string) {
	for i, h := range p.setup.Holes {
		c, f, ok := p.cutThrough(fr, sol, h.Centre)
		if !ok {
			continue
		}
		if h.Number == 0 {
			h.Number = i + 1
		}
		k, fits := p.atHole(h, c, f)
		if !fits {
			if k.Nominal*kirsch > out.Nominal {
				unfit = append(unfit, strconv.Itoa(h.Number))
			}
			continue
		}
		k.Hole, k.Diameter = h.Number, h.Diameter
		if k.Peak > out.Equivalent {
			out.Equivalent, out.Hole = k.Peak, &k
			out.EquivalentAt = h.Centre
		}
	}
	return unfit
}

// cutThrough returns the cut through a point and the forces on it.
func (p problem) cutThrough(f *frame, sol *solution, at r3.Vec) (*cutSection, sectionForces, bool) {
	s := p.where.beam(p.setup.Span.Of(at))
	if s <= 0 || s >= p.where.Length {
		return nil, sectionForces{}, false
	}
	next := p.profile.iterator()
	var best *cutSection
	var forces sectionForces
	for e, el := range f.elements {
		for k := range el.stations {
			c := next()
			if best == nil || abs(c.S-s) < abs(best.S-s) {
				best, forces = c, f.forcesIn(sol, e, el.stations[k].S)
			}
		}
	}
	return best, forces, true
}

// atHole fits a hole to a chart. Without a fit it returns the nominal stress.
func (p problem) atHole(h RoundHole, c *cutSection, f sectionForces) (Concentration, bool) {
	stress := p.stressField(c, f)
	second := p.setup.Span.Next().Next()
	centre := r2.Vec{X: p.setup.Span.Next().Of(h.Centre), Y: second.Of(h.Centre)}
	size := r2.Sub(c.Section.High, c.Section.Low)
	// the axis of the hole says along which side of the section it runs
	along := -1
	if abs(p.setup.Span.Next().Of(h.Axis)) > alignedAxis {
		along = 0
	} else if abs(second.Of(h.Axis)) > alignedAxis {
		along = 1
	}
	if along < 0 {
		worst, _ := p.normalStress(c, f)
		return Concentration{Nominal: abs(worst)}, false
	}
	thick, width := size.X, size.Y
	if along == 1 {
		thick, width = size.Y, size.X
	}
	lo, hi := faces(centre, along, c.Section.Low, c.Section.High)
	nominal := max(abs(stress(lo)), abs(stress(hi)))
	inRow := math.Round((thick*width - c.Section.Area) / (thick * h.Diameter))
	flat := inRow >= 0 && abs(thick*width-c.Section.Area-inRow*thick*h.Diameter) < filled*thick*width
	if !flat {
		return Concentration{Nominal: nominal}, false
	}
	if along == p.plane {
		w := width / max(inRow, 1)
		if h.Diameter > widestThrough*w {
			return Concentration{Nominal: nominal}, false
		}
		k := throughFactor(h.Diameter, w, thick)
		return Concentration{Factor: k, Nominal: nominal, Peak: k * nominal, Chart: chartThrough}, true
	}
	return acrossBar(stress, centre, along, h.Diameter, c)
}

// faces returns the ends of the line through a point of the section along one
// of its axes.
func faces(at r2.Vec, along int, low, high r2.Vec) (r2.Vec, r2.Vec) {
	lo, hi := at, at
	if along == 0 {
		lo.X, hi.X = low.X, high.X
	} else {
		lo.Y, hi.Y = low.Y, high.Y
	}
	return lo, hi
}

// acrossBar splits the stress over the hole into its mean, as in a pulled
// strip, and its gradient, as on a neutral axis.
func acrossBar(stress func(r2.Vec) float64, centre r2.Vec, along int, d float64, c *cutSection) (Concentration, bool) {
	step := r2.Vec{X: 1}
	edge := min(centre.X-c.Section.Low.X, c.Section.High.X-centre.X)
	if along == 0 {
		step = r2.Vec{Y: 1}
		edge = min(centre.Y-c.Section.Low.Y, c.Section.High.Y-centre.Y)
	}
	mean := abs(stress(centre))
	slope := abs(stress(r2.Add(centre, step)) - stress(centre))
	nominal := mean + slope*d/2
	if d > edge { // a strip of twice the edge distance is no wider than two holes
		return Concentration{Nominal: nominal}, false
	}
	peak := pulledFactor(d, 2*edge)*mean + gradientFactor*slope*d/2
	if nominal == 0 {
		return Concentration{}, false
	}
	return Concentration{Factor: peak / nominal, Nominal: nominal, Peak: peak, Chart: chartAcross}, true
}

// bendingConcentration is the stress concentration factor of a hole through a
// wide plate bent across its thickness, diameter over thickness d/t: Roark's
// Formulas for Stress and Strain, table of stress concentration factors, hole
// with transverse bending, from memory. It runs from 3 to 1.79.
func bendingConcentration(dOverT float64) float64 {
	x := max(dOverT, 0)
	return 1.79 + 0.25/(0.39+x) + 0.81/(1+x*x) - 0.26/(1+x*x*x)
}
