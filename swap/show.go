package swap

import (
	"context"

	"swapworth/swap/mill"
)

// shown is what is only looked at beside the answer, and takes solving or measuring again.
type shown struct {
	asMade   []AsMade // the redesign as made, beside it as drawn
	pictures pictures
	lesser   []mill.Lesser // what would do less
}

// show solves the redesign as made in each respect, what only figures show, and prices
// what would do less.
func show(ctx context.Context, c Case, m measured, p placed, j judged) (shown, error) {
	rows, err := asMadeRows(ctx, mechanicsOf(c, true), c.fitting(), m.variants, p, j.in)
	if err != nil {
		return shown{}, err
	}
	pictures, err := picturesOf(ctx, mechanicsOf(c, false), p, c.Figures)
	if err != nil {
		return shown{}, err
	}
	less, err := lesser(c.Making, m, j.in)
	return shown{rows, pictures, less}, err
}
