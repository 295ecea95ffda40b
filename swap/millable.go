package swap

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh/asmade"
	"swapworth/mesh/repair"
	"swapworth/swap/mill"
)

// printed is the family of materials that nobody mills a part out of.
const printed = "printed plastic"

// settleMillable says whether the redesign can be milled. What cannot is in the way
// of `swap`, unless a supplier has quoted a price for it as it is drawn.
func (s *situation) settleMillable() {
	m := s.new.known.material
	if m.Family == printed {
		return
	}
	p := s.new.made
	if s.new.loaded.Report.OverlapTotal > 0 { // faces inside other bodies hide nothing
		one, ok := repair.Union(p.Mesh)
		if !ok {
			s.warnings = append(s.warnings, "whether the redesign can be milled is not judged: its bodies overlap; join them, or try --repair")
			return
		}
		p = asmade.Read(one)
	}
	found := mill.Check(p, s.profile(), mill.Stuff{Kind: m.Kind, Density: m.Density.Nominal})
	s.millable = &found
	if s.c.Making.Pricing.Quoted != nil {
		for i := range found.Findings {
			found.Findings[i].Blocks = false
		}
		found.OK = true
	}
	if b := found.Blocking(); len(b) > 0 {
		s.blocks = append(s.blocks, cannotBeMilled(b))
	}
}

// cannotBeMilled names the first thing in the way, and how many there are.
func cannotBeMilled(findings []mill.Finding) string {
	f := findings[0]
	more := ""
	if n := len(findings); n > 1 {
		more = fmt.Sprintf(" (%d findings)", n)
	}
	return fmt.Sprintf("It cannot be milled%s: %s, at x %s, y %s, z %s mm; %s", more, f.Says,
		number(f.Where[0]), number(f.Where[1]), number(f.Where[2]), f.Change)
}

// elsewhere is why milling times say nothing of a part; empty where they do.
func (s *situation) elsewhere() string {
	if s.millable == nil || !s.millable.Elsewhere {
		return ""
	}
	return map[mill.Machine]string{
		mill.Lathe: "it is round about an axis, a lathe's work: ask a price and give --quoted-price",
		mill.Saw:   "it is a length of tube, cut off with a saw: ask a price and give --quoted-price",
	}[s.millable.MadeBy]
}

// chance returns the chance that one attempt gives a good part where nobody said
// one, and writes down what it comes from.
func (s *situation) chance() float64 {
	p := s.c.Making.Pricing
	if s.millable == nil || s.millable.Chance == 1 || p.Attempts > 0 || p.SuccessChance > 0 {
		return p.SuccessChance
	}
	var hard []string
	for _, f := range s.millable.Findings {
		if k := strings.ReplaceAll(string(f.Kind), "-", " "); f.Kind != mill.InsideRadius && (len(hard) == 0 || hard[len(hard)-1] != k) {
			hard = append(hard, k)
		}
	}
	s.assumeOnce("One attempt gives a good part with a chance of %s %%, for what is hard to mill (%s): give --success-chance",
		number(100*s.millable.Chance), strings.Join(hard, ", "))
	return s.millable.Chance
}

// assumeOnce writes an assumption down unless it is there.
func (s *situation) assumeOnce(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	for _, a := range s.assumptions {
		if a == text {
			return
		}
	}
	s.assumptions = append(s.assumptions, text)
}

// millingMarks are the places of the findings, in the stock part's frame.
func (s *situation) millingMarks() []r3.Vec {
	if s.millable == nil {
		return nil
	}
	var out []r3.Vec
	for _, f := range s.millable.Findings {
		at := r3.Vec{X: f.Where[0], Y: f.Where[1], Z: f.Where[2]}
		if s.moved != nil {
			at = s.moved.Apply(at)
		}
		out = append(out, at)
	}
	return out
}
