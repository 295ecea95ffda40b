package mill

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/reach"
	"swapworth/quantity"
)

// checker gathers the findings on one part.
type checker struct {
	*reach.View
	limits        Limits
	stuff         Stuff
	wall, careful float64
	finisher      float64 // diameter of the finishing cutter
	drilled       float64 // largest diameter that is drilled
	main          int
	setUps        []int
	turn          []int // the ways, those of the set-ups first
	tube          int   // direction along which it is a tube, with MadeBy Saw
	axis          r3.Vec
	inCavity      map[int32]bool
	out           Millable
}

// given reports whether a lathe or the tube itself makes the surface at a sample.
func (c *checker) given(s reach.Sample) bool {
	switch c.out.MadeBy {
	case Saw:
		return c.AlongTube(s, c.tube)
	case Lathe:
		r := c.Round(s)
		return r == nil || math.Abs(r3.Dot(r.Axis, c.axis)) > 0.9999
	}
	return false
}

func where(v r3.Vec) [3]float64 { return [3]float64{v.X + 0, v.Y + 0, v.Z + 0} }

// add keeps a finding, or counts it with one like it, of which the worse is shown.
func (c *checker) add(f Finding, worse func(a, b Finding) bool) {
	for i, g := range c.out.Findings {
		if g.Kind != f.Kind || g.Blocks != f.Blocks || g.Change != f.Change {
			continue
		}
		n := f.Count + g.Count
		if !worse(f, g) {
			f = g
		}
		f.Count = n
		c.out.Findings[i] = f
		return
	}
	c.out.Findings = append(c.out.Findings, f)
}

// smaller and larger tell which of two findings is worse.
func smaller(a, b Finding) bool { return a.Value < b.Value*(1-1e-6) }

func larger(a, b Finding) bool { return a.Value > b.Value*(1+1e-6) }

// said formats numbers for reading, with four significant digits.
func said(format string, args ...any) string {
	for i, a := range args {
		if v, ok := a.(float64); ok {
			args[i] = quantity.Short(v, 4)
		}
	}
	return fmt.Sprintf(format, args...)
}
