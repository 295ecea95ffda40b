package swap

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/materials"
	"swapworth/mesh/feature"
	"swapworth/swap/fit"
	"swapworth/swap/last"
	"swapworth/swap/mill"
)

// baseMaterial is what a part is taken to be bolted to where nobody said: most
// machines' frames, and all rails and screws, are steel (common practice).
const baseMaterial = "S235"

// lasting says what becomes of both parts in service, what matters most first.
func lasting(base materials.Material, how Making, p placed, m *mill.Millable) []last.Finding {
	return last.Both(last.Findings(lastingPart(how, p, m, onStock), base), last.Findings(lastingPart(how, p, m, onRedesign), base))
}

// lastingIn says it of the redesign in each of some materials; what is true of several
// parts in the same words is said once.
func lastingIn(tried []materials.Material, base materials.Material, how Making, p placed, m *mill.Millable) []last.Finding {
	var out []last.Finding
	part := lastingPart(how, p, m, onRedesign)
	for _, m := range tried {
		part.Material, part.Milled = m, m.Family != printed
		out = last.Both(out, last.Findings(part, base))
	}
	return out
}

// baseOf is what the part is bolted to.
func baseOf(c Case) materials.Material {
	if c.BoltedTo != nil {
		return *c.BoltedTo
	}
	table := c.Table
	if table == nil {
		table = materials.Default()
	}
	m, err := table.Find(baseMaterial)
	if err != nil { // a table of its own, without steel
		return materials.Material{}
	}
	return m
}

// lastingPart gathers what decides how long one part lasts.
func lastingPart(how Making, p placed, m *mill.Millable, side int) last.Part {
	of := p.part(side)
	out := last.Part{Name: last.Stock, Material: of.known.material}
	if side == onRedesign {
		out.Name, out.Milled = last.Redesign, of.known.material.Family != printed
	}
	held := heldHoles(p.cases, side)
	out = withBolts(out, of.made.Features.Holes, held)
	if out.Length == 0 {
		out.Length, out.Over = largestSide(of.mesh), "of its length"
	}
	if side == onRedesign && m != nil {
		out.Floors, out.Tooth, out.OneSided = m.Floors, how.planned().Tooth(), oneSided(of.shape)
	}
	return out
}

// largestBolt is the widest hole taken for one of a bolt where none was named, mm: of
// M12, ISO 273 medium.
const largestBolt = 13.5

// heldHoles are the holes of a part that some load case holds, by number.
func heldHoles(cases []loadCase, side int) map[int]bool {
	held := map[int]bool{}
	for _, c := range cases {
		for _, place := range c.on[side].heldAs {
			if n := place.Hole(); n > 0 {
				held[n] = true
			}
		}
	}
	return held
}

// withBolts finds the bolts, the length between them and the bores.
func withBolts(p last.Part, holes []feature.Hole, held map[int]bool) last.Part {
	var bolts []r3.Vec
	for _, h := range holes {
		if isHeld := held[h.Number]; isHeld || len(held) == 0 && h.Diameter <= largestBolt {
			bolts = append(bolts, h.Centre)
		}
		if wears(h, held[h.Number]) {
			p.Bores = append(p.Bores, h.Diameter)
		}
	}
	slices.Sort(p.Bores)
	p.Bolted = len(bolts) > 0
	for i, a := range bolts {
		for _, b := range bolts[:i] {
			p.Length = max(p.Length, r3.Norm(r3.Sub(a, b)))
		}
	}
	p.Over = "between its bolts"
	if len(held) == 0 {
		p.Over = "between its holes"
	}
	return p
}

// dowels are the diameters of dowel pins that small machines use, mm (ISO 2338, from
// memory), those left out that are tapping drills or clearance holes too: 2.5, 5 and
// what lies between.
var dowels = []float64{3, 4, 6, 8, 10, 12}

// leastBore is from which diameter a hole that is no bolt's is a bore, mm: the medium
// hole of M8, ISO 273; bearings and shafts of small machines begin there.
const leastBore = 9.0

// exactly is how near a hole has to be to a nominal diameter to be one, mm: a dowel's
// H7 hole is within 0.02, and a mesh within some hundredths.
const exactly = 0.03

// wears reports whether a hole is a bore or takes a dowel, by its size alone.
func wears(h feature.Hole, held bool) bool {
	if held {
		return false
	}
	if slices.ContainsFunc(dowels, func(d float64) bool { return math.Abs(d-h.Diameter) < exactly }) {
		return true
	}
	bolt := h.Diameter <= largestBolt && slices.ContainsFunc(fit.Suits(h.Diameter), func(use string) bool { return strings.Contains(use, "clearance") })
	return h.Diameter > leastBore+exactly && !bolt
}

// flatShare is up to which thickness, as a share of the next larger side, a part is a
// plate that may bow.
const flatShare = 0.5

// oneSided is how far the centroid of a plate lies off the middle of its thickness, as
// a share of it; 0 for a part that is no plate.
func oneSided(p shape) float64 {
	box := p.made.Square.Box(p.made.Mesh)
	low, size := components(box.Min), components(box.Size())
	k := 0
	for i := range 3 {
		if size[i] < size[k] {
			k = i
		}
	}
	if size[k] == 0 || size[k] > flatShare*min(size[(k+1)%3], size[(k+2)%3]) {
		return 0
	}
	return (r3.Dot(p.props.Centroid, p.made.Square[k])-low[k])/size[k] - 0.5
}

func components(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// outsideThickness warns of a strength that the standard gives for other stock.
func outsideThickness(m materials.Material, work *mill.Work) string {
	if work == nil || m.Strength.HoldsAt(work.Blank[2]) {
		return ""
	}
	return "the strength of " + m.Name + " is that of stock from " + number(m.Strength.From) + " to " + number(m.Strength.To) +
		" mm; the redesign is cut from " + number(work.Blank[2]) + " mm"
}
