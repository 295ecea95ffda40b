package swap

import "swapworth/swap/mill"

// lesser prices what would do less: each is a variant of the stock part, or a
// bought part.
func lesser(how Making, m measured, in inputs) ([]mill.Lesser, error) {
	out := []mill.Lesser{}
	if len(how.Lesser) == 0 {
		return out, nil
	}
	chance, _ := chanceOf(how.Pricing, m.millable)
	stock, profile, j := m.old.made, how.planned(), job(how.Pricing, chance, in, m.old.known.material)
	j.Density = m.old.known.density.Nominal // that of the part itself where it was weighed
	for _, l := range how.Lesser {
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
