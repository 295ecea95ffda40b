package swap

import (
	"context"
	"slices"
)

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
	slips := slipsOf(c, m)
	open := slices.ContainsFunc(turns, func(t Turnover) bool { return t.kind == undecided })
	if open || len(slips) > 0 || by == Swap && contradicted(m.old.known, m.new.known) {
		by = CheckFirst
	}
	return answer{by, turns, tried, slips}, nil
}
