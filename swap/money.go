package swap

// In writes what is counted in money with the name of the currency, where there is one:
// "cost, EUR" of "cost".
func (c *Cost) In(what string) string {
	if c == nil || c.Currency == "" {
		return what
	}
	return what + ", " + c.Currency
}

// Sum writes a sum of money with the currency behind it.
func (c *Cost) Sum(amount string) string {
	if c == nil || c.Currency == "" {
		return amount
	}
	return amount + " " + c.Currency
}

// Cost is what the redesign takes to make; money in the currency the person
// typed, time in hours.
type Cost struct {
	Stock        *float64 `json:"stock"`
	Hours        *float64 `json:"hours"`
	Attempts     *float64 `json:"attempts"`
	Total        *float64 `json:"total"`
	PerGramSaved *float64 `json:"per_gram_saved"`
	StockParts   *float64 `json:"stock_parts"` // price of as many stock parts
	Currency     string   `json:"currency"`    // what the person calls it; empty where nobody said
	HoursRange   *Range   `json:"hours_range"`
	TotalRange   *Range   `json:"total_range"`

	// what is drawn; zero where it is not known
	stock, hours, hour, quoted, stockParts Range
	bought                                 bool // for the quoted price
}
