package beam

import (
	"fmt"
	"math"
)

// What a beam is. Spans under 3 depths are no beams and under 10 are warned of,
// common practice.
const (
	slenderEnough = 10.0
	tooStubby     = 3.0

	// tenth is the most that a cut-out may take of a section, that a section may
	// lose behind another, and that separate legs may take of the span: with
	// legs over the share x of a cantilever, each half as deep, their own bending
	// adds x^3 to its flexibility, a thousandth at a tenth (Vierendeel action:
	// V a^3/(12 E I/4) against V L^3/(3 E I)).
	tenth = 0.1

	// fileDigits is the relative error that a turned part's sizes carry from the
	// seven digits of a file; a part exactly at a limit is not beyond it.
	fileDigits = 1e-5
)

// notABeam returns why the part is no beam, empty when it is one. Every
// criterion is a property of the solid, whatever its triangles.
func (p problem) notABeam(r Result) string {
	if r.Slenderness < tooStubby*(1-fileDigits) {
		return "span over depth is " + short(r.Slenderness) + ", under 3: this is no beam along " +
			p.setup.Load.String() + "; use the solid check"
	}
	if p.handbook {
		return ""
	}
	for _, criterion := range []func() string{p.apart, p.cutOut, p.beside, p.leans, p.abrupt} {
		if why := criterion(); why != "" {
			return p.refusal(why)
		}
	}
	return ""
}

func (p problem) refusal(why string) string {
	return fmt.Sprintf("this is no beam along %s: %s; use the solid check", p.setup.Span, why)
}

// twistsOpenly finds a load that twists open sections where they change: over a
// tenth of the stiffness hangs on how far a change holds their warping.
func (p problem) twistsOpenly(f *frame, bar *torsionBar, give float64) string {
	if bar == nil || bar.uniform {
		return ""
	}
	loose, err := p.give(f, bar.loosely(p))
	if err == nil && 1-give/loose <= tenth {
		return ""
	}
	return p.refusal("the load twists open sections that change, which leaves over a tenth of the stiffness open")
}

// apart finds a stretch in separate pieces that is longer than a tenth of the
// span.
func (p problem) apart() string {
	from, to, pieces := 0.0, -1.0, 0
	for i := range p.profile.panels {
		q := &p.profile.panels[i]
		n := 1
		for k := range q.cuts {
			n = max(n, len(q.cuts[k].Region))
		}
		switch {
		case n == 1 || !p.strained((q.from+q.to)/2):
			from, to, pieces = q.to, -1, 0
			continue
		case to < 0:
			from = q.from
		}
		to, pieces = q.to, max(pieces, n)
		if to-from > tenth*p.where.arm(p.setup.Support)*(1+fileDigits) {
			return fmt.Sprintf("it is in %d separate pieces at %s = %s mm", pieces, p.setup.Span, short(p.where.model((from+to)/2)))
		}
	}
	return ""
}

