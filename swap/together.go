package swap

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"

	"swapworth/swap/internal/draw"
)

// Member is one pair of several on one machine.
type Member struct {
	Name string
	Case Case
}

// Together is what several swaps on one machine come to. Its JSON keys are stable.
type Together struct {
	Pairs []PairResult `json:"pairs"` // as they were named

	// All is every pair made; Worth those that are worth making when the gain is asked of
	// all together, null where there is none.
	All   Sum  `json:"all"`
	Worth *Sum `json:"worth_making"`

	// Verdict is on the pairs that are worth making, by the gain of all of them; null
	// where no moving mass says what a gain is.
	Verdict *Verdict `json:"verdict"`
	Limit   *float64 `json:"min_gain_percent"`
	Reasons []string `json:"reasons"`

	// Order is that in which the pairs pay, best first, each with what it and those
	// before it come to. Pairs that save nothing, or are to be kept, are left out.
	Order []Payment `json:"order"`

	Cautions   []string    `json:"cautions"`
	Remembered *Remembered `json:"remembered"`
}

// PairResult is one pair: its comparison by itself, and its verdict where the gain of
// acceleration is asked of all pairs together and not of it alone.
type PairResult struct {
	Name    string  `json:"name"`
	InGroup Verdict `json:"verdict_in_group"`
	Result  Result  `json:"result"`
}

// Sum is what some pairs come to together. Money and hours are null where those of one
// of them are not known.
type Sum struct {
	Pairs       []string `json:"pairs"`
	Saving      Range    `json:"saving_g"`
	Gain        *Range   `json:"acceleration_gain_percent"` // the moving mass counted once
	Frequency   *Range   `json:"frequency_gain_percent"`
	Probability *float64 `json:"probability"` // of the gain that is asked
	Hours       *float64 `json:"hours"`
	Cost        *float64 `json:"cost"`
}

// Payment is one step of the order in which pairs pay. PerGram is what a gram saved
// costs: money where all of them have a price, else hours.
type Payment struct {
	Name    string   `json:"name"`
	Saving  Range    `json:"saving_g"`
	PerGram *float64 `json:"per_gram"`
	Unit    string   `json:"per_gram_in"` // money or hours

	SavedSoFar float64  `json:"saved_so_far_g"`
	GainSoFar  *float64 `json:"gain_so_far_percent"`
	HoursSoFar *float64 `json:"hours_so_far"`
	CostSoFar  *float64 `json:"cost_so_far"`
}

// member is a pair that was decided.
type member struct {
	PairResult
	in    inputs
	saved []float64 // by draw, of all its parts: g, or kg mm2 where they swing
	grams []float64 // by draw, g
}

// DecideTogether decides every pair by itself and then all of them as one swap on the
// machine that they share. Parts of two pairs come from different lots: their draws are
// independent. It refuses pairs whose machines differ, and a moving mass that is less
// than all their stock parts.
func DecideTogether(ctx context.Context, pairs []Member, progress func(float64)) (Together, error) {
	if len(pairs) == 0 {
		return Together{}, errors.New("no pairs to compare")
	}
	all := make([]member, len(pairs))
	err := each(ctx, len(pairs), progress, func(ctx context.Context, i int) (err error) {
		if all[i], err = decideMember(ctx, pairs[i], uint64(i)); err != nil {
			return fmt.Errorf("%s: %w", pairs[i].Name, err)
		}
		return nil
	})
	if err != nil {
		return Together{}, err
	}
	if err := oneMachine(all); err != nil {
		return Together{}, err
	}
	worth, open := worthMaking(all)
	out := Together{Cautions: cautions, Remembered: pairs[0].Case.Remembered, All: sumOf(all), Worth: worth, Order: orEmpty(order(all))}
	for _, m := range all {
		out.Pairs = append(out.Pairs, m.PairResult)
	}
	in := all[0].in
	if !in.machine.known() {
		out.Reasons = []string{"What all of them gain together is open: give the moving mass in [machine]"}
		return out, nil
	}
	limit := 100 * in.limits.MinGain
	verdict, reasons := togetherVerdict(worth, open, len(all), in.limits)
	out.Limit, out.Verdict, out.Reasons = &limit, &verdict, reasons
	return out, nil
}

