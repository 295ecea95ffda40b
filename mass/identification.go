package mass

import (
	"fmt"
	"slices"

	"swapworth/materials"
	"swapworth/mesh"
)

// Identification is what `identify` prints of one part, with its stable JSON
// keys.
type Identification struct {
	File        string           `json:"file"`
	Volume      float64          `json:"volume_mm3"`
	VolumeRange materials.Range  `json:"volume_range_mm3"`
	Weighed     materials.Range  `json:"weighed_g"`
	Density     materials.Range  `json:"density_kg_m3"`
	Candidates  []Candidate      `json:"candidates"` // best first
	Prints      []PrintCandidate `json:"prints"`
	Stated      *string          `json:"stated_material"`
	// Contradiction says how the weight or an observation speaks against the
	// stated material; nil when it does not.
	Contradiction *string  `json:"contradiction"`
	Advice        []string `json:"advice"` // what would narrow the answer
	Warnings      []string `json:"warnings"`
}

// PrintCandidate is a printed plastic lighter than solid: the fill at which it
// has the measured density, from 0 to 1.
type PrintCandidate struct {
	Material string          `json:"material"`
	Fill     materials.Range `json:"fill"`
}

// leastFill is the share of material below which no print holds its shape
// (common practice).
const leastFill = 0.08

// coarseStep is the share of a weight that the step of a scale may be: from a tenth on the
// density is open by as much as the metals lie apart.
const coarseStep = 0.1

// NewIdentification asks which materials of a table a weighed part may be made
// of; stated is what somebody says it is made of, or nil.
func NewIdentification(l *mesh.Loaded, p Properties, w Weighing, t *materials.Table,
	o Observation, stated *materials.Material) Identification {
	volume := VolumeRange(p, l.Repairs)
	id := Identification{
		File: l.Path, Volume: p.Volume, VolumeRange: volume,
		Weighed: w.Range(), Density: DensityOf(w.Range(), volume),
		Advice: []string{}, Warnings: append([]string{}, l.Warnings...),
	}
	id.Candidates = Identify(id.Density, t, o)
	id.Prints = prints(id.Density, t, o)
	if w.Resolution > coarseStep*w.Grams {
		id.Warnings = append(id.Warnings, fmt.Sprintf("the scale's step of %g g is more than a tenth of"+
			" the %g g weighed: weigh several parts together or use a finer scale", w.Resolution, w.Grams))
	}
	id.Advice = advice(id.fitting(), t, o)
	if stated != nil {
		id.Stated = &stated.Name
		if text := contradiction(id, *stated, o); text != "" {
			id.Contradiction = &text
		}
	}
	return id
}

// fitting returns the candidates that the density leaves.
func (id Identification) fitting() []Candidate {
	n := slices.IndexFunc(id.Candidates, func(c Candidate) bool { return c.Match <= 0 })
	if n < 0 {
		n = len(id.Candidates)
	}
	return id.Candidates[:n]
}

// Families returns the families that fit, best first.
func (id Identification) Families() []string {
	var out []string
	for _, c := range id.fitting() {
		if !slices.Contains(out, c.Family) {
			out = append(out, c.Family)
		}
	}
	return out
}

// contradicts reports whether a measured density, in kg/m3, rules a material
// out. A printed plastic may hold air: whatever its stated fill, only a density
// above solid or below any fill rules it out.
func contradicts(measured materials.Range, m materials.Material) bool {
	if m.Printed {
		solid := m.Density.Scale(1 / m.Fill)
		return measured.Low > solid.High || measured.High < leastFill*solid.Nominal
	}
	return match(measured, m.Density) == 0
}

// contradiction says in one sentence what speaks against the stated material.
func contradiction(id Identification, stated materials.Material, o Observation) string {
	switch {
	case contradicts(id.Density, stated):
		need := product(id.VolumeRange, stated.Density).Scale(gramsPerKgM3MM3)
		return fmt.Sprintf("not %s: of that it would weigh %.4g to %.4g g, but it weighs %.4g g",
			stated.Name, need.Low, need.High, id.Weighed.Nominal)
	case o.Magnet != nil && *o.Magnet != stated.Magnet.Holds:
		if *o.Magnet {
			return fmt.Sprintf("not %s: a magnet holds on the part", stated.Name)
		}
		return fmt.Sprintf("not %s: a magnet does not hold on the part", stated.Name)
	case !stated.MayLook(o.Colour):
		return fmt.Sprintf("not %s: the part is %s where it is cut", stated.Name, o.Colour)
	}
	return ""
}

// prints lists the printed plastics that have the measured density when they
// are not solid.
func prints(density materials.Range, t *materials.Table, o Observation) []PrintCandidate {
	out := []PrintCandidate{}
	for _, m := range t.All() {
		if !m.Printed || !o.Fits(m) || density.High >= m.Density.Low {
			continue
		}
		solid := m.Density.Scale(1 / m.Fill)
		fill := materials.Range{
			Low: density.Low / solid.High, Nominal: density.Nominal / solid.Nominal, High: density.High / solid.Low}
		if fill.Nominal >= leastFill {
			out = append(out, PrintCandidate{m.Name, fill})
		}
	}
	return out
}

// advice names the observations that would tell the fitting materials apart.
func advice(fits []Candidate, t *materials.Table, o Observation) []string {
	holds, colours, families := map[bool]bool{}, map[string]bool{}, map[string]bool{}
	for _, c := range fits {
		m, err := t.Find(c.Material)
		if err != nil {
			continue
		}
		holds[m.Magnet.Holds] = true
		families[m.Family] = true
		for _, g := range m.Colour.Groups {
			colours[g] = true
		}
	}
	out := []string{}
	if o.Magnet == nil && len(holds) > 1 {
		out = append(out, "try a magnet on it and add --magnet yes or --magnet no")
	}
	if o.Colour == "" && len(colours) > 1 {
		out = append(out, "scratch it where it does not matter and add --colour")
	}
	if len(families) > 0 {
		out = append(out, "a weight gives a density, not an alloy: strength stays open within the family")
	}
	return out
}
