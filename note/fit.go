package note

import (
	"fmt"
	"slices"
	"strings"

	"swapworth/internal/textwrap"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/swap/fit"
)

// FitReport is what `fit` prints: the result with the two files it is about.
type FitReport struct {
	OldFile string `json:"old_file"`
	NewFile string `json:"new_file"`

	// AcceptFile holds findings that the person means to be so; empty for none.
	AcceptFile string `json:"accept_file"`
	fit.Result
}

// Document lays the comparison of two parts' holes out for reading.
func (r FitReport) Document() render.Document {
	lead := render.Line{Text: "The new part bolts on where the old one did.", Tone: render.Good}
	switch {
	case r.Open():
		lead = render.Line{Text: "Whether the new part bolts on is open: how it lies on the old one is a guess.", Tone: render.Caution}
	case !r.OK:
		lead = render.Line{Text: "The new part does not bolt on as it is.", Tone: render.Bad}
	case len(r.Accepted) == 1:
		lead = render.Line{Text: "The new part bolts on, with one difference that was accepted.", Tone: render.Good}
	case len(r.Accepted) > 1:
		lead = render.Line{Text: fmt.Sprintf("The new part bolts on, with %d differences that were accepted.", len(r.Accepted)), Tone: render.Good}
	case len(r.Pairs) == 0 && !r.comparedMore():
		lead = render.Line{Text: "Nothing stands against the new part, but no hole could be compared.", Tone: render.Caution}
	}
	doc := render.Document{Title: "Does the new part fit?", Lead: []render.Line{lead}}
	if len(r.Holes) > 0 && !r.otherUnit() {
		doc.Blocks = append(doc.Blocks, r.table())
	}
	if len(r.Findings) > 0 {
		doc.Blocks = append(doc.Blocks, r.findings())
	}
	if len(r.Unmet) > 0 {
		doc.Blocks = append(doc.Blocks, r.unmet())
	}
	doc.Blocks = append(doc.Blocks, r.envelopeTable())
	if r.otherUnit() {
		return doc
	}
	doc.Blocks = append(doc.Blocks, render.Lines{Title: "How it was compared", Lines: r.method()})
	return doc
}

// otherUnit reports whether nothing but the unit was compared.
func (r FitReport) otherUnit() bool {
	return slices.ContainsFunc(r.Details, func(f fit.Finding) bool { return f.Kind == "unit" })
}

// table lists the old part's holes with what became of them, then new holes.
func (r FitReport) table() render.Table {
	t := render.Table{
		Title:  "Holes",
		Header: []string{"old", "new", "kind", "dia., mm", "depth, mm", "moved, mm", "centre, mm", "suits"},
		Align:  "rrlrrrll",
	}
	taken := map[int]bool{}
	for _, h := range r.Holes {
		if h.Part != "old" {
			continue
		}
		p, n := r.partner(h.Number)
		if p == nil {
			t.Rows = append(t.Rows, holeRow(fmt.Sprint(h.Number), "missing", h, nil, ""))
			continue
		}
		taken[p.New] = true
		t.Rows = append(t.Rows, holeRow(fmt.Sprint(p.Old), fmt.Sprint(p.New), h, n, quantity.Fixed(p.Moved, 2)))
	}
	for _, h := range r.Holes {
		if h.Part == "new" && !taken[h.Number] {
			t.Rows = append(t.Rows, holeRow("none", fmt.Sprint(h.Number), h, nil, ""))
		}
	}
	return t
}

func (r FitReport) partner(old int) (*fit.Pair, *fit.Hole) {
	for i, p := range r.Pairs {
		if p.Old != old {
			continue
		}
		for k, h := range r.Holes {
			if h.Part == "new" && h.Number == p.New {
				return &r.Pairs[i], &r.Holes[k]
			}
		}
	}
	return nil, nil
}

// holeRow writes a hole; where its partner differs, both values.
func holeRow(old, new string, h fit.Hole, partner *fit.Hole, moved string) []string {
	kind, diameter, depth := h.Kind, plain(h.Diameter), plain(h.Depth)
	suits := h.Suits
	if partner != nil {
		kind = arrow(kind, partner.Kind)
		diameter = arrow(diameter, plain(partner.Diameter))
		depth = arrow(depth, plain(partner.Depth))
		suits = partner.Suits
	}
	at := make([]string, 3)
	for k, x := range h.Centre {
		at[k] = plain(x)
	}
	return []string{old, new, kind, diameter, depth, moved, strings.Join(at, textwrap.Tie), strings.Join(suits, " or ")}
}

// plain writes a length to a hundredth without zeros at the end.
func plain(x float64) string {
	s := quantity.Fixed(x, 2)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

func arrow(a, b string) string {
	if a == b {
		return a
	}
	return a + textwrap.Tie + "->" + textwrap.Tie + b
}

func (r FitReport) findings() render.Lines {
	block := render.Lines{Title: "Findings"}
	for _, f := range r.Details {
		line := render.Line{Text: sentence(f.Text)}
		switch {
		case f.Blocks:
			line.Tone = render.Bad
		case f.Accepted:
			line.Text = "Accepted by the person (" + r.AcceptFile + "): " + sentence(f.Text)
		}
		block.Lines = append(block.Lines, line)
	}
	return block
}

// unmet lists what was accepted and is not found, or not so, any more.
func (r FitReport) unmet() render.Lines {
	block := render.Lines{Title: "Accepted in " + r.AcceptFile + ", but not found so"}
	for _, text := range r.Unmet {
		block.Lines = append(block.Lines, render.Line{Text: sentence(text), Tone: render.Caution})
	}
	return block
}

// comparedMore reports whether something other than holes was compared.
func (r FitReport) comparedMore() bool { return len(r.Compared) > 0 }

func (r FitReport) envelopeTable() render.Table {
	t := render.Table{Title: "Envelope", Unit: "mm", Header: []string{"part", "long", "wide", "high"}}
	for _, p := range []struct {
		name string
		size [3]float64
	}{{"old", r.Envelope.Old}, {"new", r.Envelope.New}} {
		row := []string{p.name}
		for _, x := range p.size {
			row = append(row, quantity.Fixed(x, 2))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func (r FitReport) method() []render.Line {
	how := map[fit.Method]string{
		fit.Given:         "The two files share a frame; nothing was turned or shifted.",
		fit.HolePattern:   "The new part was turned and shifted so that its hole pattern lies on the old one's.",
		fit.PrincipalAxes: "The new part was laid on the old one by centroid and principal axes.",
	}[r.Frame.Method]
	lines := []render.Line{
		{Text: how},
		{Text: "Centres are in each part's own file; those of a pair are the old part's. Diameters are those of the drawn circle, on which a mesh keeps its corners. " +
			"A hole's centre is halfway along it. Moves are in all three directions: square to the hole's axis, and along it by the face around its mouth; " +
			"a plate that is thicker on one side is told as clamped thickness."},
	}
	if len(r.Compared) > 0 {
		lines = append(lines, render.Line{Text: "Compared besides holes: " + strings.Join(r.Compared, ", ") + "."})
	}
	if len(r.NotCompared) > 0 {
		lines = append(lines, render.Line{Text: "Not compared: " + strings.Join(r.NotCompared, ", ") + "."})
	}
	return lines
}
