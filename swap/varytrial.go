package swap

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"sync"

	"swapworth/materials"
	"swapworth/mesh"
)

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

// varied is a redesign that is tried at other thicknesses and in other materials.
type varied struct {
	c        Case
	measured measured // as drawn
	placed   placed
	axis     mesh.Axis   // of the thickness
	drawn    float64     // mm
	rigid    []mesh.Band // what holes across the axis take of it
	old      *shared
	shapes   *shapes
}

// shapes are the redesign at the thicknesses that were tried, each measured and solved
// once for all materials.
type shapes struct {
	lock sync.Mutex
	kept map[float64]*shapeTried
}

// shapeTried is one of them, which one comparison at a time asks more of than to be
// solved.
type shapeTried struct {
	one    sync.Mutex
	shared *shared
}

func (s *shapes) at(thickness float64) *shapeTried {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.kept[thickness] == nil {
		s.kept[thickness] = &shapeTried{shared: &shared{}}
	}
	return s.kept[thickness]
}

// tendency says what a thickness is short of.
type tendency int

const (
	tooThin tendency = iota
	meetsAll
	tooThick
)

// trial is the redesign at one thickness in one material, compared with the stock part.
type trial struct {
	thickness float64
	material  materials.Material
	decision
	refused error    // why there is no comparison
	tends   tendency // what it is short of
}

// trials are those of one material, thinnest first.
type trials []*trial

// with returns the trials with one more.
func (all trials) with(t *trial) trials {
	at, _ := slices.BinarySearchFunc(all, t.thickness, func(o *trial, thickness float64) int { return cmp.Compare(o.thickness, thickness) })
	return slices.Insert(slices.Clone(all), at, t)
}

// compare makes the comparison that Decide would make of the stretched part, in passing.
// The stock part is what it is whatever the redesign is cut from.
func (w varied) compare(ctx context.Context, thickness float64, m materials.Material) (*trial, error) {
	t := &trial{thickness: thickness, material: m}
	shape := w.shapes.at(thickness)
	shape.one.Lock()
	defer shape.one.Unlock()
	c, err := w.caseAt(thickness, m)
	if err == nil {
		stock := w.measured.old.known
		t.decision, err = decisionOn(ctx, c, w.old, shape.shared, manner{inPassing: true, stock: &stock})
	}
	t.refused = err
	t.tends = w.tends(t)
	return t, ctx.Err()
}

// tends says what a trial is short of. What stands in the way of it alone, and not of
// the redesign as drawn, draws it towards that.
func (w varied) tends(t *trial) tendency {
	towards := tooThick
	if t.thickness < w.drawn {
		towards = tooThin
	}
	drawnBlocked := len(w.measured.blocks)+len(w.placed.blocks) > 0
	if t.refused != nil || len(t.judged.in.blocks) > 0 && !drawnBlocked {
		return towards
	}
	return tends(t.judged.outcome, t.judged.in.limits.confidence(), towards)
}

// tends says what an outcome is short of: what is least sure decides. otherwise is for
// what cannot be judged.
func tends(o outcome, asked float64, otherwise tendency) tendency {
	thin, thick := 1.0, 1.0
	for _, c := range o.criteria {
		switch {
		case c.Probability == nil && c.kind == safetyCriterion:
		case c.Probability == nil:
			return otherwise
		case c.grows():
			thin = min(thin, *c.Probability)
		default:
			thick = min(thick, *c.Probability)
		}
	}
	switch {
	case o.all == nil:
		return otherwise
	case *o.all >= asked:
		return meetsAll
	case thick < thin:
		return tooThick
	}
	return tooThin
}

// thinnestShare is the share of the drawn thickness down to which a redesign is
// tried: below it holes across the thickness and the rounding of coordinates count.
const thinnestShare = 1e-3

// caseAt is the question with the redesign at a thickness in a material. What the made
// part weighs tells nothing of another one.
func (w varied) caseAt(thickness float64, m materials.Material) (Case, error) {
	c := w.c
	drawn := w.placed.new
	if thickness != w.drawn || m.Name != drawn.known.material.Name {
		c.New = Side{Loaded: c.New.Loaded}
	}
	c.New.Material = &m
	if thickness == w.drawn {
		return c, nil
	}
	stretched, err := mesh.Stretch(drawn.mesh, w.axis, thickness, w.rigid)
	if err != nil {
		return c, err
	}
	if drawn.motion != mesh.Identity() {
		stretched = stretched.Transformed(drawn.motion.Inverse())
	}
	l := *c.New.Loaded
	l.Mesh, l.Report = stretched, mesh.Check(stretched)
	c.New.Loaded = &l
	return c, nil
}

// variant puts a trial into numbers.
func (t *trial) variant() Variant {
	v := Variant{Thickness: t.thickness, Material: t.material.Name, Stiffness: []float64{}}
	if t.refused != nil {
		v.Refused = t.refused.Error()
		return v
	}
	in := t.judged.in
	old, mass := in.old.mass(), in.new.mass()
	v.Mass, v.Saving = mass, 100*(old-mass)/old
	v.Probability, v.Verdict, v.Meets = t.judged.outcome.all, t.answer.verdict, t.answer.verdict == Swap
	v.Cost = in.cost.Total
	if !v.Meets {
		v.Why = t.why()
	}
	if in.machine.known() {
		gain := 100 * in.machine.gain(in.saved(old, mass))
		v.Gain = &gain
	}
	if f := rings(in); in.limits.MinFrequency != nil && f.missing == "" {
		v.Frequency = &f.nominal
	}
	bent := v
	for _, d := range in.directions {
		if d.new.refused != "" || d.old.refused != "" {
			v.Refused = d.new.refused + d.old.refused
			return v
		}
		bent = bent.under(in, d, !t.judged.leftOpen || !strengthOpen(in, d))
	}
	return bent
}

// under returns the variant with what a load case says of it. The stress may be left open.
func (v Variant) under(in inputs, d direction, stressed bool) Variant {
	ratio := in.nominalRatio(d)
	v.Stiffness = append(v.Stiffness, d.new.perModulus*in.new.modulus.Nominal)
	v.Ratio = least(v.Ratio, &ratio)
	if stressed {
		v.SafetyFactor = least(v.SafetyFactor, in.new.safetyFactor(d.new, in.load(d)))
	}
	if moved := deflects(in, d); moved.missing == "" && (v.Deflection == nil || moved.nominal > *v.Deflection) {
		v.Deflection = &moved.nominal
	}
	return v
}

// why says in a sentence what keeps the trial from a `swap`.
func (t *trial) why() string {
	if t.refused != nil {
		return t.refused.Error()
	}
	if reasons := reasons(t.c.Table, t.measured.old.known, t.measured.new.known, t.judged, t.answer); len(reasons) > 0 {
		return strings.TrimSuffix(reasons[0], ".")
	}
	return ""
}
