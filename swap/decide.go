package swap

import "context"

// Decide compares the redesign with the stock part. It measures both, settles
// what the case leaves open, finds stiffness and stress, propagates every
// uncertainty, holds the criteria against the result, and looks for the
// assumptions that would turn the answer over. It refuses meshes that are not
// closed and a moving mass that is less than the parts themselves.
func Decide(ctx context.Context, c Case) (Result, error) {
	return decideOn(ctx, c, &shared{}, &shared{})
}

// Decider decides cases of the same two meshes, which differ in what is stated, weighed
// and asked. What was measured and solved of the parts is kept: another weight or another
// limit takes a fraction of a second. The zero value is ready.
type Decider struct{ old, new shared }

// Decide is Decide with the parts of this decider.
func (d *Decider) Decide(ctx context.Context, c Case) (Result, error) {
	return decideOn(ctx, c, &d.old, &d.new)
}

// decideOn is Decide with parts that other cases share.
func decideOn(ctx context.Context, c Case, old, new *shared) (Result, error) {
	d, err := decisionOn(ctx, c, old, new, thorough)
	if err != nil {
		return Result{}, err
	}
	return say(d), nil
}

// manner is how a case is decided.
type manner struct {
	// inPassing: no frequencies that nobody will see, no stress where the answer does not
	// rest on it, and only those alternatives tried that may leave the answer undecided.
	inPassing bool

	stock *knowledge // what the stock part is known to be made of; nil: as the case says
}

var thorough = manner{}

// decisionOn takes a case through the steps: each is one call, and its result is never
// changed afterwards.
func decisionOn(ctx context.Context, c Case, old, new *shared, how manner) (d decision, err error) {
	// 1. Measure: what both parts are, each in its own file.
	m, err := measure(c, old, new, how.stock)
	if err != nil {
		return d, err
	}
	// 2. Place: both in one frame, held, loaded, and on the machine.
	p, err := place(c, m)
	if err != nil {
		return d, err
	}
	// 3. Respond: stiffness, stress and frequency of both on the first grids.
	found, err := respond(ctx, c, p, how.inPassing)
	if err != nil {
		return d, err
	}
	// 4. Judge: all of it in numbers, looked at as closely as the answer needs, with what
	// it costs, against the criteria.
	j, err := judgeCase(ctx, c, m, p, found, how.inPassing)
	if err != nil {
		return d, err
	}
	// 5. Try what could stand in place of what was assumed, and answer.
	others, err := alternativesFor(ctx, c, p, j, how.inPassing)
	if err != nil {
		return d, err
	}
	a, err := answerOf(ctx, c, m, j.in, j.outcome.verdict, others)
	if err != nil || how.inPassing {
		return decision{c, m, p, j, others, a, shown{}}, err
	}
	// 6. Show: what is only looked at beside the answer. Then say can put it all into words.
	s, err := show(ctx, c, m, p, j)
	return decision{c, m, p, j, others, a, s}, err
}
