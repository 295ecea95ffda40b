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

// Variant is the redesign at one thickness in one material: nominal values, and the
// verdict of a comparison with the stock part.
type Variant struct {
	Thickness    float64   `json:"thickness_mm"`
	Material     string    `json:"material"`
	Mass         float64   `json:"mass_g"`
	Saving       float64   `json:"saving_percent"`
	Stiffness    []float64 `json:"stiffness_n_per_mm"` // one a load case; empty where one was refused
	Ratio        *float64  `json:"stiffness_ratio"`    // the least of all load cases
	SafetyFactor *float64  `json:"safety_factor"`      // the least of all load cases
	Deflection   *float64  `json:"deflection_mm"`      // the largest of all load cases; nil without a load
	Frequency    *float64  `json:"frequency_hz"`       // nil where none was asked for
	Gain         *float64  `json:"acceleration_gain_percent"`
	Cost         *float64  `json:"cost"` // nil where nobody priced anything
	Refused      string    `json:"refused,omitempty"`
	Probability  *float64  `json:"probability"` // of all criteria together
	Verdict      Verdict   `json:"verdict"`     // empty where the variant was refused
	Meets        bool      `json:"stiff_enough"`
	Unbeaten     bool      `json:"unbeaten"` // no other variant is lighter and at least as stiff

	Why string `json:"why,omitempty"` // it is no `swap`
}

// Solved is the thinnest redesign of a material that meets every criterion with the
// confidence asked for, and the thickness from which it would with nominal values alone.
type Solved struct {
	Variant
	Nominal float64 `json:"nominal_thickness_mm"`
}

// NoneEnough is a material in which no thickness meets every criterion, and why.
type NoneEnough struct {
	Material string `json:"material"`
	Why      string `json:"why"`
}

// Vary computes the redesign at other thicknesses and in other materials. The mesh
// itself is stretched along the thickness, with holes across it kept round, and every
// variant is compared with the stock part as Decide compares the redesign.
func Vary(ctx context.Context, c Case, v Variation) (Variants, error) {
	w, err := newVarying(ctx, c, v)
	if err != nil {
		return Variants{}, err
	}
	if err := w.grid(); err != nil {
		return Variants{}, err
	}
	return w.result()
}

// varying is a variation under way.
type varying struct {
	ctx       context.Context
	c         Case
	s         *situation // of the redesign as drawn
	axis      mesh.Axis
	drawn     float64
	rigid     []mesh.Band
	thickness []float64
	materials []materials.Material
	progress  func(float64)
	old       *shared
	shapes    shapes
	trials    map[string]*[]*trial // by material, thinnest first
}

func newVarying(ctx context.Context, c Case, v Variation) (*varying, error) {
	c.Progress, c.Figures = nil, false
	w := &varying{ctx: ctx, c: c, thickness: slices.Clone(v.Thickness), materials: v.Materials, progress: v.Progress,
		old: &shared{}, trials: map[string]*[]*trial{}}
	drawn := &shared{}
	s, err := settle(c, w.old, drawn)
	if err != nil {
		return nil, err
	}
	w.s, w.axis = s, thinnestAxis(s.new.mesh)
	if v.Axis != nil {
		w.axis = *v.Axis
	}
	w.drawn = w.axis.Of(s.new.mesh.Bounds().Size())
	w.shapes.kept = map[float64]*shared{w.drawn: drawn}
	w.rigid = bandsAcross(s.new.features.Holes, w.axis)
	if len(w.thickness) == 0 {
		for _, k := range []float64{0.5, 0.67, 0.83, 1, 1.17, 1.33, 1.5} {
			w.thickness = append(w.thickness, math.Round(k*w.drawn*100)/100)
		}
	}
	if len(w.materials) == 0 {
		w.materials = []materials.Material{s.new.known.material}
	}
	w.materials = slices.CompactFunc(w.materials, func(a, b materials.Material) bool { return a.Name == b.Name })
	for _, m := range w.materials {
		w.trials[m.Name] = &[]*trial{}
	}
	slices.Sort(w.thickness)
	w.thickness = slices.Compact(w.thickness)
	return w, w.checkThickness()
}

