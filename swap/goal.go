package swap

import (
	"fmt"

	"swapworth/materials"
)

// againstStock is the demand of the goal Cheaper, whose limit is the price of the stock
// parts.
var againstStock = Demand{
	atMost: true,
	less:   maxCost.less,
	says: func(c Criterion) string {
		if c.Limit == nil {
			return "Whether it is cheaper is not judged: give " + c.Missing
		}
		return fmt.Sprintf("It costs %s; as many stock parts cost %s", c.money(*c.Value), c.money(materials.Exactly(*c.Limit)))
	},
	settle: check("Ask a price for the part and give --quoted-price"),
}

// judgePrice holds the cost against what as many stock parts cost, where the swap is to
// be cheaper.
func judgePrice(in inputs) []ruling {
	if in.limits.Goal != Cheaper {
		return nil
	}
	m, limit := costs(in, "cost against stock parts"), in.cost.StockParts
	if limit == nil {
		m.missing = "--old-price"
	} else if m.missing == "" { // a price that is open itself: what counts is by how much it is undercut
		for i, price := range in.draws.Bounded(in.cost.stockParts, priceOfParts) {
			m.sample[i] *= *limit / price
		}
	}
	return []ruling{againstStock.rule(m, limit, in)}
}