// cutOut finds a section that has lost more than a tenth to an opening or a
// pocket: of the area or of a second moment of its hull, where there are fuller
// sections on both sides.
func (p problem) cutOut() string {
	var at []float64
	var full [3][]float64
	for c := range p.profile.cuts() {
		if !p.strained(c.S) {
			continue
		}
		at = append(at, c.S)
		for k, x := range []float64{c.Section.Area / c.Hull.Area, c.Section.Ixx / c.Hull.Ixx, c.Section.Iyy / c.Hull.Iyy} {
			full[k] = append(full[k], x)
		}
	}
	worst, where := 0.0, 0.0
	for _, x := range full {
		before, after := runningMax(x, 1), runningMax(x, -1)
		for i := range x {
			if lost := 1 - x[i]/min(before[i], after[i]); lost > worst {
				worst, where = lost, at[i]
			}
		}
	}
	if worst <= tenth*(1+fileDigits) {
		return ""
	}
	return fmt.Sprintf("cut-outs take %.0f %% of the section at %s = %s mm, over a tenth", 100*worst, p.setup.Span, short(p.where.model(where)))
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

// beside finds a step whose smaller section does not lie within the larger one:
// over a tenth of it has nothing to go on into.
func (p problem) beside() string {
	var before *cutSection
	for c := range p.profile.cuts() {
		if !p.strained(c.S) {
			continue
		}
		if before != nil && !same(before.Section, c.Section) {
			// what leans as far as stress spreads moves by as much from cut to cut
			size := reachOf(c, p.plane)
			moved := stepSpread * (c.S - before.S) / min(size.high[0]-size.low[0], size.high[1]-size.low[1])
			if out := apartFrom(before, c); out > tenth*(1+fileDigits)+moved {
				return fmt.Sprintf("the sections at %s = %s mm lie beside each other by %.0f %%", p.setup.Span, short(p.where.model((before.S+c.S)/2)), 100*out)
			}
		}
		before = c
	}
	return ""
}

// steepest is the tangent to the span from which an axis is not straight: a
// section there is softer by (1+t^2)^2, over a tenth.
var steepest = math.Sqrt(math.Sqrt(1+tenth) - 1)

// leans finds where both sides of the section move the same way, at more than
// steepest, by more than a tenth of its extent: a corner of the axis. A fillet or
// a chamfer moves one side only.
func (p problem) leans() string {
	var moved [2]float64 // mm, so far
	for i := range p.profile.panels {
		q := &p.profile.panels[i]
		if len(q.cuts) < 2 || !p.strained((q.from+q.to)/2) {
			continue
		}
		a, b := reachOf(&q.cuts[0], p.plane), reachOf(&q.cuts[1], p.plane)
		for k := range 2 {
			low, high := b.low[k]-a.low[k], b.high[k]-a.high[k]
			t := math.Copysign(min(abs(low), abs(high)), low) / (q.cuts[1].S - q.cuts[0].S)
			switch {
			case low*high <= 0 || abs(t) < steepest*(1+fileDigits):
				moved[k] = 0
				continue
			case t*moved[k] < 0:
				moved[k] = 0
			}
			moved[k] += t * (q.to - q.from)
			if abs(moved[k]) > tenth*(a.high[k]-a.low[k]) {
				return fmt.Sprintf("its axis is not straight at %s = %s mm", p.setup.Span, short(p.where.model(q.to)))
			}
		}
	}
	return ""
}

// abrupt finds changes of the section, or an axis off the straight, that leave
// more than a tenth of the stiffness open.
func (p problem) abrupt() string {
	give := func(share []float64) float64 {
		f, err := p.frameOf(p.weakened(share))
		if err != nil {
			return math.Inf(1)
		}
		return f.solve(p.unit(f, p.plane), nil).nodes[p.at][dof(p.plane)]
	}
	whole := give(nil)
	reached, _ := p.reached()
	for _, c := range []struct {
		share []float64
		why   string
	}{
		{p.leaning(), "its sides lean"},
		{reached, "its section changes abruptly"},
	} {
		if lost := 1 - whole/give(c.share); lost > tenth {
			worst, where := 1.0, 0.0
			i := 0
			for cut := range p.profile.cuts() {
				if p.strained(cut.S) && c.share[i] < worst {
					worst, where = c.share[i], cut.S
				}
				i++
			}
			return fmt.Sprintf("%s, most at %s = %s mm, which leaves over a tenth of the stiffness open", c.why, p.setup.Span, short(p.where.model(where)))
		}
	}
	return ""
}

// weakened are the stations with a share of each section's second moment along
// the load; nil leaves all.
func (p problem) weakened(share []float64) []station {
	st := p.stations()
	i := 0
	for c := range p.profile.cuts() {
		if share != nil && p.strained(c.S) {
			st[i] = st[i].scaled(p.plane, along(c.Section, p.plane), max(share[i], leastShare))
		}
		i++
	}
	return st
}

// shapeWarnings say where beam theory strains.
func (p problem) shapeWarnings(r Result) (w []string) {
	if r.Slenderness < slenderEnough*(1-fileDigits) {
		w = append(w, "span over depth is "+short(r.Slenderness)+", under 10: shear and the ends matter, compare with the solid check")
	}
	if p.handbook || r.MethodError == nil {
		return w
	}
	if worst := max(-r.MethodError.Low, r.MethodError.High); worst > sayDoubt {
		w = append(w, fmt.Sprintf("the stiffness may be off by %.0f %%: compare with the solid check", 100*worst))
	}
	return w
}

// leastShare keeps a beam without any section left solvable; its stiffness is
// then none for every purpose.
const leastShare = 1e-6
