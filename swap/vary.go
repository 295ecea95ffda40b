package swap

import (
	"context"
	"fmt"
	"math"
	"slices"

	"swapworth/mass"
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

// Variants is what `vary` prints, with its stable JSON keys.
type Variants struct {
	Old      Part         `json:"old"`
	New      Part         `json:"new"`
	Axis     string       `json:"thickness_axis"`
	Drawn    float64      `json:"drawn_thickness_mm"`
	Searched float64      `json:"searched_up_to_mm"`
	Variants []Variant    `json:"variants"`
	Thinnest []Solved     `json:"thinnest_stiff_enough"` // one a material
	Lightest *Solved      `json:"lightest_stiff_enough"`
	Limits   VariedLimits `json:"limits"`
	Cautions []string     `json:"cautions"`

	Lasting   []last.Finding `json:"lasting"` // of the materials tried, what matters most first
	Warnings  []string       `json:"warnings"`
	Assumed   []string       `json:"assumptions"`
	Direction []string       `json:"directions"`
}

// VariedLimits are the criteria the variants are held against.
type VariedLimits struct {
	MinStiffnessRatio float64 `json:"min_stiffness_ratio"`
	MinSafetyFactor   float64 `json:"min_safety_factor"`
}

// Variant is the redesign at one thickness in one material; nominal values.
type Variant struct {
	Thickness    float64   `json:"thickness_mm"`
	Material     string    `json:"material"`
	Mass         float64   `json:"mass_g"`
	Saving       float64   `json:"saving_percent"`
	Stiffness    []float64 `json:"stiffness_n_per_mm"` // one a load case; empty where one was refused
	Ratio        *float64  `json:"stiffness_ratio"`    // the least of all load cases
	SafetyFactor *float64  `json:"safety_factor"`      // the least of all load cases
	Gain         *float64  `json:"acceleration_gain_percent"`
	Refused      string    `json:"refused,omitempty"`
	Meets        bool      `json:"stiff_enough"`
	Unbeaten     bool      `json:"unbeaten"` // no other variant is lighter and at least as stiff
}

// Solved is a variant found by solving for the thickness at which the redesign
// is just stiff (and, with a load, strong) enough.
type Solved struct {
	Material  string  `json:"material"`
	Thickness float64 `json:"thickness_mm"`
	Mass      float64 `json:"mass_g"`
	Ratio     float64 `json:"stiffness_ratio"`
}

// Vary computes the redesign at other thicknesses and in other materials. The
// mesh itself is stretched along the thickness, with holes across it kept
// round, and every variant is analysed like the redesign in Decide.
func Vary(ctx context.Context, c Case, v Variation) (Variants, error) {
	s, err := settle(c, &shared{}, &shared{})
	if err != nil {
		return Variants{}, err
	}
	w, err := newVarying(ctx, s, v)
	if err != nil {
		return Variants{}, err
	}
	if err := w.grid(); err != nil {
		return Variants{}, err
	}
	markUnbeaten(w.variants)
	thinnest, err := w.solveAll()
	if err != nil {
		return Variants{}, err
	}
	return w.result(thinnest), nil
}

// varying is a variation under way.
type varying struct {
	ctx       context.Context
	s         *situation
	base      inputs
	axis      mesh.Axis
	drawn     float64
	rigid     []mesh.Band
	thickness []float64
	materials []materials.Material
	progress  func(float64)
	shapes    map[float64]shape    // by thickness, in mm
	poisson   map[string][]float64 // what a material's Poisson's ratio does to the stiffness, by name
	variants  []Variant
}

func newVarying(ctx context.Context, s *situation, v Variation) (*varying, error) {
	s = s.static()
	directions, err := s.respondBoth(ctx, s.cases, quick)
	if err != nil {
		return nil, err
	}
	if err := s.settleSizes(ctx); err != nil {
		return nil, err
	}
	w := &varying{
		ctx: ctx, s: s, base: s.inputs(directions), axis: thinnestAxis(s.new.mesh),
		thickness: slices.Clone(v.Thickness), materials: v.Materials, progress: v.Progress, shapes: map[float64]shape{},
	}
	if v.Axis != nil {
		w.axis = *v.Axis
	}
	w.drawn = w.axis.Of(s.new.mesh.Bounds().Size())
	w.rigid = bandsAcross(s.new.features.Holes, w.axis)
	if len(w.thickness) == 0 {
		for _, k := range []float64{0.5, 0.67, 0.83, 1, 1.17, 1.33, 1.5} {
			w.thickness = append(w.thickness, math.Round(k*w.drawn*100)/100)
		}
	}
	if len(w.materials) == 0 {
		w.materials = []materials.Material{s.new.known.material}
	}
	w.poisson = map[string][]float64{}
	for _, m := range w.materials {
		if w.poisson[m.Name], err = s.poissonScale(ctx, onRedesign, m.Poisson.Value); err != nil {
			return nil, err
		}
	}
	slices.Sort(w.thickness)
	if w.thickness[0] <= 0 {
		return nil, fmt.Errorf("--try-thickness %g mm: expected more than nothing", w.thickness[0])
	}
	if err := withinReach("try-thickness", slices.Max(w.thickness), largestSide(s.new.mesh)); err != nil {
		return nil, err
	}
	if w.thickness[0] < thinnestShare*w.drawn {
		return nil, fmt.Errorf("--try-thickness %g mm: the redesign is %.4g mm thick: expected at least a %gth of that",
			w.thickness[0], w.drawn, 1/thinnestShare)
	}
	return w, nil
}

// thinnestShare is the share of the drawn thickness down to which a redesign is
// tried: below it holes across the thickness and the rounding of coordinates count.
const thinnestShare = 1e-3

func thinnestAxis(m *mesh.Mesh) mesh.Axis {
	size, thin := m.Bounds().Size(), mesh.X
	for _, a := range []mesh.Axis{mesh.Y, mesh.Z} {
		if a.Of(size) <= thin.Of(size) {
			thin = a
		}
	}
	return thin
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

// grid computes every thickness on all cores, then every material of each.
func (w *varying) grid() error {
	shapes := make([]shape, len(w.thickness))
	err := each(w.ctx, len(shapes), w.progress, func(_ context.Context, i int) (err error) {
		shapes[i], err = w.shape(w.thickness[i])
		return err
	})
	if err != nil {
		return err
	}
	for i := range shapes {
		w.shapes[w.thickness[i]] = shapes[i]
		for _, m := range w.materials {
			w.variants = append(w.variants, w.variant(shapes[i], m))
		}
	}
	return nil
}

// shape is the redesign at one thickness, before a material is chosen.
type shape struct {
	thickness  float64
	part       part
	directions []direction
}

func (w *varying) shape(thickness float64) (shape, error) {
	p := w.s.new
	if thickness == w.drawn {
		return shape{thickness, p, w.base.directions}, nil
	}
	m, err := mesh.Stretch(p.mesh, w.axis, thickness, w.rigid)
	if err != nil {
		return shape{}, err
	}
	p.mesh, p.solver, p.placed = m, &solver{mesh: m}, mass.Of(w.s.asFiled(m))
	p.volume = mass.VolumeRange(p.placed, nil)
	p.features = feature.Find(m)
	p.sizes = p.sizes.scaled(w.drawn / thickness) // about the same deviation of another thickness
	responses, err := w.s.respond(w.ctx, p, onRedesign, w.s.cases, quick, nil)
	if err != nil {
		return shape{}, fmt.Errorf("%g mm: %w", thickness, err)
	}
	return shape{thickness, p, responding(w.base.directions, ofRedesign, responses)}, nil
}

// inputs returns the inputs with a shape in a material as the redesign.
func (w *varying) inputs(sh shape, m materials.Material) inputs {
	in := w.base
	in.new = sh.part.inputs(Side{}, w.s.c.Machine).madeOf(m)
	in.directions = scaled(sh.directions, ofRedesign, w.poisson[m.Name])
	return in
}

func (w *varying) variant(sh shape, m materials.Material) Variant {
	in := w.inputs(sh, m)
	old, mass := in.old.mass(), in.new.mass()
	v := Variant{
		Thickness: sh.thickness, Material: m.Name, Mass: mass,
		Saving: 100 * (old - mass) / old, Stiffness: []float64{},
	}
	if in.gainJudged() {
		gain := 100 * in.gain(old, mass)
		v.Gain = &gain
	}
	for _, d := range in.directions {
		if d.new.refused != "" || d.old.refused != "" {
			v.Refused = d.new.refused + d.old.refused
			v.Ratio, v.Stiffness = nil, []float64{}
			return v
		}
		v.add(in, d)
	}
	v.Meets = *v.Ratio >= in.limits.MinStiffnessRatio &&
		(v.SafetyFactor == nil || *v.SafetyFactor >= in.limits.MinSafetyFactor)
	return v
}

func (v *Variant) add(in inputs, d direction) {
	k := d.new.perModulus * in.new.modulus.Nominal
	ratio := k / (d.old.perModulus * in.old.modulus.Nominal)
	v.Stiffness = append(v.Stiffness, k)
	v.Ratio = least(v.Ratio, &ratio)
	v.SafetyFactor = least(v.SafetyFactor, in.new.safetyFactor(d.new, in.load(d)))
}

func least(a, b *float64) *float64 {
	if a == nil || b != nil && *b < *a {
		return b
	}
	return a
}

func (w *varying) result(thinnest []Solved) Variants {
	out := Variants{
		Lasting: orEmpty(w.s.lastingIn(w.materials)),

		Old:  w.s.old.report(w.s.c.Old, w.base.old),
		New:  w.s.new.report(w.s.c.New, w.base.new),
		Axis: w.axis.String(), Drawn: w.drawn, Searched: w.searched(), Variants: w.variants, Thinnest: thinnest,
		Limits:   VariedLimits{w.base.limits.MinStiffnessRatio, w.base.limits.MinSafetyFactor},
		Cautions: cautions, Warnings: w.s.allWarnings(w.base.directions), Assumed: orEmpty(w.s.assumptions),
	}
	for _, d := range w.base.directions {
		out.Direction = append(out.Direction, d.name)
	}
	for i, s := range thinnest {
		if out.Lightest == nil || s.Mass < out.Lightest.Mass {
			out.Lightest = &thinnest[i]
		}
	}
	return out
}
