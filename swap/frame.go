package swap

import (
	"fmt"

	"swapworth/mesh/feature"
	"swapworth/swap/fit"
)

// Fit says whether the redesign bolts on in the same place.
type Fit struct {
	OK       bool     `json:"ok"`
	Findings []string `json:"findings"`
	Blocking []string `json:"blocking"` // the findings that forbid bolting it on
	Accepted []string `json:"accepted"` // those that would, but are meant to be so
}

// laid is both parts in one frame, and which place of one is which of the other.
type laid struct {
	old, new placedPart
	fitted   fit.Result
	remarks
}

// layTogether brings the redesign into the stock part's frame, so that span,
// load and pivot mean the same in both.
func layTogether(old, new part, o fit.Options) laid {
	r := fit.CompareFeatures(
		fit.Part{Mesh: old.made.Mesh, Features: old.made.Features},
		fit.Part{Mesh: new.made.Mesh, Features: new.made.Features}, o)
	out := laid{old: asFiled(old), new: asFiled(new), fitted: r}
	if r.Frame.Method != fit.Given && !r.Frame.Mirrored {
		out = laid{out.old, out.new.movedOnMachine(r.Frame.Transform()), r,
			out.assuming("The redesign's file has another frame; it was brought into the stock part's by %s", r.Frame.Method)}
	}
	return out.straightened()
}

// straightened turns both parts together where the stock part lies askew in its file,
// so that span and load follow its own flat faces.
func (l laid) straightened() laid {
	turn, askew := l.old.features.OwnFrame(l.old.mesh)
	if !askew {
		return l
	}
	old, new := l.old.moved(turn), l.new.moved(turn)
	return laid{old, new, l.fitted, l.assuming(
		"The stock part lies askew in its file; it is judged, and drawn in the three views, along its own sides: %s", feature.Sides(turn, old.mesh.Bounds()))}
}

// fitOf says whether the redesign still bolts on, and what forbids it.
func fitOf(r fit.Result) (f *Fit, blocks []string) {
	f = &Fit{OK: r.OK, Findings: r.Findings, Blocking: r.Blocking, Accepted: r.Accepted}
	n := len(r.Blocking)
	if n == 0 {
		return f, nil
	}
	reason := "It does not bolt on"
	if r.Open() {
		reason = "Whether it bolts on is open"
	}
	if n > 1 { // one reason, however many holes are wrong: the findings list them
		reason += fmt.Sprintf(" (%d findings)", n)
	}
	return f, []string{reason + ": " + r.Blocking[0]}
}
