package swap

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/mesh/feature"
	"swapworth/solid"
	"swapworth/swap/joint"
)

// Bolt is one bolt of a held hole, with what the solution says it takes: tension
// along its axis, shear across it, and the moment across the axis that its seat
// takes. Factor is the least of its checks over what each asks for, 1 for enough.
type Bolt struct {
	Part    string  `json:"part"` // old or new
	Case    string  `json:"case"`
	Hole    int     `json:"hole"` // by its number in its part's own file
	Tension float64 `json:"tension_n"`
	Shear   float64 `json:"shear_n"`
	Prying  float64 `json:"prying_nmm"`
	Twist   float64 `json:"twist_nmm"`
	Factor  float64 `json:"factor"`
	Worst   string  `json:"worst"` // the check with that factor

	joint *joint.Result
}

// bolting is the joint that is asked for, the same at every hole.
type bolting struct {
	Bolted
	originError float64 // mm
	least       float64 // safety factor
	across      mesh.Axis
}

// boltingOf is the joint of a case, nil where the person named no bolt.
func boltingOf(c Case, p placed) *bolting {
	if c.Making.Bolted == nil {
		return nil
	}
	return &bolting{*c.Making.Bolted, c.Making.OriginError, c.Limits.MinSafetyFactor, across(p.cases)}
}

// judgeBolts judges the bolt in every held hole of both parts by its own share of
// the reactions. Without a thread, or with forces that the person typed, there is
// nothing to judge.
func judgeBolts(b *bolting, p placed, in inputs) ([]Bolt, error) {
	out := []Bolt{}
	if b == nil || b.Axial > 0 || b.Shear > 0 {
		return out, nil
	}
	for side := range sideKeys {
		for _, d := range in.directions {
			r := d.of(side)
			if in.load(d) <= 0 || len(d.on[side].held) != len(r.reactions) {
				continue
			}
			for i, place := range d.on[side].held {
				if place.Hole() == 0 {
					continue
				}
				one, err := b.judge(p.part(side), side, place.Hole(), r.reactions[i], r.stress.perLoad.Nominal*in.load(d))
				if err != nil {
					return nil, err
				}
				one.Case, one.Hole = d.name, d.on[side].heldAs[i].Hole()
				out = append(out, one)
			}
		}
	}
	return out, nil
}

// judge judges one bolt by the reaction at its hole. Which side the machine is
// on is not known: a force along the axis counts as tension either way.
func (b bolting) judge(p placedPart, side, number int, r solid.Reaction, peak float64) (Bolt, error) {
	hole := p.features.Holes[number-1]
	hold := joint.Hold{Hole: hole, Force: vec(r.Force), Moment: vec(r.Moment)}
	out := Bolt{
		Part: sideKeys[side], Tension: hold.Axial(), Shear: r3.Norm(hold.Shear()), Twist: hold.Twist(), Prying: hold.Prying(),
	}
	j := b.at(p, hole, joint.Margin{})
	j.Head = joint.Washer(b.Thread)           // a hole is held under a washer
	j.StressAtHole, j.Concentration = peak, 1 // the peak of the solution holds what a chart would add
	found, err := joint.CheckHold(p.mesh, j, hold)
	if err != nil {
		return Bolt{}, fmt.Errorf("joint at the %s: %w", sideName(side), err)
	}
	out.joint = &found
	if worst, ok := found.Worst(); ok {
		out.Factor, out.Worst = worst.Factor/worst.Least, worst.Name
	}
	return out, nil
}

// at is the joint of one bolt in a hole, without its forces.
func (b bolting) at(p placedPart, hole feature.Hole, margin joint.Margin) joint.Joint {
	return joint.Joint{
		Thread: b.Thread, Class: b.Class, Tapped: b.TappedIn, Engagement: b.Engagement,
		Plate: p.known.material, Thickness: hole.Depth - hole.HeadDepth, Hole: hole.Diameter,
		EdgeDistance: margin.Edge, Wall: margin.Wall, OriginError: b.originError,
		LeastFactor: b.least, Repeats: b.Repeats, Ratio: b.Ratio,
		Width: b.across.Of(p.mesh.Bounds().Size()),
	}
}

// worstBolt returns the bolt of the redesign with the least factor, nil where none
// was judged.
func worstBolt(all []Bolt) *Bolt {
	var worst *Bolt
	for i, b := range all {
		if b.Part == sideKeys[onRedesign] && (worst == nil || b.Factor < worst.Factor) {
			worst = &all[i]
		}
	}
	return worst
}

// judgeJoint checks the bolt, its thread, the hole and its edge in the redesign:
// the worst of the held holes where the solution knows their forces, and else one
// hole with the forces that were typed. It returns nil where no bolt was named.
func judgeJoint(b *bolting, p placed, in inputs, bolts []Bolt) (*joint.Result, error) {
	if b == nil {
		return nil, nil
	}
	if worst := worstBolt(bolts); worst != nil {
		return worst.joint, nil
	}
	hole, margin, err := boltHole(b.Bolted, p.new.made)
	if err != nil {
		return nil, err
	}
	j := b.at(p.new, hole, margin)
	j.Axial, j.Shear = b.Axial, b.Shear
	for _, d := range in.directions { // the part's own stress; it holds what concentration a chart gives
		j.StressAtHole, j.Concentration = math.Max(j.StressAtHole, d.new.stress.perLoad.Nominal*in.load(d)), 1
	}
	r, err := joint.Check(j)
	if err != nil {
		return nil, fmt.Errorf("joint at hole %d of the redesign: %w", hole.Number, err)
	}
	return &r, nil
}

// boltHole finds the hole that the bolt goes through: the named one, or of those
// that clear the bolt the one with the thinnest wall.
func boltHole(b Bolted, redesign asmade.Part) (feature.Hole, joint.Margin, error) {
	holes, made := redesign.Features.Holes, redesign.Mesh
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
