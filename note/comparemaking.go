package note

import (
	"fmt"
	"strings"

	"swapworth/internal/textwrap"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap"
)

// makingBlocks say how the redesign comes off the mill, what that costs, and
// what would do less.
func makingBlocks(r swap.Result) []render.Block {
	var out []render.Block
	if len(r.AsMade) > 0 {
		out = append(out, asMadeTable(r))
		if notes := asMadeNotes(r); len(notes) > 0 {
			out = append(out, render.List{Title: "How the variants were made", Items: notes})
		}
	}
	if r.Milling != nil {
		out = append(out, costLines(r), millingTable(r))
	}
	if len(r.Reactions) > 0 {
		out = append(out, reactionTable(r))
	}
	if len(r.Bolts) > 0 {
		out = append(out, boltTable(r))
	}
	if r.Joint != nil {
		out = append(out, jointTable(r), render.List{Title: "Cautions on the joint", Items: r.Joint.Cautions})
	}
	if len(r.Lesser) > 0 {
		out = append(out, lesserTable(r))
	}
	return out
}

// asMadeTable sets every departure from the drawing beside the part as drawn.
func asMadeTable(r swap.Result) render.Table {
	t := render.Table{
		Title:  "The redesign as made; * marks what the table above is computed with",
		Header: []string{"", "mass, g", "against drawn, %", "saving, %", "stiffness ratio", ""},
		Align:  "lrrrrl",
	}
	for _, a := range r.AsMade {
		mark := ""
		if a.Used {
			mark = "*"
		}
		t.Rows = append(t.Rows, []string{
			a.Name, optional(a.Mass, 3), optionalSigned(a.ChangePercent, 3), optional(a.SavingPercent, 3), optional(a.StiffnessRatio, 3), mark,
		})
	}
	return t
}

// signed is Number with a plus sign before what is more than nothing.
func signed(v float64, digits int) string {
	if s := quantity.Number(v, digits); v > 0 && s != missing {
		return "+" + s
	}
	return quantity.Number(v, digits)
}

// optionalSigned is Signed for a value that may be missing.
func optionalSigned(v *float64, digits int) string {
	if v == nil {
		return missing
	}
	return signed(*v, digits)
}

// worthSaying is the share of a volume from which its error is named: less than
// any density is known to.
const worthSaying = 1e-3

func asMadeNotes(r swap.Result) []string {
	var out []string
	for _, a := range r.AsMade {
		notes := a.Notes
		if a.VolumeError != nil && *a.VolumeError > worthSaying**a.Volume {
			notes = append(notes[:len(notes):len(notes)], fmt.Sprintf("its volume is known to %s mm3", quantity.Short(*a.VolumeError, 2)))
		}
		if len(notes) > 0 {
			out = append(out, a.Name+": "+strings.Join(notes, "; "))
		}
	}
	return out
}

// costLines sums time and money up; what nobody priced is left open.
func costLines(r swap.Result) render.Lines {
	e, c := r.Milling, r.Cost
	attempts := "attempts"
	if e.Attempts == 1 {
		attempts = "attempt"
	}
	text := fmt.Sprintf("%s for all parts, %s %s expected; stock %s from a blank of %s x %s x %s mm",
		hours(e.Hours), quantity.Short(e.Attempts, 3), attempts, c.Sum(quantity.Number(e.Stock, 3)), quantity.Short(e.Blank[0], 4), quantity.Short(e.Blank[1], 4), quantity.Short(e.Blank[2], 4))
	out := render.Lines{Title: "What it costs", Lines: lines(render.Plain, text)}
	if c == nil || c.Total == nil {
		out.Lines = append(out.Lines, render.Line{Text: "Your time is not priced: give --hourly-value, or --quoted-price of a supplier."})
		return out
	}
	sum := "In all " + c.Sum(quantity.Fixed(*c.Total, 2))
	if c.PerGramSaved != nil {
		sum += fmt.Sprintf(", which is %s for each gram saved", c.Sum(quantity.Number(*c.PerGramSaved, 3)))
	}
	if c.StockParts != nil {
		sum += fmt.Sprintf("; as many stock parts cost %s", c.Sum(quantity.Number(*c.StockParts, 3)))
	}
	out.Lines = append(out.Lines, lines(render.Plain, sum)...)
	return out
}

// hours writes a time the way a person would say it.
func hours(h float64) string {
	if h < 1 {
		return quantity.Number(60*h, 2) + " min"
	}
	return quantity.Number(h, 2) + " h"
}

func millingTable(r swap.Result) render.Table {
	t := render.Table{Title: "Where the time goes, for one good part: " + r.Milling.Profile, Header: []string{"operation", "min", "share, %", "how"}, Align: "lrrl"}
	for _, o := range r.Milling.Operations {
		t.Rows = append(t.Rows, []string{o.Name, quantity.Number(o.Minutes, 2), quantity.Number(100*o.Share, 2), o.How})
	}
	return t
}

func lesserTable(r swap.Result) render.Table {
	t := render.Table{Title: "What would do less", Header: []string{"", "saved, g", "time", r.Cost.In("cost"), "per gram"}}
	for _, l := range r.Lesser {
		t.Rows = append(t.Rows, []string{l.Name, quantity.Number(l.Saved, 3), hours(l.Hours), quantity.Number(l.Total, 3), optional(l.PerGram, 3)})
	}
	return t
}

func jointTable(r swap.Result) render.Table {
	j := r.Joint
	t := render.Table{
		Title:  fmt.Sprintf("The joint: %s tightened to %s N, %s N m", j.Thread, quantity.Number(j.PreloadN, 3), quantity.Number(j.TorqueNM, 2)),
		Header: []string{"", "load", "capacity", "factor", ""}, Align: "lrrrl",
	}
	if j.Tapping > 0 {
		t.Title += fmt.Sprintf("; tapping drill %s mm", quantity.Short(j.Tapping, 3))
	}
	if j.Clearance != nil {
		t.Title += fmt.Sprintf(", clearance hole %s mm", quantity.Short(*j.Clearance, 3))
	}
	for _, f := range j.Findings {
		word := "met"
		if !f.Met {
			word = "falls short"
		}
		t.Rows = append(t.Rows, []string{
			f.Name, quantity.Number(f.Load, 3) + textwrap.Tie + f.Unit, quantity.Number(f.Capacity, 3) + textwrap.Tie + f.Unit, quantity.Number(f.Factor, 3), word,
		})
	}
	return t
}
