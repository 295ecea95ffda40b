package casefile

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
	"unicode"

	"swapworth/materials"
	"swapworth/mesh/asmade"
	"swapworth/swap"
	"swapworth/swap/mill"
)

// making turns what the file says of how the redesign is made, what that costs
// and what would do less into the terms of the decision.
func (f File) making(table *materials.Table) (swap.Making, error) {
	m, err := f.Made.making()
	if err != nil {
		return m, err
	}
	if err := f.Cost.into(&m); err != nil {
		return m, err
	}
	if m.Lesser, err = f.Lesser.lesser(); err != nil {
		return m, err
	}
	m.Bolted, err = f.Joint.bolted(table)
	return m, err
}

func (d Made) making() (swap.Making, error) {
	m := swap.Making{
		WallStock:   float64(given(d.WallStock, 0)),
		FloorStock:  float64(given(d.FloorStock, 0)),
		NoChamfers:  given(d.NoChamfers, false),
		OriginError: float64(given(d.OriginError, 0)),
	}
	if err := cmp.Or(notBelowZero("wall-stock", d.WallStock), notBelowZero("floor-stock", d.FloorStock),
		notBelowZero("origin-error", d.OriginError)); err != nil {
		return m, err
	}
	for _, n := range d.NotFaced {
		side, err := n.side("--not-faced")
		if err != nil {
			return m, err
		}
		m.NotFaced = append(m.NotFaced, side)
	}
	if d.Tolerance == nil {
		return m, nil
	}
	class, err := asmade.ParseClass(*d.Tolerance)
	m.Tolerance = class
	return m, err
}

func (s SideLength) side(what string) (swap.NotFaced, error) {
	side, err := asmade.Side(s.Side)
	if err == nil && s.Length <= 0 {
		err = fmt.Errorf("%s: expected more than nothing", s.Length)
	}
	if err != nil {
		return swap.NotFaced{}, fmt.Errorf("%s %s: %w", what, s.Side, err)
	}
	return swap.NotFaced{Side: side, Stock: float64(s.Length), Name: s.Side}, nil
}

func (c Cost) into(m *swap.Making) error {
	m.Pricing = swap.Pricing{
		HourlyValue: within(c.HourlyValue), Hours: within(c.Hours), Quoted: within(c.QuotedPrice), PricePerKg: within(c.StockPrice),
		StockPart: within(c.OldPrice), Currency: given(c.Currency, ""),
		Attempts: float64(given(c.Attempts, 0)), SuccessChance: float64(given(c.SuccessChance, 0)),
	}
	m.Plan = mill.Plan{BlankThickness: float64(given(c.PlateThickness, 0)), SetUps: int(given(c.SetUps, 0)),
		CAM: number(c.CAMTime), Saw: number(c.SawTime), Measure: number(c.MeasureTime)}
	if err := cmp.Or(spanNotBelowZero("hourly-value", c.HourlyValue), spanNotBelowZero("quoted-price", c.QuotedPrice),
		spanNotBelowZero("stock-price", c.StockPrice), spanNotBelowZero("old-price", c.OldPrice)); err != nil {
		return err
	}
	switch {
	case strings.ContainsFunc(m.Pricing.Currency, unprintable) || len(m.Pricing.Currency) > longestCurrency:
		return fmt.Errorf("--currency %q: expected a short name such as EUR", m.Pricing.Currency)
	case c.Attempts != nil && *c.Attempts < 1:
		return fmt.Errorf("--attempts %s: expected 1 or more for each good part", *c.Attempts)
	case c.SuccessChance != nil && (*c.SuccessChance <= 0 || *c.SuccessChance > 1):
		return fmt.Errorf("--success-chance %s: expected above 0 and up to 100 %%", *c.SuccessChance)
	case c.Attempts != nil && c.SuccessChance != nil:
		return errors.New("--attempts and --success-chance exclude each other: give one")
	case c.Hours != nil && c.Hours.Low <= 0:
		return fmt.Errorf("--hours %s: expected more than nothing", *c.Hours)
	case c.SetUps != nil && *c.SetUps < 1:
		return fmt.Errorf("--set-ups %d: expected 1 or more", *c.SetUps)
	case c.PlateThickness != nil && *c.PlateThickness <= 0:
		return fmt.Errorf("--plate-thickness %s: expected more than nothing", *c.PlateThickness)
	}
	if c.MillProfile == nil {
		return nil
	}
	p, err := mill.LoadProfile(*c.MillProfile)
	m.Profile = &p
	return err
}

// longestCurrency is what a column of a table has room for, in bytes.
const longestCurrency = 12

func unprintable(r rune) bool { return !unicode.IsPrint(r) }

func (l Lesser) lesser() ([]swap.Lesser, error) {
	var out []swap.Lesser
	for _, t := range l.Trim {
		side, err := t.side("--trim")
		if err != nil {
			return nil, err
		}
		out = append(out, swap.Lesser{Trim: &side})
	}
	for _, d := range l.Drill {
		if d.Diameter <= 0 {
			return nil, fmt.Errorf("--drill %s: expected a diameter of more than nothing", d.Diameter)
		}
		out = append(out, swap.Lesser{Drill: &swap.Drill{Count: d.Count, Diameter: float64(d.Diameter)}})
	}
	for _, b := range l.Buy {
		if b.Mass <= 0 {
			return nil, fmt.Errorf("--buy %s: a mass of %s; expected more than nothing", b.Name, b.Mass)
		}
		out = append(out, swap.Lesser{Name: b.Name, Buy: &swap.Buy{Grams: float64(b.Mass), Price: b.Price}})
	}
	return out, nil
}
