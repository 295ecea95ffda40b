package swap

import (
	"fmt"

	"swapworth/mass"
	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/swap/fit"
)

// settleFrame brings the redesign into the stock part's frame, so that span,
// load and pivot mean the same in both, and says whether it still bolts on.
func (s *situation) settleFrame() {
	r := fit.CompareFeatures(
		fit.Part{Mesh: s.old.mesh, Features: s.old.features},
		fit.Part{Mesh: s.new.mesh, Features: s.new.features}, fit.Options{SameFrame: s.c.SameFrame, Accept: s.c.Accept})
	s.fitted = r
	s.fit = &Fit{OK: r.OK, Findings: r.Findings, Blocking: r.Blocking, Accepted: r.Accepted}
	if n := len(r.Blocking); n > 0 {
		reason := "It does not bolt on"
		if r.Open() {
			reason = "Whether it bolts on is open"
		}
		if n > 1 { // one reason, however many holes are wrong: the findings list them
			reason += fmt.Sprintf(" (%d findings)", n)
		}
		s.blocks = append(s.blocks, reason+": "+r.Blocking[0])
	}
	if r.Frame.Method != fit.Given && !r.Frame.Mirrored {
		t := r.Frame.Transform()
		s.moved = &t
		s.new.move(t)
		s.new.placed = mass.Of(s.new.mesh)
		s.assume("The redesign's file has another frame; it was brought into the stock part's by %s", r.Frame.Method)
	}
	s.straighten()
}

// straighten turns both parts together where the stock part lies askew in its file,
// so that span and load follow its own flat faces.
func (s *situation) straighten() {
	turn, askew := s.old.features.OwnFrame(s.old.mesh)
	if !askew {
		return
	}
	s.straight = &turn
	s.old.move(turn)
	s.new.move(turn)
	s.assume("The stock part lies askew in its file; it is judged, and drawn in the three views, along its own sides: %s", feature.Sides(turn, s.old.mesh.Bounds()))
}

// move moves the part; its report keeps the coordinates of its own file.
func (p *part) move(t mesh.Transform) {
	p.motion = t.Compose(p.motion)
	there := p.solver.moved(t)
	p.mesh, p.features, p.solver = there.mesh, there.features, there.solver
}

// Fit says whether the redesign bolts on in the same place.
type Fit struct {
	OK       bool     `json:"ok"`
	Findings []string `json:"findings"`
	Blocking []string `json:"blocking"` // the findings that forbid bolting it on
	Accepted []string `json:"accepted"` // those that would, but are meant to be so
}