func (w *varying) checkThickness() error {
	thinnest := w.thickness[0]
	if thinnest <= 0 {
		return fmt.Errorf("--try-thickness %g mm: expected more than nothing", thinnest)
	}
	if err := withinReach("try-thickness", slices.Max(w.thickness), largestSide(w.s.new.mesh)); err != nil {
		return err
	}
	if thinnest < thinnestShare*w.drawn {
		return fmt.Errorf("--try-thickness %g mm: the redesign is %.4g mm thick: expected at least a %gth of that",
			thinnest, w.drawn, 1/thinnestShare)
	}
	return nil
}

// thinnestShare is the share of the drawn thickness down to which a redesign is
// tried: below it holes across the thickness and the rounding of coordinates count.
const thinnestShare = 1e-3

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

// grid compares every thickness in every material, on all cores. What is wrong with all
// of them is wrong with the question.
func (w *varying) grid() error {
	n := len(w.materials)
	found := make([]*trial, n*len(w.thickness))
	err := each(w.ctx, len(w.thickness), w.progress, func(ctx context.Context, i int) (err error) {
		for k, m := range w.materials {
			if found[i*n+k], err = w.compare(ctx, w.thickness[i], m); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, t := range found {
		w.keep(t)
	}
	if slices.ContainsFunc(found, func(t *trial) bool { return t.refused == nil }) {
		return nil
	}
	return fmt.Errorf("%g mm: %w", found[0].thickness, found[0].refused)
}

// result solves for the thinnest of every material and puts everything together.
func (w *varying) result() (Variants, error) {
	s, l := w.s, w.c.Limits
	in := s.inputs(nil)
	out := Variants{
		Old: s.old.report(w.c.Old, in.old), New: s.new.report(w.c.New, in.new),
		Axis: w.axis.String(), Drawn: w.drawn, Searched: w.searched(),
		Thinnest: []Solved{}, Unsettled: []Solved{}, None: []NoneEnough{},
		Limits: VariedLimits{
			Goal: l.Goal, Confidence: l.confidence(), MinStiffnessRatio: l.MinStiffnessRatio, MinSafetyFactor: l.MinSafetyFactor,
			Demands: l.Demands,
		},
		Cautions: cautions, Assumed: orEmpty(s.assumptions), Lasting: orEmpty(s.lastingIn(w.materials)),
	}
	if in.limits.asksSaving(in.machine) {
		out.Limits.MinSaving = &l.MinSaving
	}
	if in.limits.asksGain(in.machine) {
		out.Limits.MinGain = &l.MinGain
	}
	for _, c := range s.cases {
		out.Direction = append(out.Direction, c.name)
	}
	for _, thickness := range w.thickness {
		for _, m := range w.materials {
			out.Variants = append(out.Variants, w.kept(thickness, m).variant())
		}
	}
	markUnbeaten(out.Variants)
	out.Warnings = w.warnings()
	return out, w.solveAll(&out)
}

// warnings are those of the redesign nearest to the drawn thickness.
func (w *varying) warnings() []string {
	var best *trial
	for _, t := range *w.trials[w.materials[0].Name] {
		if t.refused == nil && (best == nil || math.Abs(t.thickness-w.drawn) < math.Abs(best.thickness-w.drawn)) {
			best = t
		}
	}
	if best == nil {
		return w.s.allWarnings(nil)
	}
	return best.s.allWarnings(best.in.directions)
}

// markUnbeaten marks the front: variants that no other one beats in mass
// without being less stiff.
func markUnbeaten(all []Variant) {
	for i := range all {
		a := &all[i]
		a.Unbeaten = a.Ratio != nil && !slices.ContainsFunc(all, func(b Variant) bool {
			return b.Ratio != nil && b.Mass <= a.Mass && *b.Ratio >= *a.Ratio && (b.Mass < a.Mass || *b.Ratio > *a.Ratio)
		})
	}
}
