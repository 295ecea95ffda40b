package note

import (
	"strings"

	"swapworth/internal/textwrap"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// criteriaTable lists every criterion, judged or not.
func criteriaTable(r swap.Result) render.Table {
	t := render.Table{Title: "Criteria", Header: []string{"", "asked", "found", "chance", ""}, Align: "lrrrl"}
	for _, c := range r.Criteria {
		t.Rows = append(t.Rows, []string{
			strings.Replace(c.Name, "acceleration gain", gainName(r.Motion), 1), asked(c), found(c), chance(c.Probability), judged(c),
		})
	}
	if r.Probability != nil && len(r.Criteria) > 1 {
		t.Rows = append(t.Rows, []string{"all of them together", "", "", chance(r.Probability), ""})
	}
	return t
}

func asked(c swap.Criterion) string {
	if c.Limit == nil {
		return missing
	}
	word := "at least"
	if c.AtMost {
		word = "at most"
	}
	return word + textwrap.Tie + quantity.Short(*c.Limit, 4)
}

// chance writes a probability in percent.
func chance(p *float64) string {
	if p == nil {
		return missing
	}
	digits := 3
	if *p > 0.99 {
		digits = 4 // 99.97 % is not 100 %
	}
	return quantity.Short(100**p, digits) + textwrap.Tie + "%"
}

// found is the value of a criterion, or what would let it be judged.
func found(c swap.Criterion) string {
	switch {
	case c.Value != nil:
		return interval(*c.Value, 3)
	case c.Missing != "":
		return "not judged: give " + strings.ReplaceAll(c.Missing, " ", textwrap.Tie)
	}
	return "not judged"
}

func judged(c swap.Criterion) string {
	switch {
	case c.Met == nil:
		return missing
	case *c.Met:
		return "met"
	}
	return "missed"
}
