package solid

import (
	"math"
	"slices"
)

func (c *check) warn(text string) {
	if text != "" && !slices.Contains(c.res.Warnings, text) {
		c.res.Warnings = append(c.res.Warnings, text)
	}
}

// advance tells how far the work has come: each grid takes about eight times as
// long as the one before.
func (c *check) advance(n int, share float64) {
	if c.opt.Progress == nil {
		return
	}
	total, before := 0.0, 0.0
	for g := range c.grids {
		w := math.Pow(8, float64(g))
		total += w
		if g < n {
			before += w
		}
	}
	c.opt.Progress(c.gridShare() * (before + share*math.Pow(8, float64(n))) / total)
}

// gridShare is about how much of the work the grids are: submodels and the search for
// spare material take as long as a small grid each.
func (c *check) gridShare() float64 {
	if c.opt.Peaks || c.opt.Spare || len(c.opt.LookAt) > 0 {
		return 0.6
	}
	return 1
}

// advanceAfter tells that a share of what follows the grids is done.
func (c *check) advanceAfter(share float64) {
	if c.opt.Progress != nil {
		c.opt.Progress(c.gridShare() + (1-c.gridShare())*share)
	}
}
