package note

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"swapworth/internal/textwrap"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// What fits one screen of a terminal.
const (
	screenLines   = 45
	shortReasons  = 3
	shortRows     = 12
	shortWarnings = 3
)

// Short is the answer that fits one screen: the verdict with what it holds under, why,
// both parts, whether it bolts on and can be milled, what could change the answer,
// and last the one next step.
func Short(r swap.Result) render.Document {
	d := shortWith(r, shortenings[0], terminalLine)
	for _, s := range shortenings[1:] {
		if linesOf(d) <= screenLines {
			break
		}
		d = shortWith(r, s, terminalLine)
	}
	return d
}

// OnPage is the same where lines wrap and may be many: nothing is cut.
func OnPage(r swap.Result) render.Document { return shortWith(r, shortenings[0], 1<<20) }

// terminalLine is how long a line of the short answer may be.
const terminalLine = 78

// shortening is how much the short answer says of what could change it.
type shortening struct{ reasons, rows, warnings, lasting int }

// shortenings are tried in turn until the answer fits: first goes what is least likely
// to turn it. The least of them fits whatever the result, by the lengths that its
// texts are cut to.
var shortenings = []shortening{
	{shortReasons, shortRows, shortWarnings, mattering}, {shortReasons, shortRows, 3, 1}, {shortReasons, shortRows, 2, 1},
	{2, shortRows, 2, 1}, {2, 10, 1, 1}, {2, 8, 1, 0}, {1, 6, 1, 0},
}

// linesOf counts the lines of a document in a terminal.
func linesOf(d render.Document) int {
	var b bytes.Buffer
	if err := render.Render(&b, render.Terminal, false, nil, d); err != nil {
		return 0 // told where it is written
	}
	return bytes.Count(b.Bytes(), []byte("\n"))
}

func shortWith(r swap.Result, s shortening, line int) render.Document {
	d := render.Document{Title: compareTitle(r), Lead: shortLead(r, s.reasons, 2*line), Units: r.Units, Names: namesOf(r.Old.File, r.New.File)}
	d.Blocks = append(d.Blocks, shortTable(r, s.rows), render.Lines{Lines: append(shortFindings(r, line), shortLasting(r, s.lasting, line)...)})
	if w := shortWarningsOf(r, 2*line); len(w) > 0 {
		w = w[:min(len(w), s.warnings)]
		d.Blocks = append(d.Blocks, render.Lines{Title: "Warnings", Lines: lines(render.Caution, w...)})
	}
	last := []string{shortCaution}
	if m := r.Remembered; m != nil {
		last = append(last, rememberedLine(*m))
	}
	d.Blocks = append(d.Blocks, render.Lines{Lines: lines(render.Plain, last...), AsIs: true}, nextStep(r))
	return d
}

// shortCaution stands for the cautions that a whole note lists.
const shortCaution = "An estimate, not a proof; where a failure can hurt someone, ask a qualified engineer. --full has the rest, cautions at the mill included"

// shortLead is the verdict with its condition, and the first reasons, each cut to a
// length.
func shortLead(r swap.Result, reasons, most int) []render.Line {
	lead := compareLead(r)
	lead = lead[:min(len(lead), reasons+1)]
	for i := range lead[1:] {
		lead[i+1].Text = clippedIn(r, lead[i+1].Text, most)
	}
	return lead
}

// shortTable has both parts in at most twelve rows of one line each, those that decide
// first.
func shortTable(r swap.Result, rows int) render.Table {
	t := render.Table{Header: []string{"", "stock part", "redesign", "difference"}, Align: "lrrr"}
	add := func(cells ...string) {
		if len(t.Rows) < rows && slices.ContainsFunc(cells[1:], func(c string) bool { return c != "" && c != missing }) {
			t.Rows = append(t.Rows, cells)
		}
	}
	add("material", clipped(textOr(r.Old.Material), 16), clipped(textOr(r.New.Material), 16), "")
	mass := inUnits(r.Units, "mass each, g", middle(r.Old.Mass), middle(r.New.Mass))
	add(mass.label, nominal(mass.spanOf(r.Old.Mass)), nominal(mass.spanOf(r.New.Mass)), lighter(mass.span(r.Saving.PerPart), ""))
	add("saving, %", "", "", interval(r.Saving.Percent, 3))
	if m := r.Motion; m != nil && m.AccelerationGain != nil {
		add("acceleration gain, %", "", "", interval(*m.AccelerationGain, 3))
	}
	for _, s := range r.Stiffness {
		for _, row := range shortStiffness(r.Units, s, len(r.Stiffness) == 1) {
			add(row...)
		}
	}
	if len(r.Stiffness) > 1 {
		add("least safety factor", least(r, func(s swap.Stiffness) *float64 { return s.OldSafetyFactor }),
			least(r, func(s swap.Stiffness) *float64 { return s.NewSafetyFactor }), "")
	}
	if c := r.Cost; c != nil {
		add("hours", "", optional(c.Hours, 3), bounds(c.HoursRange))
		add(c.In("cost in all"), strings.TrimPrefix(optional(c.StockParts, 3), missing), optional(c.Total, 3), bounds(c.TotalRange))
	}
	if r.Probability != nil {
		add("all criteria met", "", "", chance(r.Probability))
	}
	return t
}

