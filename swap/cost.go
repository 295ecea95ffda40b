package swap

import (
	"errors"
	"fmt"
	"strings"

	"swapworth/materials"
	"swapworth/quantity"
	"swapworth/swap/mill"
)

// price is what the redesign takes to make. Money is open while nobody said what an
// hour is worth and nobody quoted a price.
type price struct {
	cost    *Cost
	work    *mill.Work     // nil: not measured
	milling *mill.Estimate // nil: none could be made
	remarks
}

// priceOf estimates the cost; a part that cannot be estimated gets a warning
// in its place, for the rest of the comparison stands without it.
func priceOf(c Case, m measured, in inputs) price {
	pricing, stuff := c.Making.Pricing, m.new.known.material
	saved := in.count * (in.old.mass() - in.new.mass())
	chance, why := chanceOf(pricing, m.millable)
	j := job(pricing, chance, in, stuff)
	work, e, err := estimate(c.Making, c.Units, m, j)
	cost, r := costOf(pricing, c.count(), e, saved), remarks{}
	if work != nil && why != "" {
		r = r.assuming("%s", why)
	}
	if err != nil {
		return price{cost, work, nil, r.warning("no estimate of time and cost: %v", err)}
	}
	if pricing.PricePerKg == nil && stuff.PricePlaceholder && pricing.HourlyValue != nil {
		r = r.assuming("Stock costs %s a kg, a placeholder of the material table: give --stock-price", cost.Sum(number(stuff.PricePerKg)))
	}
	return price{cost, work, expected(*e, pricing, j), r.and(remarks{warnings: e.Warnings})}
}

// expected is an estimate with the hours that the person expects in place of the sum of
// the operations.
func expected(e mill.Estimate, p Pricing, j mill.Job) *mill.Estimate {
	if p.Hours == nil {
		return &e
	}
	e.Hours = p.Hours.Nominal
	e.Labour = e.Hours * j.HourlyValue
	if p.Quoted == nil {
		e.Total = e.Stock + e.Labour
	}
	return &e
}

// estimate works out what the redesign takes to make: the work, which stands where its
// time cannot be told, and the time.
func estimate(how Making, units quantity.System, m measured, j mill.Job) (*mill.Work, *mill.Estimate, error) {
	if why := elsewhere(m.millable); why != "" {
		return nil, nil, errors.New(why)
	}
	plan, profile := how.Plan, how.planned()
	plan.InchPlate = units == quantity.Imperial
	w, err := mill.Measure(m.new.made, profile, plan)
	if err != nil {
		return nil, nil, err
	}
	if m.millable != nil {
		w.Hard = m.millable.Hard
	}
	e, err := mill.Make(w, profile, j)
	if err != nil {
		return &w, nil, err
	}
	return &w, &e, nil
}

// job is what an estimate needs beside the work: how many, of what, and what
// time is worth.
func job(p Pricing, chance float64, in inputs, m materials.Material) mill.Job {
	j := mill.Job{
		Count: int(in.count), Family: m.Family, Density: m.Density.Nominal, PricePerKg: m.PricePerKg,
		SuccessChance: chance, Attempts: p.Attempts,
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
func costOf(p Pricing, count float64, e *mill.Estimate, saved float64) *Cost {
	c := &Cost{}
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
		c.stockParts = p.StockPart.Scale(count)
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

// elsewhere is why milling times say nothing of a part; empty where they do.
func elsewhere(m *mill.Millable) string {
	if m == nil || !m.Elsewhere {
		return ""
	}
	return map[mill.Machine]string{
		mill.Lathe: "it is round about an axis, a lathe's work: ask a price and give --quoted-price",
		mill.Saw:   "it is a length of tube, cut off with a saw: ask a price and give --quoted-price",
	}[m.MadeBy]
}

// chanceOf returns the chance that one attempt gives a good part where nobody said
// one, and what it comes from.
func chanceOf(p Pricing, m *mill.Millable) (chance float64, why string) {
	if m == nil || m.Chance == 1 || p.Attempts > 0 || p.SuccessChance > 0 {
		return p.SuccessChance, ""
	}
	var hard []string
	for _, f := range m.Findings {
		if k := strings.ReplaceAll(string(f.Kind), "-", " "); f.Kind != mill.InsideRadius && (len(hard) == 0 || hard[len(hard)-1] != k) {
			hard = append(hard, k)
		}
	}
	return m.Chance, fmt.Sprintf("One attempt gives a good part with a chance of %s %%, for what is hard to mill (%s): give --success-chance",
		number(100*m.Chance), strings.Join(hard, ", "))
}
