package beam

import (
	"math"

	"swapworth/quantity"
)

// Limits of beam theory, common practice.
const (
	slenderEnough = 10.0 // span over depth below which shear and the ends matter
	tooStubby     = 3.0  // span over depth below which there is no beam
	plateWidth    = 5.0  // width over depth above which a bar bends as a plate
	openHalf      = 0.5  // share of a section lost to a cut-out

	// fileDigits is the relative error that a turned part's sizes carry from the
	// seven digits of a file; a part exactly at a limit is not beyond it.
	fileDigits = 1e-5
)

// judgeShape measures depth and width, warns where beam theory strains and
// refuses where it fails.
func (a *analysis) judgeShape() {
	r := &a.result
	for c := range a.profile.cuts() {
		along, across := pieceExtents(c.Region, a.plane)
		r.Depth, r.Width = max(r.Depth, along), max(r.Width, across)
	}
	r.Slenderness = a.where.arm(a.setup.Support) / r.Depth
	switch {
	case r.Slenderness < tooStubby*(1-fileDigits):
		r.Refused = "span over depth is " + short(r.Slenderness) + ", under 3: this is no beam along " +
			a.setup.Load.String() + "; use the solid check"
		a.warn("%s", r.Refused)
		return
	case r.Slenderness < slenderEnough*(1-fileDigits):
		a.warn("span over depth is %s, under 10: shear and the ends matter, compare with the solid check", short(r.Slenderness))
	}
	if r.Width > plateWidth*(1+fileDigits)*r.Depth {
		a.warn("width over depth is %s, over 5: the part bends as a plate", short(r.Width/r.Depth))
	}
	if share, at := a.largestCutOut(); share > openHalf*(1+fileDigits) {
		a.warn("cut-outs take %.0f %% of the section at %s = %s mm: beam theory is rough there",
			100*share, a.setup.Span, short(a.where.model(at)))
	}
}

// largestCutOut returns the largest share of a section that is missing between
// fuller sections on both sides, and where. Fuller sections count within one
// width or depth, so that a taper or a step is no cut-out.
func (a *analysis) largestCutOut() (share, at float64) {
	var s, area []float64
	for c := range a.profile.cuts() {
		s, area = append(s, c.S), append(area, c.Section.Area)
	}
	before, after := runningMax(area, 1), runningMax(area, -1)
	for i := range s {
		if full := min(before[i], after[i]); full > 0 {
			if x := 1 - area[i]/full; x > share {
				share, at = x, s[i]
			}
		}
	}
	return share, at
}

// runningMax returns the largest value seen so far from one side.
func runningMax(x []float64, step int) []float64 {
	out := make([]float64, len(x))
	most := 0.0
	i := 0
	if step < 0 {
		i = len(x) - 1
	}
	for range x {
		most = max(most, x[i])
		out[i] = most
		i += step
	}
	return out
}

// What the theory is trusted to, relative: found by comparing with solid
// solutions of some seventy parts, see docs/beam.md.
const (
	trustSlender    = 0.02 // in a slender prismatic bar
	trustStubby     = 0.8  // times (depth/span)^2, of the span between points of no moment
	trustPlate      = 0.01 // more where the part bends as a plate
	trustCorrection = 0.25 // of what each correction changes
	trustCutOut     = 0.06 // times the largest share of a section that is cut out
	trustGrip       = 0.08 // more where a round end is held or loaded
	trustBraced     = 0.06 // more where slanted webs carry shear
	trustCorner     = 0.50 // more where the part turns a corner
	trustWalls      = 0.50 // of what thin walls change that hold warping in part, or give way at an end

	// sayDoubt is the error from which on a warning says where it comes from.
	sayDoubt = 0.05
)

// freeSpan is the share of a span within which shear, the ends and the
// corrections matter like in a cantilever: a clamp at both ends halves the length
// that bends one way.
var freeSpan = map[Support]float64{Cantilever: 1, SimplySupported: 0.7, Propped: 0.6, FixedFixed: 0.5}

// doubt is a share of the method's error and its cause.
type doubt struct {
	share float64
	why   string
}

