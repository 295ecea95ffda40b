package note

import (
	"strings"

	"swapworth/internal/textwrap"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// Compare lays a comparison out: the verdict with its reasons, the parts side by
// side, the criteria, what to check first, and then what the answer rests on.
func Compare(r swap.Result, c swap.Case) render.Document {
	d := render.Document{Title: compareTitle(r), Lead: compareLead(r), Units: r.Units, Names: namesOf(r.Old.File, r.New.File)}
	add := func(b render.Block) { d.Blocks = append(d.Blocks, b) }
	d.Front = front(r)
	if len(r.Lasting) > 0 {
		add(render.OnFront{Block: lastingLines(r)})
	}
	add(compareTable(r))
	if criteria := criteriaTable(r); len(r.Criteria) <= frontCriteriaRows {
		add(render.OnFront{Block: criteria})
	} else {
		add(criteria)
	}
	add(render.OnFront{Block: nextStep(r)})
	add(render.Later(func(u quantity.System) []render.Block { return drawnFigures(u, r) }))
	if len(r.Turnovers) > 0 {
		add(turnoverTable(r))
	}
	if r.Fit != nil && len(r.Fit.Findings) > 0 {
		add(render.List{Title: "Bolting on", Items: boltingOn(*r.Fit)})
	}
	for _, b := range millingBlocks(r) {
		add(b)
	}
	if len(r.Lasting) > 0 {
		add(lastingTable(r.Lasting))
	}
	for _, b := range makingBlocks(r) {
		add(b)
	}
	if r.Drawing != nil {
		d.Blocks = append(d.Blocks, spareBlocks("Where the redesign's next gram is", r.Spare, r.Drawing.New.Mesh, r.Drawing.New.Shape)...)
	}
	if len(r.BreakEvens) > 0 {
		add(breakEvenTable(r))
	}
	d.Blocks = append(d.Blocks, RememberedBlocks(r.Remembered)...)
	add(render.List{Title: "Assumed", Items: r.Assumptions})
	add(render.List{Title: "What more would tell", Items: r.Missing})
	add(render.Lines{Title: "Warnings", Lines: lines(render.Caution, r.Warnings...)})
	if len(r.Drivers) > 0 {
		add(render.Undrawn{Block: render.Detail{Block: driverTable(r)}})
		add(render.Detail{Block: howSure})
	}
	add(render.Later(func(u quantity.System) []render.Block { return compareFigures(u, r) }))
	add(render.Detail{Block: inputTable(c, partOf{"stock part", c.Old, r.Old}, partOf{"redesign", c.New, r.New})})
	add(render.OnFront{Block: render.List{Title: cautionsTitle, Items: r.Cautions}})
	return d
}

const cautionsTitle = "Cautions"

func turnoverTable(r swap.Result) render.Table {
	t := render.Table{
		Title:  "What would turn the answer over, cheapest check first",
		Header: []string{"assumption", "taken as", "if it is", "then", "check"},
		Align:  "lllll",
	}
	for _, o := range r.Turnovers {
		t.Rows = append(t.Rows, []string{o.Assumption, o.From, o.To, string(o.Verdict), o.Check})
	}
	return t
}

func breakEvenTable(r swap.Result) render.Table {
	t := render.Table{Title: "Where the answer turns", Header: []string{"", "value", "meaning"}, Align: "lrl"}
	for _, b := range r.BreakEvens {
		t.Rows = append(t.Rows, []string{b.Quantity, quantity.Number(b.Value, 3) + textwrap.Tie + strings.ReplaceAll(b.Unit, " ", textwrap.Tie), b.Meaning})
	}
	return t
}

// driverTable says where the uncertainty comes from.
func driverTable(r swap.Result) render.Table {
	t := render.Table{
		Title:  "What makes the answer uncertain: each input alone, widest first",
		Header: []string{"quantity", "input", "quantity then"}, Align: "llr",
	}
	for _, d := range r.Drivers {
		t.Rows = append(t.Rows, []string{d.Quantity, d.Input, interval(d.Range, 4)})
	}
	return t
}

// howSure says what an interval is.
var howSure = render.Lines{Title: "How to read an interval", Lines: []render.Line{{
	Text: "It holds 95 % of 20 000 draws of the uncertain inputs (JCGM 101:2008), around the value from nominal inputs.",
}}}