// decideMember decides one pair, and once more with no gain asked of it alone.
func decideMember(ctx context.Context, p Member, seed uint64) (m member, err error) {
	d, err := decisionOn(ctx, p.Case, &shared{}, &shared{}, thorough)
	if err != nil {
		return m, err
	}
	inGroup, err := answerInGroup(ctx, d)
	if err != nil {
		return m, err
	}
	saved, grams := drawnApart(d.judged.in, seed)
	return member{PairResult{Name: p.Name, InGroup: inGroup, Result: say(d)}, d.judged.in, saved, grams}, nil
}

// answerInGroup is the verdict on a pair of which no gain is asked by itself.
func answerInGroup(ctx context.Context, d decision) (Verdict, error) {
	if in := d.judged.in; !in.limits.asksGain(in.machine) {
		return d.answer.verdict, nil
	}
	free := func(in inputs) inputs { in.limits.MinGain = -1; return in }
	in := free(d.judged.in)
	others := slices.Clone(d.others)
	for i, other := range d.others {
		others[i].apply = func(in inputs) inputs { return free(other.apply(in)) }
	}
	a, err := answerOf(ctx, d.c, d.measured, in, judge(in).verdict, others)
	return a.verdict, err
}

// drawnApart is what a pair saves in every draw, in an order of its own, so that draws of
// two pairs are independent: of what moves, and in g.
func drawnApart(in inputs, seed uint64) (saved, grams []float64) {
	oldMass, newMass := in.masses()
	saved = drawnOf(in.saved, oldMass, newMass)
	grams = drawnOf(func(o, n float64) float64 { return in.count * (o - n) }, oldMass, newMass)
	const shuffled = 0x50414952 // any number: the seed of nothing else
	r := rand.New(rand.NewPCG(shuffled, seed))
	r.Shuffle(len(saved), func(i, j int) {
		saved[i], saved[j] = saved[j], saved[i]
		grams[i], grams[j] = grams[j], grams[i]
	})
	return saved, grams
}

// nominal is what the pair saves with nominal inputs: of what moves, and in g.
func (m member) nominal() (saved, grams float64) {
	o, n := m.in.old.mass(), m.in.new.mass()
	return m.in.saved(o, n), m.in.count * (o - n)
}

// oneMachine refuses pairs that do not move together, or weigh more than what moves.
func oneMachine(all []member) error {
	first := all[0].in.machine
	parts := 0.0
	for _, m := range all {
		if m.in.machine.pushed() != first.pushed() || m.in.machine.swinging() != first.swinging() {
			return fmt.Errorf("%s and %s move with different machines: pairs of one machine share moving mass and drive", all[0].Name, m.Name)
		}
		if first.swinging() {
			parts += m.in.count * m.in.old.inertia(m.in.old.mass())
		} else {
			parts += m.in.count * m.in.old.mass()
		}
	}
	switch {
	case first.swinging() && parts >= first.MovingInertia:
		return fmt.Errorf("--moving-inertia %s kg mm2: the stock parts of all pairs have %s kg mm2 about the pivot", number(first.MovingInertia), number(parts))
	case !first.swinging() && first.MovingMass > 0 && parts >= first.MovingMass:
		return fmt.Errorf("--moving-mass %s g: the stock parts of all pairs weigh %s g", number(first.MovingMass), number(parts))
	}
	return nil
}

// sumOf adds pairs up, the moving mass once: with dm of all of them, acceleration at the
// same force grows by M/(M - dm) - 1.
func sumOf(all []member) Sum {
	out := Sum{Pairs: []string{}}
	saved, grams := make([]float64, draw.Count), make([]float64, draw.Count)
	var nominal, nominalGrams float64
	for _, m := range all {
		out.Pairs = append(out.Pairs, m.Name)
		for i := range saved {
			saved[i] += m.saved[i]
			grams[i] += m.grams[i]
		}
		s, g := m.nominal()
		nominal, nominalGrams = nominal+s, nominalGrams+g
	}
	out.Saving = draw.Interval(grams, nominalGrams)
	out.Hours = total(all, func(c Cost) *float64 { return c.Hours })
	out.Cost = total(all, func(c Cost) *float64 { return c.Total })
	if in := all[0].in; in.machine.known() {
		out.Gain, out.Probability = gainOf(in, saved, nominal, in.machine.gain)
		out.Frequency, _ = gainOf(in, saved, nominal, in.machine.ring)
	}
	return out
}

