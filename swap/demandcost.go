package swap

import "fmt"

// maxCost bounds what the swap costs, time included.
var maxCost = Demand{
	Name: "max-cost", Kind: "number", Usage: "most the swap may cost, in your currency",
	Label: "Most it may cost", Hint: "no limit if left empty", Zero: true,
	Limit: func(d *Demands) **float64 { return &d.MaxCost },

	atMost: true,
	sample: func(in inputs) []measured {
		return []measured{ofCost(in.cost.In("cost"), in.cost.Total, "--hourly-value or --quoted-price")}
	},
	says: func(c Criterion) string {
		return fmt.Sprintf("It costs %s; at most %s was asked for", c.money(c.Value.Nominal), c.money(*c.Limit))
	},
	settle: check("Ask a price for the part and give --quoted-price"),
}

// maxHours bounds the time that the swap takes.
var maxHours = Demand{
	Name: "max-hours", Kind: "hours", Usage: "most hours it may take (default unit h)",
	Label: "Most hours it may take", Hint: "no limit if left empty", Zero: true,
	Limit: func(d *Demands) **float64 { return &d.MaxHours },

	atMost: true,
	sample: func(in inputs) []measured {
		return []measured{ofCost("hours", in.cost.Hours, "--mill-profile that covers the part")}
	},
	says: func(c Criterion) string {
		return fmt.Sprintf("It takes %s h; at most %s h was asked for", number(c.Value.Nominal), number(*c.Limit))
	},
	settle: check("Plan the work at the mill and give --cam-time, --attempts or --mill-profile"),
}

// ofCost is a sum of money or of hours that has no spread.
func ofCost(name string, value *float64, missing string) measured {
	if value == nil {
		return measured{name: name, missing: missing}
	}
	return measured{name: name, sample: known(*value), nominal: *value}
}
