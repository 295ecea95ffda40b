package swap

import (
	"fmt"

	"swapworth/materials"
	"swapworth/mesh/asmade"
	"swapworth/mesh/repair"
	"swapworth/swap/mill"
)

// printed is the family of materials that nobody mills a part out of.
const printed = "printed plastic"

// canBeMilled says whether the redesign can be milled, nil where it is not milled or
// that is not judged. What cannot is in the way of `swap`, unless a supplier has quoted
// a price for it as it is drawn.
func canBeMilled(redesign shape, stuff materials.Material, how Making) (found *mill.Millable, blocks []string, r remarks) {
	if stuff.Family == printed {
		return nil, nil, r
	}
	p := redesign.made
	if redesign.loaded.Report.OverlapTotal > 0 { // faces inside other bodies hide nothing
		one, ok := repair.Union(p.Mesh)
		if !ok {
			return nil, nil, r.warning("whether the redesign can be milled is not judged: its bodies overlap; join them, or try --repair")
		}
		p = asmade.Read(one)
	}
	one := mill.Check(p, how.planned(), mill.Stuff{Kind: stuff.Kind, Density: stuff.Density.Nominal})
	if how.Pricing.Quoted != nil {
		for i := range one.Findings {
			one.Findings[i].Blocks = false
		}
		one.OK = true
	}
	if b := one.Blocking(); len(b) > 0 {
		blocks = []string{cannotBeMilled(b)}
	}
	return &one, blocks, r
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
