package swap

import (
	"context"

	"swapworth/swap/mill"
)

// measured is what both parts are, each in the frame of its own file.
type measured struct {
	old, new part           // the redesign as it will be made
	variants []variant      // of the redesign, the drawn one first
	millable *mill.Millable // nil: not milled, or not judged
	blocks   []string       // what of it forbids `swap`
	remarks
}

// part is a shape of which it is settled what it is made of and how far its sizes may
// be off.
type part struct {
	shape
	tolerance tolerance
	known     knowledge
}

// measure finds volume, sizes and material of both parts, and the redesign as it will be
// made. stock is what the stock part is known to be made of; nil: as the case says.
func measure(c Case, old, new *shared, stock *knowledge) (measured, error) {
	shapes, err := shapesOf(c.Old, c.New, old, new)
	if err != nil {
		return measured{}, err
	}
	drawn := shapes[onRedesign]
	if err := checkLengths(c.Making, drawn.made.Mesh); err != nil {
		return measured{}, err
	}
	made, variants, making := asWillBeMade(drawn, c.Making)
	shapes[onRedesign] = made
	tolerances, sized := tolerancesOf(shapes, c.Making)
	known, stuff, err := knowBoth(c, shapes, tolerances, stock)
	if err != nil {
		return measured{}, err
	}
	millable, blocks, milling := canBeMilled(made, known[onRedesign].material, c.Making)
	return measured{
		old:      part{shapes[onStock], tolerances[onStock], known[onStock]},
		new:      part{made, tolerances[onRedesign], known[onRedesign]},
		variants: variants, millable: millable, blocks: blocks,
		remarks: making.and(sized, stuff, milling),
	}, nil
}

// shapesOf measures both meshes side by side.
func shapesOf(stock, redesign Side, old, new *shared) (shapes [2]shape, err error) {
	err = each(context.Background(), 2, nil, func(_ context.Context, side int) (err error) {
		shapes[side], err = [2]*shared{old, new}[side].measured([2]Side{stock, redesign}[side])
		return err
	})
	return shapes, err
}
