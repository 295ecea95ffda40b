package swap

import (
	"errors"
	"fmt"

	"swapworth/materials"
	"swapworth/quantity"
	"swapworth/swap/mill"
)

// estimate works out what the redesign takes to make.
func (s *situation) estimate(in inputs) (*mill.Estimate, error) {
	profile := s.profile()
	if why := s.elsewhere(); why != "" {
		return nil, errors.New(why)
	}
	plan := s.c.Making.Plan
	plan.InchPlate = s.c.Units == quantity.Imperial
	w, err := mill.Measure(s.new.made, profile, plan)
	if err != nil {
		return nil, err
	}
	if s.millable != nil {
		w.Hard = s.millable.Hard
	}
	s.work = &w
	e, err := mill.Make(w, profile, s.job(in, s.new))
	if err != nil {
		return nil, err
	}
	return &e, nil
}

func (s *situation) profile() mill.Profile {
	if p := s.c.Making.Profile; p != nil {
		return s.c.Making.Plan.Over(*p)
	}
	return s.c.Making.Plan.Over(mill.BenchTop())
}

// job is what an estimate needs beside the work: how many, of what, and what
// time is worth.
func (s *situation) job(in inputs, of part) mill.Job {
	p, m := s.c.Making.Pricing, of.known.material
	j := mill.Job{
		Count: int(in.count), Family: m.Family, Density: m.Density.Nominal, PricePerKg: m.PricePerKg,
		SuccessChance: s.chance(), Attempts: p.Attempts,
		SavedGrams: in.count * (in.old.mass() - in.new.mass()),
	}
	if p.Quoted != nil {
		j.Quoted = &p.Quoted.Nominal
	}
	if p.HourlyValue != nil {
		j.HourlyValue = p.HourlyValue.Nominal
	}
	if p.PricePerKg != nil {
		j.PricePerKg = p.PricePerKg.Nominal
	}
	return j
}

// costOf sums the estimate up. Money is left open while nobody said what an
// hour is worth and nobody quoted a price. A quoted price stands without an
// estimate, which is nil where none could be made.
func (s *situation) costOf(e *mill.Estimate, saved float64) *Cost {
	p, c := s.c.Making.Pricing, &Cost{}
	if e != nil {
		c.Stock, c.Hours, c.Attempts = &e.Stock, &e.Hours, &e.Attempts
		c.hours, c.stock = within(e.Hours, hoursOff), materials.Exactly(e.Stock)
		if p.PricePerKg != nil && p.PricePerKg.Nominal > 0 {
			c.stock = p.PricePerKg.Scale(e.Stock / p.PricePerKg.Nominal)
		}
	}
	if p.Hours != nil {
		c.hours, c.Hours = *p.Hours, &p.Hours.Nominal
	}
	switch {
	case p.Quoted != nil:
		c.bought, c.quoted, c.Total = true, *p.Quoted, &p.Quoted.Nominal
	case p.HourlyValue != nil && e != nil:
		c.hour = *p.HourlyValue
		total := e.Stock + *c.Hours*c.hour.Nominal
		c.Total = &total
	}
	if p.StockPart != nil {
		c.stockParts = p.StockPart.Scale(s.c.count())
		c.StockParts = &c.stockParts.Nominal
	}
	c.Currency = p.Currency
	if c.Total != nil && saved > 0 {
		perGram := *c.Total / saved
		c.PerGramSaved = &perGram
	}
	return c
}

// hoursOff is how far the work may take longer or shorter than its estimate from feeds
// and removal rates, as a share (common practice: an estimate, not a time study).
const hoursOff = 0.3

// spread is the cost with how far it was drawn to lie.
func (c *Cost) spread(o outcome) *Cost {
	if c == nil {
		return nil
	}
	out := *c
	out.HoursRange, out.TotalRange = o.hours, o.total
	return &out
}

// settleCost estimates the cost; a part that cannot be estimated gets a warning
// in its place, for the rest of the comparison stands without it.
func (s *situation) settleCost(in *inputs) {
	e, err := s.estimate(*in)
	in.cost = s.costOf(e, in.count*(in.old.mass()-in.new.mass()))
	if err != nil {
		s.warnings = append(s.warnings, fmt.Sprintf("no estimate of time and cost: %v", err))
		return
	}
	if p := s.c.Making.Pricing; p.Hours != nil { // what the person expects stands for the sum of the operations
		e.Hours = p.Hours.Nominal
		e.Labour = e.Hours * s.job(*in, s.new).HourlyValue
		if p.Quoted == nil {
			e.Total = e.Stock + e.Labour
		}
	}
	s.milling = e
	if p := s.new.known.material; s.c.Making.Pricing.PricePerKg == nil && p.PricePlaceholder && s.c.Making.Pricing.HourlyValue != nil {
		s.assume("Stock costs %s a kg, a placeholder of the material table: give --stock-price", in.cost.Sum(number(p.PricePerKg)))
	}
	s.warnings = append(s.warnings, e.Warnings...)
}

// lesser prices what would do less: each is a variant of the stock part, or a
// bought part.
func (s *situation) lesser(in inputs) ([]mill.Lesser, error) {
	out := []mill.Lesser{}
	if len(s.c.Making.Lesser) == 0 {
		return out, nil
	}
	stock, profile, j := s.old.made, s.profile(), s.job(in, s.old)
	j.Density = s.old.known.density.Nominal // that of the part itself where it was weighed
	for _, l := range s.c.Making.Lesser {
		var one mill.Lesser
		var err error
		switch {
		case l.Trim != nil:
			one, err = mill.Trimmed(stock, l.Trim.Side, l.Trim.Stock, profile, j)
		case l.Drill != nil:
			one, err = mill.Drilled(stock, l.Drill.Count, l.Drill.Diameter, profile, j)
		case l.Buy != nil:
			one, err = mill.Bought(l.Name, in.old.mass(), l.Buy.Grams, l.Buy.Price, int(in.count))
		}
		if err != nil {
			return nil, err
		}
		out = append(out, one)
	}
	return out, nil
}