// judgeMethod bounds what the theory gets wrong.
func (a *analysis) judgeMethod() error {
	r := &a.result
	k, own := *r.Stiffness, 0.0
	slender := r.Slenderness * freeSpan[a.setup.Support]
	share, _ := a.largestCutOut()
	common := []doubt{{trustSlender, ""}, {trustStubby / (slender * slender), "the span is short for the depth"}}
	its := []doubt{{trustCutOut * share, "sections are cut out"}}
	add := func(to *[]doubt, is bool, d doubt) {
		if is {
			*to = append(*to, d)
		}
	}
	add(&common, r.Width > plateWidth*r.Depth, doubt{trustPlate, "the part bends as a plate"})
	add(&common, a.setup.rounded, doubt{trustGrip, "a round end is held or loaded"})
	add(&its, a.braced, doubt{trustBraced, "slanted webs carry the shear"})
	add(&its, a.cornered, doubt{trustCorner, "the part turns a corner"})
	for _, c := range corrections {
		without, err := a.stiffnessWith(c.undo)
		if err != nil {
			return err
		}
		its = append(its, doubt{trustCorrection * abs(math.Log(without/k)) / freeSpan[a.setup.Support], c.why})
	}
	its = append(its, a.twistDoubt(k), doubt{trustWalls * k * a.walls, "walls across the load at the open end give way"})
	var worst doubt
	e := 0.0
	for _, d := range append(common, its...) {
		e += d.share
		if d.share > worst.share && d.why != "" {
			worst = d
		}
	}
	for _, d := range its {
		own += d.share
	}
	r.MethodError = &MethodError{Low: -e / (1 + e), High: e, Own: own}
	if e > sayDoubt && !a.handbook {
		a.warn("the stiffness may be off by %.0f %%, mostly because %s", 100*e, worst.why)
	}
	return nil
}

// twistDoubt is the doubt about the twist under the load, which is solved exactly
// where the section stays the same.
func (a *analysis) twistDoubt(stiffness float64) doubt {
	d := doubt{0, "the load twists sections that change"}
	switch twist := -math.Log(1 - stiffness*a.twist.unit); {
	case a.walled:
		d = doubt{trustWalls * twist, "thin walls across the span hold the warping in part"}
	case len(a.twist.steps) > 1:
		d.share = trustCorrection * twist
	}
	plane := trustCorrection * math.Log1p(stiffness*(a.twist.loose-a.twist.unit)) / freeSpan[a.setup.Support]
	if plane > d.share {
		d = doubt{plane, "the section under the load is taken to stay plane as it twists"}
	}
	return d
}

// corrections undo, one by one, what the beam adds to plane sections: the
// spread of stress behind openings, the sway of legs, the held width at
// supports, the turning aside of the axis.
var corrections = []struct {
	undo func(c *cut)
	why  string
}{
	{func(c *cut) {
		c.Sheared = [2]float64{1, 1}
		if !c.Split {
			c.Eff = whole(c.Section)
			c.Eff.Iuu *= c.HeldU / c.Turned[0]
			c.Eff.Ivv *= c.HeldV / c.Turned[1]
		}
	}, "stress has to spread behind openings and steps"},
	{func(c *cut) {
		c.ExtraU, c.ExtraV = 0, 0
		if c.Split {
			c.Eff = whole(c.Section)
		}
	}, "separate legs bend on their own"},
	{func(c *cut) {
		c.Eff.Iuu /= c.HeldU
		c.Eff.Ivv /= c.HeldV
	}, "a support holds the width"},
	{func(c *cut) {
		c.Eff.Iuu *= c.Turned[0]
		c.Eff.Ivv *= c.Turned[1]
	}, "the axis turns aside"},
}

// stiffnessWith returns the stiffness at the load with changed copies of the
// cuts.
func (a *analysis) stiffnessWith(change func(c *cut)) (float64, error) {
	var st []station
	for p := range a.profile.cuts() {
		c := *p
		change(&c)
		st = append(st, c.station(a.u0, a.v0, a.elastic.YoungsModulus))
	}
	f, err := newFrame(a.profile.nodes, st, a.elastic.YoungsModulus, a.shearModulus(), a.setup.Support, a.from, a.to)
	if err != nil {
		return 0, err
	}
	sol := f.solve(a.unit(a.at, a.plane), nil)
	return 1 / (sol.nodes[a.at][dof(a.plane)] + a.twist.unit + a.walls), nil
}

// warnStress says when the load goes beyond the elastic range.
func (a *analysis) warnStress(s Stress) {
	if a.elastic.Yield > 0 && s.Equivalent > a.elastic.Yield {
		a.warn("the stress of %s MPa is above the yield strength of %s MPa: deflection and stress hold only below it",
			short(s.Equivalent), short(a.elastic.Yield))
	}
	if d := a.result.Deflection; d != nil && abs(*d) > 0.1*a.where.arm(a.setup.Support) {
		a.warn("the deflection of %s mm is over a tenth of the span: the small-deflection theory overrates it", short(abs(*d)))
	}
}

// short writes a number with three significant digits, or all digits before the
// point.
func short(x float64) string { return quantity.Short(x, 3) }