// gainOf is a gain in percent that comes of what is saved, and the probability of the
// least one that is asked.
func gainOf(in inputs, saved []float64, nominal float64, of func(float64) float64) (*Range, *float64) {
	gains := make([]float64, len(saved))
	met := make([]bool, len(saved))
	for i, s := range saved {
		gains[i] = 100 * of(s)
		met[i] = gains[i] >= 100*in.limits.MinGain
	}
	r, p := draw.Interval(gains, 100*of(nominal)), shareOf(met)
	return &r, &p
}

// total adds up what every pair has, nil where one has it not.
func total(all []member, of func(Cost) *float64) *float64 {
	sum := 0.0
	for _, m := range all {
		if m.Result.Cost == nil || of(*m.Result.Cost) == nil {
			return nil
		}
		sum += *of(*m.Result.Cost)
	}
	return &sum
}

// worthMaking is what the pairs that are worth making come to, nil where there is none,
// and how many are to be checked first.
func worthMaking(all []member) (worth *Sum, open int) {
	var swaps []member
	for _, m := range all {
		switch m.InGroup {
		case Swap:
			swaps = append(swaps, m)
		case CheckFirst:
			open++
		}
	}
	if len(swaps) == 0 {
		return nil, open
	}
	sum := sumOf(swaps)
	return &sum, open
}

// togetherVerdict judges the gain of the pairs that are worth making, of so many in all.
func togetherVerdict(worth *Sum, open, all int, l Limits) (Verdict, []string) {
	switch {
	case worth == nil && open > 0:
		return CheckFirst, []string{fmt.Sprintf("No pair is worth making as it stands; %d of %d are to be checked first", open, all)}
	case worth == nil:
		return Keep, []string{"No pair is worth making, whatever is asked of all together"}
	}
	verdict, p := Keep, *worth.Probability
	switch {
	case p >= l.confidence():
		verdict = Swap
	case p > 1-l.confidence() || open > 0:
		verdict = CheckFirst
	}
	reasons := []string{fmt.Sprintf("Acceleration at the same drive force changes by %s with the %d of %d that are worth making; a gain of at least %s %% is asked of all together",
		percentSpan(*worth.Gain), len(worth.Pairs), all, number(100*l.MinGain))}
	if open > 0 {
		reasons = append(reasons, fmt.Sprintf("To be checked first, and not counted: %d more", open))
	}
	return verdict, reasons
}

// order sorts the pairs that save something by what a gram costs, those that are worth
// making first, then those to be checked.
func order(all []member) []Payment {
	saving := slices.DeleteFunc(slices.Clone(all), func(m member) bool {
		_, grams := m.nominal()
		return grams <= 0 || m.InGroup == Keep
	})
	unit, price := "money", func(c Cost) *float64 { return c.Total }
	if total(saving, price) == nil {
		unit, price = "hours", func(c Cost) *float64 { return c.Hours }
	}
	perGram := func(m member) *float64 {
		_, grams := m.nominal()
		if c := m.Result.Cost; c != nil && price(*c) != nil {
			v := *price(*c) / grams
			return &v
		}
		return nil
	}
	rank := []Verdict{Swap, CheckFirst, Keep}
	slices.SortStableFunc(saving, func(a, b member) int {
		return cmp.Or(cmp.Compare(slices.Index(rank, a.InGroup), slices.Index(rank, b.InGroup)),
			comparePrices(perGram(a), perGram(b)), cmp.Compare(a.Name, b.Name))
	})
	var out []Payment
	for i, m := range saving {
		so := sumOf(saving[:i+1])
		_, grams := m.nominal()
		p := Payment{Name: m.Name, PerGram: perGram(m), Unit: unit, SavedSoFar: so.Saving.Nominal, HoursSoFar: so.Hours, CostSoFar: so.Cost}
		p.Saving = draw.Interval(slices.Clone(m.grams), grams)
		if so.Gain != nil {
			p.GainSoFar = &so.Gain.Nominal
		}
		out = append(out, p)
	}
	return out
}

// comparePrices puts what has no price last.
func comparePrices(a, b *float64) int {
	switch {
	case a == nil && b == nil:
		return 0
	case a == nil:
		return 1
	case b == nil:
		return -1
	}
	return cmp.Compare(*a, *b)
}
