package note

import (
	"slices"
	"strings"

	"swapworth/note/render"
	"swapworth/swap"
)

// warningLines marks what a person must know before using the numbers.
func warningLines(warnings []string) []render.Line {
	var out []render.Line
	for _, w := range warnings {
		out = append(out, render.Line{Text: "Warning: " + strings.TrimSuffix(w, ".") + ".", Tone: render.Caution})
	}
	return out
}

// saidBlocks say what a check assumed and what it warns of, each where there is
// any.
func saidBlocks(assumptions, warnings []string) []render.Block {
	var out []render.Block
	if len(assumptions) > 0 {
		l := render.List{Title: "Assumed"}
		for _, a := range assumptions {
			l.Items = append(l.Items, sentence(a))
		}
		out = append(out, l)
	}
	if len(warnings) > 0 {
		block := render.Lines{Title: "Warnings"}
		for _, w := range warnings {
			block.Lines = append(block.Lines, render.Line{Text: sentence(w), Tone: render.Caution})
		}
		out = append(out, block)
	}
	return out
}

// checkCautions go with every statement about stiffness and strength.
func checkCautions(method string) render.Block {
	return render.List{Title: "Cautions", Items: []string{
		"An estimate, not a proof: " + method + " with handbook values.",
		"A part whose failure can hurt someone goes to a qualified engineer and the local code.",
	}}
}

// boltingOn lists the findings of a comparison, those that were accepted marked.
func boltingOn(f swap.Fit) []string {
	items := slices.Clone(f.Findings)
	for k, text := range items {
		if slices.Contains(f.Accepted, text) {
			items[k] = "accepted by the person: " + text
		}
	}
	return items
}
