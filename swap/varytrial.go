package swap

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

	"swapworth/materials"
	"swapworth/mesh"
)

// trial is the redesign at one thickness in one material, compared with the stock part.
type trial struct {
	thickness float64
	material  materials.Material
	s         *situation
	answer
	refused error // why there is no comparison
}

// shapes are the redesign at the thicknesses that were tried, each measured and solved
// once for all materials.
type shapes struct {
	lock sync.Mutex
	kept map[float64]*shared
}

func (s *shapes) at(thickness float64) *shared {
	return kept(&s.lock, &s.kept, thickness, func() *shared { return &shared{} })
}

// compare makes the comparison that Decide would make of the stretched part. Only the
// alternatives that may leave the answer undecided are tried.
func (w *varying) compare(ctx context.Context, thickness float64, m materials.Material) (*trial, error) {
	t := &trial{thickness: thickness, material: m}
	shape := w.shapes.at(thickness)
	shape.one.Lock()
	defer shape.one.Unlock()
	t.refused = func() error {
		c, err := w.caseAt(thickness, m)
		if err != nil {
			return err
		}
		s, err := settle(c, w.old, shape)
		if err != nil {
			return err
		}
		s.old.known = w.s.old.known // whatever the redesign is cut from
		t.s = s.static()
		t.s.hasty = true
		t.answer, err = t.s.answer(ctx, func(ctx context.Context, _ inputs) ([]alternative, error) { return t.s.stockAlternatives(ctx) })
		return err
	}()
	return t, ctx.Err()
}

// caseAt is the question with the redesign at a thickness in a material. What the made
// part weighs tells nothing of another one.
func (w *varying) caseAt(thickness float64, m materials.Material) (Case, error) {
	c := w.c
	drawn := w.s.new
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
	in := t.in
	old, mass := in.old.mass(), in.new.mass()
	v.Mass, v.Saving = mass, 100*(old-mass)/old
	v.Probability, v.Verdict, v.Meets = t.o.all, t.verdict, t.verdict == Swap
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
	for _, d := range in.directions {
		if d.new.refused != "" || d.old.refused != "" {
			v.Refused = d.new.refused + d.old.refused
			v.Ratio, v.Deflection, v.SafetyFactor, v.Stiffness = nil, nil, nil, []float64{}
			return v
		}
		v.add(in, d, !t.s.firstLook || !strengthOpen(in, d))
	}
	return v
}

// add takes up a load case. The stress may be left open.
func (v *Variant) add(in inputs, d direction, stressed bool) {
	ratio := in.nominalRatio(d)
	v.Stiffness = append(v.Stiffness, d.new.perModulus*in.new.modulus.Nominal)
	v.Ratio = least(v.Ratio, &ratio)
	if stressed {
		v.SafetyFactor = least(v.SafetyFactor, in.new.safetyFactor(d.new, in.load(d)))
	}
	if moved := deflects(in, d); moved.missing == "" && (v.Deflection == nil || moved.nominal > *v.Deflection) {
		v.Deflection = &moved.nominal
	}
}

func least(a, b *float64) *float64 {
	if a == nil || b != nil && *b < *a {
		return b
	}
	return a
}

// why says in a sentence what keeps the trial from a `swap`.
func (t *trial) why() string {
	if t.refused != nil {
		return t.refused.Error()
	}
	r := Result{Verdict: t.verdict, Turnovers: telling(t.turns, t.verdict)}
	if reasons := t.s.reasons(t.in, t.o, r, t.slips); len(reasons) > 0 {
		return strings.TrimSuffix(reasons[0], ".")
	}
	return ""
}

// keep puts a trial among those of its material, thinnest first.
func (w *varying) keep(t *trial) {
	all := w.trials[t.material.Name]
	at, _ := slices.BinarySearchFunc(*all, t.thickness, func(o *trial, thickness float64) int {
		switch {
		case o.thickness < thickness:
			return -1
		case o.thickness > thickness:
			return 1
		}
		return 0
	})
	*all = slices.Insert(*all, at, t)
}

// kept returns the trial at a thickness.
func (w *varying) kept(thickness float64, m materials.Material) *trial {
	for _, t := range *w.trials[m.Name] {
		if t.thickness == thickness {
			return t
		}
	}
	panic(fmt.Sprintf("%g mm of %s was not tried", thickness, m.Name))
}
