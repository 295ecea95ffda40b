package swap

import (
	"errors"
	"fmt"
	"math"

	"swapworth/materials"
	"swapworth/mesh/feature"
	"swapworth/swap/joint"
)

// Bolted is how the redesign is bolted on, where the person wants the joint
// judged. Zero values were not given.
type Bolted struct {
	Thread     joint.Thread
	Class      joint.Class
	Hole       int                 // of the redesign, from 1; 0: the one with least material around it
	TappedIn   *materials.Material // what the thread is cut into; nil: a nut
	Engagement float64             // mm of full thread
	Axial      float64             // N for one bolt
	Shear      float64             // N for one bolt
	Repeats    bool                // the load comes again and again
	Ratio      float64             // smallest over largest load of a cycle
}

// judgeJoint checks the bolt, its thread, the hole and its edge in the redesign.
// It returns nil where no bolt was named.
func (s *situation) judgeJoint(in inputs) (*joint.Result, error) {
	b := s.c.Making.Bolted
	if b == nil {
		return nil, nil
	}
	hole, margin, err := s.boltHole(*b)
	if err != nil {
		return nil, err
	}
	j := joint.Joint{
		Thread: b.Thread, Class: b.Class, Tapped: b.TappedIn, Engagement: b.Engagement,
		Plate: s.new.known.material, Thickness: hole.Depth - hole.HeadDepth, Hole: hole.Diameter,
		EdgeDistance: margin.Edge, Wall: margin.Wall, OriginError: s.c.Making.OriginError,
		Axial: b.Axial, Shear: b.Shear, LeastFactor: s.c.Limits.MinSafetyFactor,
		Repeats: b.Repeats, Ratio: b.Ratio,
		Width: s.across().Of(s.new.mesh.Bounds().Size()),
	}
	for _, d := range in.directions { // the part's own stress; it holds what concentration a chart gives
		j.StressAtHole, j.Concentration = math.Max(j.StressAtHole, d.new.stress.perLoad.Nominal*in.force), 1
	}
	r, err := joint.Check(j)
	if err != nil {
		return nil, fmt.Errorf("joint at hole %d of the redesign: %w", hole.Number, err)
	}
	return &r, nil
}

// boltHole finds the hole that the bolt goes through: the named one, or of those
// that clear the bolt the one with the thinnest wall.
func (s *situation) boltHole(b Bolted) (feature.Hole, joint.Margin, error) {
	holes, made := s.new.made.Features.Holes, s.new.made.Mesh
	if b.Hole > len(holes) {
		return feature.Hole{}, joint.Margin{}, fmt.Errorf("--bolt-hole %d: round holes of the redesign: %d; fit lists them", b.Hole, len(holes))
	}
	var best feature.Hole
	var least joint.Margin
	for _, h := range holes {
		if b.Hole != 0 && h.Number != b.Hole || b.Hole == 0 && !clears(h, b.Thread) {
			continue
		}
		m, err := joint.MarginOf(made, h)
		if err != nil {
			return h, m, fmt.Errorf("material around hole %d of the redesign: %w", h.Number, err)
		}
		if best.Number == 0 || m.Wall < least.Wall {
			best, least = h, m
		}
	}
	if best.Number == 0 {
		return best, least, errors.New("no hole of the redesign clears an " + b.Thread.String() + ": name one with --bolt-hole")
	}
	return best, least, nil
}

// clears reports whether a bolt goes through a hole that is not much too wide:
// up to the coarse series of ISO 273, which is at most a quarter over from M3 up.
func clears(h feature.Hole, t joint.Thread) bool {
	return h.Open && h.Diameter >= t.Diameter && h.Diameter <= 1.3*t.Diameter
}

// jointBlocks are the checks of the joint that forbid `swap`.
func jointBlocks(r *joint.Result) []string {
	if r == nil {
		return nil
	}
	var out []string
	for _, f := range r.Findings {
		if !f.Met {
			out = append(out, fmt.Sprintf("The joint falls short: %s, factor %s, asked for %s", f.Name, number(f.Factor), number(f.Least)))
		}
	}
	return out
}
