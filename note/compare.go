package note

import (
	"fmt"
	"path/filepath"
	"strings"

	"swapworth/quantity"
	"swapworth/swap"
)

// Compare lays a comparison out: the verdict with its reasons, the parts side by
// side, the criteria, what to check first, and then what the answer rests on.
func Compare(r swap.Result, c swap.Case) Document {
	d := Document{Title: compareTitle(r), Lead: compareLead(r)}
	add := func(b Block) { d.Blocks = append(d.Blocks, b) }
	add(compareTable(r))
	add(criteriaTable(r))
	add(nextStep(r))
	add(Later(func() []Block { return asBlocks(drawnFigures(r)) }))
	if len(r.Turnovers) > 0 {
		add(turnoverTable(r))
	}
	if r.Fit != nil && len(r.Fit.Findings) > 0 {
		add(List{Title: "Bolting on", Items: boltingOn(*r.Fit)})
	}
	for _, b := range millingBlocks(r) {
		add(b)
	}
	for _, b := range makingBlocks(r) {
		add(b)
	}
	if r.Drawing != nil {
		d.Blocks = append(d.Blocks, SpareBlocks("Where the redesign's next gram is", r.Spare, r.Drawing.New.Mesh, r.Drawing.New.Shape)...)
	}
	if len(r.BreakEvens) > 0 {
		add(breakEvenTable(r))
	}
	add(List{Title: "Assumed", Items: r.Assumptions})
	add(List{Title: "What more would tell", Items: r.Missing})
	add(Lines{Title: "Warnings", Lines: lines(Caution, r.Warnings...)})
	if len(r.Drivers) > 0 {
		add(Detail{driverTable(r)})
		add(Detail{howSure})
	}
	add(Later(func() []Block { return compareFigures(r) }))
	add(Detail{inputTable(c, partOf{"stock part", c.Old, r.Old}, partOf{"redesign", c.New, r.New})})
	add(List{Title: "Cautions", Items: r.Cautions})
	return d
}

func nextStep(r swap.Result) Block {
	return Last{Lines{Title: "Next step", Lines: lines(Plain, r.NextStep)}}
}

func compareTitle(r swap.Result) string {
	return fmt.Sprintf("Swap or keep: %s against %s", filepath.Base(r.New.File), filepath.Base(r.Old.File))
}

// compareLead is the verdict and its reasons. A weight that contradicts what the
// part is said to be is the loudest line.
func compareLead(r swap.Result) []Line {
	verdict := "Verdict: " + string(r.Verdict)
	if r.Condition != nil {
		verdict += ", " + *r.Condition
	}
	lead := []Line{{verdict, toneOf(r.Verdict)}}
	for i, reason := range r.Reasons {
		tone := Plain
		if i == 0 && (r.Old.Contradiction != nil || r.New.Contradiction != nil) {
			tone = Bad
		}
		lead = append(lead, Line{fullStop(reason), tone})
	}
	return lead
}

func toneOf(v swap.Verdict) Tone {
	return map[swap.Verdict]Tone{swap.Swap: Good, swap.CheckFirst: Caution, swap.Keep: Bad}[v]
}

func fullStop(s string) string {
	if s == "" || strings.ContainsRune(".!?", rune(s[len(s)-1])) {
		return s
	}
	return s + "."
}

func lines(t Tone, texts ...string) []Line {
	var out []Line
	for _, text := range texts {
		if text != "" {
			out = append(out, Line{fullStop(text), t})
		}
	}
	return out
}

// criteriaTable lists every criterion, judged or not.
func criteriaTable(r swap.Result) Table {
	t := Table{Title: "Criteria", Header: []string{"", "asked", "found", "chance", ""}, Align: "lrrrl"}
	for _, c := range r.Criteria {
		t.Rows = append(t.Rows, []string{
			c.Name, asked(c), found(c), chance(c.Probability), judged(c),
		})
	}
	if r.Probability != nil && len(r.Criteria) > 1 {
		t.Rows = append(t.Rows, []string{"all of them together", "", "", chance(r.Probability), ""})
	}
	return t
}

func asked(c swap.Criterion) string {
	if c.Limit == nil {
		return Missing
	}
	word := "at least"
	if c.AtMost {
		word = "at most"
	}
	return word + tie + quantity.Short(*c.Limit, 4)
}

// chance writes a probability in percent.
func chance(p *float64) string {
	if p == nil {
		return Missing
	}
	digits := 3
	if *p > 0.99 {
		digits = 4 // 99.97 % is not 100 %
	}
	return quantity.Short(100**p, digits) + tie + "%"
}

// found is the value of a criterion, or what would let it be judged.
func found(c swap.Criterion) string {
	switch {
	case c.Value != nil:
		return Interval(*c.Value, 3)
	case c.Missing != "":
		return "not judged: give " + strings.ReplaceAll(c.Missing, " ", tie)
	}
	return "not judged"
}

func judged(c swap.Criterion) string {
	switch {
	case c.Met == nil:
		return Missing
	case *c.Met:
		return "met"
	}
	return "missed"
}

func turnoverTable(r swap.Result) Table {
	t := Table{
		Title:  "What would turn the answer over, cheapest check first",
		Header: []string{"assumption", "taken as", "if it is", "then", "check"},
		Align:  "lllll",
	}
	for _, o := range r.Turnovers {
		t.Rows = append(t.Rows, []string{o.Assumption, o.From, o.To, string(o.Verdict), o.Check})
	}
	return t
}

func breakEvenTable(r swap.Result) Table {
	t := Table{Title: "Where the answer turns", Header: []string{"", "value", "meaning"}, Align: "lrl"}
	for _, b := range r.BreakEvens {
		t.Rows = append(t.Rows, []string{b.Quantity, quantity.Number(b.Value, 3) + tie + strings.ReplaceAll(b.Unit, " ", tie), b.Meaning})
	}
	return t
}

// driverTable says where the uncertainty comes from.
func driverTable(r swap.Result) Table {
	t := Table{
		Title:  "What makes the answer uncertain: each input alone, widest first",
		Header: []string{"quantity", "input", "quantity then"}, Align: "llr",
	}
	for _, d := range r.Drivers {
		t.Rows = append(t.Rows, []string{d.Quantity, d.Input, Interval(d.Range, 4)})
	}
	return t
}

// howSure says what an interval is.
var howSure = Lines{Title: "How to read an interval", Lines: []Line{{
	Text: "It holds 95 % of 20 000 draws of the uncertain inputs (JCGM 101:2008), around the value from nominal inputs.",
}}}
