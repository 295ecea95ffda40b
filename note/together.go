package note

import (
	"fmt"
	"slices"

	"swapworth/note/render"
	"swapworth/swap"
)

// TogetherShort is what several swaps on one machine come to, on one screen.
func TogetherShort(t swap.Together) render.Document {
	d := render.Document{Title: togetherTitle(t), Lead: togetherLead(t), Units: t.Pairs[0].Result.Units, Names: togetherNames(t)}
	d.Blocks = append(d.Blocks, pairTable(t))
	if len(t.Order) > 0 {
		d.Blocks = append(d.Blocks, orderTable(t))
	}
	last := []string{shortCaution}
	if m := t.Remembered; m != nil {
		last = append(last, rememberedLine(*m))
	}
	d.Blocks = append(d.Blocks, render.Lines{Lines: lines(render.Plain, last...), AsIs: true}, togetherStep(t))
	return d
}

// Together is the same with the whole note of every pair after it.
func Together(t swap.Together, pairs []swap.Member) render.Document {
	d := render.Document{Title: togetherTitle(t), Lead: togetherLead(t), Units: t.Pairs[0].Result.Units, Names: togetherNames(t)}
	d.Blocks = append(d.Blocks, pairTable(t))
	if len(t.Order) > 0 {
		d.Blocks = append(d.Blocks, orderTable(t))
	}
	d.Blocks = append(d.Blocks, togetherStep(t))
	d.Blocks = append(d.Blocks, RememberedBlocks(t.Remembered)...)
	for i, p := range t.Pairs {
		one := p.Result
		one.Remembered = nil // said once for all
		whole := Compare(one, pairs[i].Case)
		d.Blocks = append(d.Blocks, render.Lines{Title: p.Name, Lines: whole.Lead})
		for _, b := range whole.Blocks {
			if l, ok := b.(render.Last); ok { // the end of the note is that of all pairs
				b = l.Block
			}
			if l, ok := b.(render.List); ok && l.Title == cautionsTitle {
				continue
			}
			d.Blocks = append(d.Blocks, b)
		}
	}
	d.Blocks = append(d.Blocks, render.List{Title: cautionsTitle, Items: t.Cautions})
	return d
}

func togetherTitle(t swap.Together) string {
	return fmt.Sprintf("%d swaps on one machine", len(t.Pairs))
}

func togetherNames(t swap.Together) []string {
	var paths []string
	for _, p := range t.Pairs {
		paths = append(paths, p.Result.Old.File, p.Result.New.File)
	}
	return namesOf(paths...)
}

func togetherLead(t swap.Together) []render.Line {
	lead := render.Line{Text: "No verdict on all together", Tone: render.Caution}
	if t.Verdict != nil {
		lead = render.Line{Text: "Verdict together: " + string(*t.Verdict), Tone: toneOf(*t.Verdict)}
	}
	out := []render.Line{lead}
	for _, r := range t.Reasons {
		out = append(out, render.Line{Text: fullStop(r)})
	}
	return out
}

// pairTable has a row for each pair and two for what they come to.
func pairTable(t swap.Together) render.Table {
	out := render.Table{Title: "Pair by pair", Align: "lllrrr",
		Header: []string{"", "alone", "with the others", "saving in all, g", "gain, %", "hours"}}
	for _, p := range t.Pairs {
		r := p.Result
		gain, hours := missing, missing
		if r.Motion != nil {
			gain = optionalInterval(r.Motion.AccelerationGain, 3)
		}
		if r.Cost != nil {
			hours = optional(r.Cost.Hours, 3)
		}
		alone := string(r.Verdict)
		if r.Condition != nil {
			alone += ", " + *r.Condition
		}
		out.Rows = append(out.Rows, []string{p.Name, alone, string(p.InGroup), optional(&r.Saving.Total.Nominal, 3), gain, hours})
	}
	sum := func(name string, s swap.Sum) {
		out.Rows = append(out.Rows, []string{name, "", "", optional(&s.Saving.Nominal, 3), optionalInterval(s.Gain, 3), optional(s.Hours, 3)})
	}
	sum("all", t.All)
	if t.Worth != nil && len(t.Worth.Pairs) < len(t.Pairs) {
		sum("worth making", *t.Worth)
	}
	return out
}

// orderTable is the order in which the pairs pay, each with what has been gained by
// then.
func orderTable(t swap.Together) render.Table {
	per := t.Order[0].Unit
	if c := t.Pairs[0].Result.Cost; c != nil && c.Currency != "" && per == "money" {
		per = c.Currency
	}
	out := render.Table{Title: "In the order in which they pay", Align: "lrrrr",
		Header: []string{"", "saves, g", per + " a gram", "saved so far, g", "gain so far, %"}}
	for i, p := range t.Order {
		out.Rows = append(out.Rows, []string{fmt.Sprintf("%d. %s", i+1, p.Name), interval(p.Saving, 3), optional(p.PerGram, 3),
			optional(&p.SavedSoFar, 3), optional(p.GainSoFar, 3)})
	}
	return out
}

// togetherStep is the next step of the pair that pays first and is not settled, or else
// of the first.
func togetherStep(t swap.Together) render.Block {
	step := "Leave the stock parts on"
	name := func(p swap.PairResult) string { return p.Name + ": " + p.Result.NextStep }
	at := func(n string) int {
		return slices.IndexFunc(t.Pairs, func(p swap.PairResult) bool { return p.Name == n })
	}
	for _, o := range t.Order {
		if p := t.Pairs[at(o.Name)]; p.InGroup == swap.CheckFirst {
			return render.Last{Block: render.Lines{Title: "Next step", Lines: lines(render.Plain, name(p))}}
		}
	}
	if t.Worth != nil && len(t.Order) > 0 && (t.Verdict == nil || *t.Verdict == swap.Swap) {
		step = "Begin with " + t.Order[0].Name + ": bolt pattern and stock first, then cut"
	}
	return render.Last{Block: render.Lines{Title: "Next step", Lines: lines(render.Plain, step)}}
}
