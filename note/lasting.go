package note

import (
	"swapworth/note/render"
	"swapworth/swap"
	"swapworth/swap/last"
)

// mattering is how many findings stand beside the verdict.
const mattering = 3

// matterMost are the findings that stand beside the verdict, with what to do.
func matterMost(all []last.Finding) []render.Line {
	var out []render.Line
	for _, f := range all[:min(len(all), mattering)] {
		text := fullStop(aboutPart(f))
		if f.Change != "" {
			text += " " + fullStop(capital(f.Change))
		}
		out = append(out, render.Line{Text: text, Tone: render.Caution})
	}
	return out
}

func lastingLines(r swap.Result) render.Lines {
	return render.Lines{Title: "Will it last: what matters most", Lines: matterMost(r.Lasting)}
}

// shortLasting are the same in a line each.
func shortLasting(r swap.Result, most, line int) []render.Line {
	var out []render.Line
	for _, f := range r.Lasting[:min(len(r.Lasting), most)] {
		out = append(out, render.Line{Text: clippedIn(r, fullStop(aboutPart(f)), line), Tone: render.Caution})
	}
	return out
}

// aboutPart names the part where it is not the redesign, of which all else is said.
func aboutPart(f last.Finding) string {
	if f.Part == last.Redesign {
		return f.Says
	}
	return capital(f.Part) + ": " + f.Says
}

// lastingTable has all that is found, with why and what to do.
func lastingTable(all []last.Finding) render.Table {
	t := render.Table{Title: "Will it last", Header: []string{"part", "what", "why", "what to do"}, Align: "llll"}
	for _, f := range all {
		t.Rows = append(t.Rows, []string{f.Part, fullStop(f.Says), fullStop(capital(f.Why)), fullStop(capital(f.Change))})
	}
	return t
}
