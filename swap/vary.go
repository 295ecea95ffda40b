package swap

import (
	"context"
	"fmt"
	"math"
	"slices"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/swap/last"
)

// Variation asks how thickness and material of the redesign trade mass against
// stiffness. Empty lists take defaults: seven thicknesses around the drawn one,
// and the redesign's own material.
type Variation struct {
	Axis      *mesh.Axis // of the thickness; nil: the shortest side of the redesign
	Thickness []float64  // mm
	Materials []materials.Material

	// Progress is told which share of the work is done; nil says nothing.
	Progress func(share float64)
}

// Variants is what `vary` prints, with its stable JSON keys. What is called stiff enough
// is what a comparison calls `swap`.
type Variants struct {
	Old       Part         `json:"old"`
	New       Part         `json:"new"`
	Axis      string       `json:"thickness_axis"`
	Drawn     float64      `json:"drawn_thickness_mm"`
	Searched  float64      `json:"searched_up_to_mm"`
	Variants  []Variant    `json:"variants"`
	Thinnest  []Solved     `json:"thinnest_stiff_enough"` // one a material at most
	Lightest  *Solved      `json:"lightest_stiff_enough"`
	Unsettled []Solved     `json:"meet_all_but_unsettled"` // meet every criterion, and a comparison still says `check first`
	None      []NoneEnough `json:"none_enough"`
	Limits    VariedLimits `json:"limits"`
	Cautions  []string     `json:"cautions"`

	Lasting   []last.Finding `json:"lasting"` // of the materials tried, what matters most first
	Warnings  []string       `json:"warnings"`
	Assumed   []string       `json:"assumptions"`
	Direction []string       `json:"directions"`
}

// VariedLimits are the criteria the variants are held against, nil where nobody asked.
type VariedLimits struct {
	Goal              Goal     `json:"goal"`
	Confidence        float64  `json:"confidence"`
	MinStiffnessRatio float64  `json:"min_stiffness_ratio"`
	MinSafetyFactor   float64  `json:"min_safety_factor"`
	MinSaving         *float64 `json:"min_saving"` // a fraction
	MinGain           *float64 `json:"min_gain"`   // a fraction
	Demands
}

// Vary computes the redesign at other thicknesses and in other materials. The mesh
// itself is stretched along the thickness, with holes across it kept round, and every
// variant is compared with the stock part as Decide compares the redesign.
func Vary(ctx context.Context, c Case, v Variation) (Variants, error) {
	c.Progress, c.Figures = nil, false
	w, err := variedOf(c, v.Axis)
	if err != nil {
		return Variants{}, err
	}
	thickness, stuff := thicknessesOf(v, w), materialsOf(v, w)
	if err := checkThickness(thickness, w); err != nil {
		return Variants{}, err
	}
	grid, err := gridOf(ctx, w, thickness, stuff, v.Progress)
	if err != nil {
		return Variants{}, err
	}
	solved, err := solveAll(ctx, w, stuff, grid)
	if err != nil {
		return Variants{}, err
	}
	return variantsOf(w, thickness, stuff, grid, solved), nil
}

// variedOf measures both parts and places the redesign as drawn.
func variedOf(c Case, axis *mesh.Axis) (varied, error) {
	old, drawn := &shared{}, &shared{}
	m, err := measure(c, old, drawn, nil)
	if err != nil {
		return varied{}, err
	}
	p, err := place(c, m)
	if err != nil {
		return varied{}, err
	}
	along := thinnestAxis(p.new.mesh)
	if axis != nil {
		along = *axis
	}
	thick := along.Of(p.new.mesh.Bounds().Size())
	return varied{
		c: c, measured: m, placed: p, axis: along, drawn: thick, rigid: bandsAcross(p.new.features.Holes, along),
		old: old, shapes: &shapes{kept: map[float64]*shapeTried{thick: {shared: drawn}}},
	}, nil
}

