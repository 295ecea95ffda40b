package swap

import "strings"

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

// money writes a sum that a criterion compares, in the currency that its name ends in.
func (c Criterion) money(v Range) string {
	_, currency, _ := strings.Cut(c.Name, ", ")
	return strings.TrimSpace(span(v) + " " + currency)
}
