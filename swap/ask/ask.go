// Package ask finds which question to ask a person next. A question is worth asking as
// far as its answer may turn the verdict; what an answer would do is read off a
// comparison that has tried every plausible one. The package knows no terminal.
package ask

import (
	"cmp"
	"slices"

	"swapworth/materials"
	"swapworth/swap"
	"swapworth/swap/casefile"
)

// Question is one thing that the person may know.
type Question struct {
	Key     string   // names it, as the case file does
	Text    string   // what is asked
	Why     string   // what its answer may turn
	Unknown string   // what holds on "I do not know"
	Choices []string // what may be answered; nil: what Answer reads
	Example string   // of what Answer reads

	// Worth is the share of the plausible worlds, all taken as equally likely, in which
	// an answer spares a wrong verdict:
	// sum over answers of (share of the commonest verdict among the worlds it leaves)
	// less the share of the commonest verdict among all.
	Worth float64

	blocks bool
	effort int
	answer func(text string) (casefile.File, error)
}

// Answer returns what an answer says, as a case that says nothing else. It refuses
// what it cannot read by saying what was expected.
func (q Question) Answer(text string) (casefile.File, error) { return q.answer(text) }

// Next returns the question most worth asking: first of those that forbid any firm
// verdict, then by worth, then the one that takes least effort to find out. There is
// none where no answer that is left may turn the verdict. known is what the case says
// and asked the keys of the questions that were put before.
func Next(known casefile.File, r swap.Result, table *materials.Table, asked []string) (q Question, ok bool) {
	open := slices.DeleteFunc(questions(known, r, table), func(q Question) bool {
		return slices.Contains(asked, q.Key) || q.Worth <= 0
	})
	slices.SortStableFunc(open, func(a, b Question) int {
		return cmp.Or(-compareBool(a.blocks, b.blocks), -cmp.Compare(a.Worth, b.Worth), cmp.Compare(a.effort, b.effort))
	})
	if len(open) == 0 {
		return Question{}, false
	}
	return open[0], true
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return 1
	}
	return -1
}

// world is one plausible way that things are, and the verdict in it.
type world struct {
	is      string
	verdict swap.Verdict
}

// worlds are the plausible ways that one assumption may be, the one that was taken
// first.
func worlds(r swap.Result, assumption string) (out []world, tried []swap.Tried) {
	for _, t := range r.Explored.Tried {
		if t.Assumption == assumption {
			if len(out) == 0 {
				out = append(out, world{t.From, r.Explored.Judged})
			}
			out, tried = append(out, world{t.To, t.Verdict}), append(tried, t)
		}
	}
	return out, tried
}

// worth is what telling worlds apart by cell is worth, see Question.
func worth(all []world, cell func(world) string) float64 {
	if len(all) == 0 {
		return 0
	}
	cells := map[string][]world{}
	for _, w := range all {
		cells[cell(w)] = append(cells[cell(w)], w)
	}
	told := 0
	for _, in := range cells {
		told += commonest(in)
	}
	return float64(told-commonest(all)) / float64(len(all))
}

// commonest returns how many worlds have the verdict that most have.
func commonest(all []world) int {
	count := map[swap.Verdict]int{}
	most := 0
	for _, w := range all {
		count[w.verdict]++
		most = max(most, count[w.verdict])
	}
	return most
}

// apart tells every world from every other.
func apart(w world) string { return w.is }