// thicknessesOf are the thicknesses that are tried, thinnest first.
func thicknessesOf(v Variation, w varied) []float64 {
	out := slices.Clone(v.Thickness)
	if len(out) == 0 {
		for _, k := range []float64{0.5, 0.67, 0.83, 1, 1.17, 1.33, 1.5} {
			out = append(out, math.Round(k*w.drawn*100)/100)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func materialsOf(v Variation, w varied) []materials.Material {
	if len(v.Materials) == 0 {
		return []materials.Material{w.placed.new.known.material}
	}
	return slices.CompactFunc(slices.Clone(v.Materials), func(a, b materials.Material) bool { return a.Name == b.Name })
}

func checkThickness(tried []float64, w varied) error {
	thinnest := tried[0]
	if thinnest <= 0 {
		return fmt.Errorf("--try-thickness %g mm: expected more than nothing", thinnest)
	}
	if err := withinReach("try-thickness", slices.Max(tried), largestSide(w.placed.new.mesh)); err != nil {
		return err
	}
	if thinnest < thinnestShare*w.drawn {
		return fmt.Errorf("--try-thickness %g mm: the redesign is %.4g mm thick: expected at least a %gth of that",
			thinnest, w.drawn, 1/thinnestShare)
	}
	return nil
}

// bandsAcross returns what holes that are not parallel to the axis take of it.
func bandsAcross(holes []feature.Hole, a mesh.Axis) []mesh.Band {
	var out []mesh.Band
	for _, h := range holes {
		along := math.Abs(a.Of(h.Axis))
		if along > 1-1e-6 {
			continue
		}
		reach := along*h.Depth/2 + math.Sqrt(1-along*along)*max(h.Diameter, h.HeadDiameter)/2
		centre := a.Of(h.Centre)
		out = append(out, mesh.Band{Low: centre - reach, High: centre + reach})
	}
	return out
}

// gridOf compares every thickness in every material, on all cores: trials by material.
// What is wrong with all of them is wrong with the question.
func gridOf(ctx context.Context, w varied, thickness []float64, stuff []materials.Material, progress func(float64)) ([]trials, error) {
	grid := make([]trials, len(stuff))
	for k := range grid {
		grid[k] = make(trials, len(thickness))
	}
	err := each(ctx, len(thickness), progress, func(ctx context.Context, i int) (err error) {
		for k, m := range stuff {
			if grid[k][i], err = w.compare(ctx, thickness[i], m); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	for _, tried := range grid {
		if slices.ContainsFunc(tried, func(t *trial) bool { return t.refused == nil }) {
			return grid, nil
		}
	}
	return nil, fmt.Errorf("%g mm: %w", thickness[0], grid[0][0].refused)
}

// variantsOf puts everything together.
func variantsOf(w varied, thickness []float64, stuff []materials.Material, grid []trials, s solutions) Variants {
	c, m, p, l := w.c, w.measured, w.placed, w.c.Limits
	out := Variants{
		Old: reportOf(m.old, c.Old, partInputsOf(p.old, c.Old, c.Machine)), New: reportOf(m.new, c.New, partInputsOf(p.new, c.New, c.Machine)),
		Axis: w.axis.String(), Drawn: w.drawn, Searched: searchedUpTo(w, thickness),
		Variants: variantsIn(thickness, grid),
		Thinnest: s.thinnest, Lightest: lightestOf(s.thinnest), Unsettled: s.unsettled, None: s.none,
		Limits:   variedLimits(l, c.Machine),
		Cautions: cautions, Assumed: orEmpty(m.remarks.and(p.remarks).assumptions), Lasting: orEmpty(lastingIn(stuff, baseOf(c), c.Making, p, m.millable)),
		Warnings: warningsNear(w, grid[0]),
	}
	for _, c := range p.cases {
		out.Direction = append(out.Direction, c.name)
	}
	return out
}

func variedLimits(l Limits, m Machine) VariedLimits {
	out := VariedLimits{
		Goal: l.Goal, Confidence: l.confidence(), MinStiffnessRatio: l.MinStiffnessRatio, MinSafetyFactor: l.MinSafetyFactor,
		Demands: l.Demands,
	}
	if l.asksSaving(m) {
		out.MinSaving = &l.MinSaving
	}
	if l.asksGain(m) {
		out.MinGain = &l.MinGain
	}
	return out
}

// variantsIn are the trials of a grid, by thickness and then by material, with the front
// marked: those that no other one beats in mass without being less stiff.
func variantsIn(thickness []float64, grid []trials) []Variant {
	var all []Variant
	for i := range thickness {
		for _, tried := range grid {
			all = append(all, tried[i].variant())
		}
	}
	return markedUnbeaten(all)
}

func markedUnbeaten(all []Variant) []Variant {
	out := slices.Clone(all)
	for i, a := range all {
		out[i].Unbeaten = a.Ratio != nil && !slices.ContainsFunc(all, func(b Variant) bool {
			return b.Ratio != nil && b.Mass <= a.Mass && *b.Ratio >= *a.Ratio && (b.Mass < a.Mass || *b.Ratio > *a.Ratio)
		})
	}
	return out
}

// warningsNear are those of the redesign nearest to the drawn thickness.
func warningsNear(w varied, tried trials) []string {
	var best *trial
	for _, t := range tried {
		if t.refused == nil && (best == nil || math.Abs(t.thickness-w.drawn) < math.Abs(best.thickness-w.drawn)) {
			best = t
		}
	}
	if best == nil {
		return warningsOf(decision{c: w.c, measured: w.measured, placed: w.placed})
	}
	return warningsOf(best.decision)
}
