package note

import (
	"fmt"
	"path/filepath"

	"swapworth/note/render"
	"swapworth/swap"
)

func nextStep(r swap.Result) render.Block {
	return render.Last{Block: render.Lines{Title: "Next step", Lines: lines(render.Plain, r.NextStep)}}
}

func compareTitle(r swap.Result) string {
	return fmt.Sprintf("Swap or keep: %s against %s", filepath.Base(r.New.File), filepath.Base(r.Old.File))
}

// compareLead is the verdict and its reasons. A weight that contradicts what the
// part is said to be is the loudest line.
func compareLead(r swap.Result) []render.Line {
	verdict := "Verdict: " + string(r.Verdict)
	if r.Condition != nil {
		verdict += ", " + *r.Condition
	}
	lead := []render.Line{{Text: verdict, Tone: toneOf(r.Verdict)}}
	for i, reason := range r.Reasons {
		tone := render.Plain
		if i == 0 && (r.Old.Contradiction != nil || r.New.Contradiction != nil) {
			tone = render.Bad
		}
		lead = append(lead, render.Line{Text: fullStop(reason), Tone: tone})
	}
	return lead
}

func toneOf(v swap.Verdict) render.Tone {
	return map[swap.Verdict]render.Tone{swap.Swap: render.Good, swap.CheckFirst: render.Caution, swap.Keep: render.Bad}[v]
}
