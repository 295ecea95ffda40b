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
	close, err := refine(ctx, c, p, in, inPassing)
	if err != nil {
		return judged{}, err
	}
	directions, second := secondOpinion(mechanicsOf(c, true), p, close.directions)
	price := priceOf(c, m, in)
	in = in.found(directions, price.cost)
	bolting := boltingOf(c, p)
	bolts, err := judgeBolts(bolting, p, in)
	if err != nil {
		return judged{}, err
	}
	worst, err := judgeJoint(bolting, p, in, bolts)
	if err != nil {
		return judged{}, err
	}
	in = in.blockedBy(jointBlocks(worst))
	return judged{
		in: in, outcome: judge(in), price: price, bolts: bolts, joint: worst, leftOpen: close.leftOpen,
		remarks: close.remarks.and(second, price.remarks),
	}, nil
}

// answer is a verdict, and what was tried of what could stand in place of what was
// assumed.
type answer struct {
	verdict   Verdict
	turnovers []Turnover
	tried     []Tried
	slips     []slip
}

// answerOf tries the alternatives to what was assumed, and applies the rules that stand
// above the probabilities: nothing is firm before a slip is settled or where a material
// that nobody knows would turn it, and no saving is promised against a weight that
// contradicts what the part is said to be.
func answerOf(ctx context.Context, c Case, m measured, in inputs, by Verdict, others []alternative) (answer, error) {
	turns, tried, err := turnoversOf(ctx, in, by, others)
	if err != nil {
		return answer{}, err
	}
	a := answer{by, turns, tried, slipsOf(c, m)}
	open := slices.ContainsFunc(turns, func(t Turnover) bool { return t.kind == undecided })
	if open || len(a.slips) > 0 || by == Swap && contradicted(m.old.known, m.new.known) {
		a.verdict = CheckFirst
	}
	return a, nil
}
