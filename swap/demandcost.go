package swap

import (
	"fmt"
	"slices"

	"swapworth/materials"
	"swapworth/swap/internal/draw"
)

// maxCost bounds what the swap costs, time included.
var maxCost = Demand{
	Name: "max-cost", Kind: "number", Usage: "most the swap may cost, in your currency",
	Label: "Most it may cost", Hint: "no limit if left empty", Zero: true,
	Limit: func(d *Demands) **float64 { return &d.MaxCost },

	atMost: true,
	sample: func(in inputs) []sampled {
		return []sampled{costs(in, "cost")}
	},
	less: func(n *Needed, by float64, in inputs) {
		n.Cheaper = &by
		n.Says = append(n.Says, in.cost.Sum(number(by))+" cheaper")
	},
	says: func(c Criterion) string {
		return fmt.Sprintf("It costs %s; at most %s was asked for", c.money(*c.Value), c.money(materials.Exactly(*c.Limit)))
	},
	settle: check("Ask a price for the part and give --quoted-price"),
}

// maxHours bounds the time that the swap takes.
var maxHours = Demand{
	Name: "max-hours", Kind: "hours", Usage: "most hours it may take (default unit h)",
	Label: "Most hours it may take", Hint: "no limit if left empty", Zero: true,
	Limit: func(d *Demands) **float64 { return &d.MaxHours },

	atMost: true,
	sample: func(in inputs) []sampled {
		return []sampled{takes(in)}
	},
	less: func(n *Needed, by float64, in inputs) {
		n.Hours = &by
		n.Says = append(n.Says, fmt.Sprintf("%s h less", number(by)))
	},
	says: func(c Criterion) string {
		return fmt.Sprintf("It takes %s h; at most %s h was asked for", span(*c.Value), number(*c.Limit))
	},
	settle: check("Plan the work at the mill and give --cam-time, --attempts or --mill-profile"),
}

// takes draws the hours that the work takes.
func takes(in inputs) sampled {
	m := sampled{name: "hours", missing: "--hours, or a --mill-profile that covers the part"}
	if in.cost.Hours != nil {
		m.missing, m.nominal, m.sample = "", *in.cost.Hours, slices.Clone(in.draws.Bounded(in.cost.hours, hoursTaken))
	}
	return m
}

// costs draws what the swap costs: a quoted price, or stock and time.
func costs(in inputs, what string) sampled {
	c := in.cost
	m := sampled{name: c.In(what), missing: "--hourly-value or --quoted-price"}
	switch {
	case c.Total == nil:
		return m
	case c.bought:
		m.sample = slices.Clone(in.draws.Bounded(c.quoted, priceQuoted))
	default:
		hours, hour, stock := in.draws.Bounded(c.hours, hoursTaken), in.draws.Bounded(c.hour, priceOfHour), in.draws.Bounded(c.stock, priceOfStock)
		m.sample = make([]float64, draw.Count)
		for i := range m.sample {
			m.sample[i] = stock[i] + hours[i]*hour[i]
		}
	}
	m.missing, m.nominal = "", *c.Total
	return m
}