// nominal is the middle of a range alone.
func nominal(v *swap.Range) string {
	if v == nil {
		return missing
	}
	return quantity.Number(v.Nominal, 3)
}

// least is the smallest of a value over all load cases.
func least(r swap.Result, of func(swap.Stiffness) *float64) string {
	var out *float64
	for _, s := range r.Stiffness {
		if v := of(s); v != nil && (out == nil || *v < *out) {
			out = v
		}
	}
	return optional(out, 3)
}

// longestCase is how much of a load case's name the short table shows.
const longestCase = 30

// shortStiffness are the rows of a load case, of several only its stiffness.
func shortStiffness(u quantity.System, s swap.Stiffness, alone bool) [][]string {
	ratio := missing
	if s.Ratio != nil {
		ratio = "times" + textwrap.Tie + interval(*s.Ratio, 3)
	}
	among := clipped(s.Among(), longestCase)
	var rows [][]string
	row := func(name string, old, new *float64, difference string) {
		m := inUnits(u, name, old, new)
		rows = append(rows, []string{m.label, optional(m.of(old), 3), optional(m.of(new), 3), difference})
	}
	switch {
	case s.Ratio == nil:
		rows = append(rows, []string{"stiffness " + among, given(s.OldRefused), given(s.NewRefused), ""})
	case s.OldTurn != nil:
		row("stiffness "+among+", N"+textwrap.Tie+"mm/rad", s.OldTurn, s.NewTurn, ratio)
	case s.Old == nil:
		rows = append(rows, []string{"stiffness " + among, "", "", ratio})
	default:
		row("stiffness "+among+", N/mm", s.Old, s.New, ratio)
	}
	if !alone {
		return rows
	}
	if s.OldDeflection != nil || s.NewDeflection != nil {
		row("deflection, mm", s.OldDeflection, s.NewDeflection, "")
	}
	if s.OldSafetyFactor != nil || s.NewSafetyFactor != nil {
		return append(rows, []string{"safety factor", optional(s.OldSafetyFactor, 3), optional(s.NewSafetyFactor, 3), ""})
	}
	row("yields at, N", s.OldYieldForce, s.NewYieldForce, "")
	return rows
}

func given(refused string) string {
	if refused != "" {
		return "refused"
	}
	return missing
}

// shortFindings say in a line each whether the redesign bolts on and can be milled.
func shortFindings(r swap.Result, most int) []render.Line {
	var out []render.Line
	if r.Fit != nil {
		line := render.Line{Text: "It bolts on.", Tone: render.Good}
		switch {
		case len(r.Fit.Blocking) > 0:
			line = render.Line{Text: fmt.Sprintf("It does not bolt on (%d): %s.", len(r.Fit.Blocking), strings.TrimSuffix(r.Fit.Blocking[0], ".")), Tone: render.Bad}
		case len(r.Fit.Findings) > 0:
			line = render.Line{Text: "It bolts on; " + r.Fit.Findings[0] + ".", Tone: render.Plain}
		}
		out = append(out, line)
	}
	if m := r.Millable; m != nil {
		line := render.Line{Text: "It can be milled: " + millable(*m) + ".", Tone: render.Plain}
		if !m.OK {
			line = render.Line{Text: "It cannot be milled: " + m.Findings[0].Says + ".", Tone: render.Bad}
		}
		out = append(out, line)
	}
	for i := range out {
		out[i].Text = clippedIn(r, out[i].Text, most)
	}
	return out
}

// shortWarningsOf are the first warnings, those of both parts that say the same as
// one.
func shortWarningsOf(r swap.Result, most int) []string {
	var out []string
	seen := map[string]int{}
	for _, w := range r.Warnings {
		what := w
		for _, part := range []string{"stock part", "redesign"} {
			what = strings.TrimPrefix(what, part+", ")
		}
		if i, twice := seen[what]; twice {
			out[i] = clippedIn(r, "both parts, "+what, most)
			continue
		}
		seen[what] = len(out)
		out = append(out, clippedIn(r, w, most))
	}
	return out[:min(len(out), shortWarnings)]
}
