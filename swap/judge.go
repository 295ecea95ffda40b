package swap

import (
	"context"
	"slices"

	"swapworth/swap/joint"
)

// judged is a case with everything known of it in numbers, held against the criteria.
type judged struct {
	in       inputs
	outcome  outcome
	price    price
	bolts    []Bolt
	joint    *joint.Result // of the worst bolt; nil where none was named
	leftOpen bool          // the stress, for the answer does not rest on it
	remarks
}

// judgeCase looks as closely as the answer needs, prices the redesign, judges its bolts,
// and holds the criteria against what it found.
func judgeCase(ctx context.Context, c Case, m measured, p placed, found responses, inPassing bool) (judged, error) {
	in := gathered(c, p, found, slices.Concat(m.blocks, p.blocks))
	close, err := refine(ctx, mechanicsOf(c, inPassing), p, in, inPassing, c.Progress)
	if err != nil {
		return judged{}, err
	}
	directions, second := secondOpinion(mechanicsOf(c, true), p, close.directions)
	price := priceOf(c, m, in)
	in.directions, in.cost = directions, price.cost
	bolting := boltingOf(c, p)
	bolts, err := judgeBolts(bolting, p, in)
	if err != nil {
		return judged{}, err
	}
	worst, err := judgeJoint(bolting, p, in, bolts)
	if err != nil {
		return judged{}, err
	}
	in.blocks = append(in.blocks, jointBlocks(worst)...)
	return judged{
		in: in, outcome: judge(in), price: price, bolts: bolts, joint: worst, leftOpen: close.leftOpen,
		remarks: close.remarks.and(second, price.remarks),
	}, nil
}
