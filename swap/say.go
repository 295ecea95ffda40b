package swap

import "slices"

// decision is a case with what every step made of it.
type decision struct {
	c        Case
	measured measured
	placed   placed
	judged   judged
	others   []alternative // that were tried
	answer   answer
	shown    shown // nothing where it was decided in passing
}

// say puts a decision into numbers and words.
func say(d decision) Result {
	c, m, p, j, a := d.c, d.measured, d.placed, d.judged, d.answer
	in, o := j.in, j.outcome
	return Result{
		Units:       c.Units,
		Old:         reportOf(m.old, c.Old, in.old),
		New:         reportOf(m.new, c.New, in.new),
		Count:       int(in.count),
		Saving:      o.saving,
		Stiffness:   stiffnessesOf(in, o.ratios),
		Motion:      motionOf(in, o.gained),
		Criteria:    o.criteria,
		Probability: o.all,
		Verdict:     a.verdict,
		Condition:   a.condition(),
		Turnovers:   orEmpty(telling(a.turnovers, a.verdict)),
		Reasons:     reasons(c.Table, m.old.known, m.new.known, j, a),
		NextStep:    nextStep(c, m, j, a),
		Fit:         p.fit,
		Millable:    m.millable,
		Lasting:     orEmpty(lasting(baseOf(c), c.Making, p, m.millable)),
		Cost:        in.cost.spread(o.hours, o.total),
		Milling:     j.price.milling,
		Lesser:      d.shown.lesser,
		AsMade:      d.shown.asMade,
		Joint:       j.joint,
		Bolts:       j.bolts,
		Reactions:   reactionsOf(p, in),
		Spare:       d.shown.pictures.spare,
		Drawing:     drawingOf(p, m.millable, in.directions, d.shown.pictures),
		Drivers:     drivers(in),
		BreakEvens:  breakEvens(in, p.new.mesh, c.Making.Pricing),
		Explored:    explored(c, m, j, a),
		Cautions:    cautions,
		Assumptions: orEmpty(assumptionsOf(d)),
		Missing:     orEmpty(missing(c, in)),
		Warnings:    warningsOf(d),
		Remembered:  c.Remembered,
	}
}

func assumptionsOf(d decision) []string {
	return d.measured.remarks.and(d.placed.remarks, d.judged.remarks).assumptions
}

// warningsOf gathers what the readers, the materials and the mechanics warn of.
func warningsOf(d decision) []string {
	all := slices.Concat(d.measured.old.loaded.Warnings, d.measured.new.loaded.Warnings,
		d.measured.remarks.and(d.placed.remarks, d.judged.remarks).warnings)
	if thick := outsideThickness(d.measured.new.known.material, d.judged.price.work); thick != "" {
		all = append(all, thick)
	}
	for _, one := range d.judged.in.directions {
		all = slices.Concat(all, one.old.warnings, one.new.warnings)
	}
	return orEmpty(unique(all))
}

// spread is the cost with how far it was drawn to lie.
func (c *Cost) spread(hours, total *Range) *Cost {
	if c == nil {
		return nil
	}
	out := *c
	out.HoursRange, out.TotalRange = hours, total
	return &out
}
