package note

import (
	"fmt"
	"math"
	"slices"

	"swapworth/beam"
	"swapworth/note/figure"
	"swapworth/note/render"
	"swapworth/quantity"
)

// BeamReport is what `beam` prints: the result with what it is about.
type BeamReport struct {
	File    string `json:"file"`    // empty for a simple section
	Section string `json:"section"` // empty for a part
	beam.Result
	Assumptions []string          `json:"assumptions"`
	Instead     *beam.Replacement `json:"instead"` // nil without --instead
}

// Assume notes what was taken because nothing else was given.
func (r *BeamReport) Assume(format string, args ...any) {
	r.Assumptions = append(r.Assumptions, fmt.Sprintf(format, args...))
}

// Document lays the beam out for reading.
func (r BeamReport) Document() render.Document {
	doc := render.Document{Title: "Beam: " + r.subject(), Lead: r.leadLines()}
	doc.Blocks = append(doc.Blocks, r.values())
	if r.Instead != nil {
		doc.Blocks = append(doc.Blocks, r.instead())
	}
	warnings := slices.DeleteFunc(slices.Clone(r.Warnings), func(w string) bool { return w == r.Refused })
	doc.Blocks = append(doc.Blocks, saidBlocks(r.Assumptions, warnings)...)
	doc.Blocks = append(doc.Blocks, render.Later(r.figures), checkCautions("beam theory on drawn shapes"))
	return doc
}

func (r BeamReport) subject() string {
	if r.Section != "" {
		return r.Section
	}
	return r.File
}

func (r BeamReport) leadLines() []render.Line {
	if r.Stiffness == nil {
		lead := []render.Line{{Text: sentence(r.Refused), Tone: render.Bad}}
		if r.File != "" {
			lead = append(lead, render.Line{Text: "swapworth solid " + r.File + " finds its stiffness in three dimensions.", Tone: render.Caution})
		}
		return lead
	}
	lead := []render.Line{{Text: fmt.Sprintf("Stiffness %s N/mm along %s, as a %s beam of %s mm along %s.",
		quantity.Number(*r.Stiffness, 4), r.Direction, r.Support, quantity.Short(r.Span, 5), r.SpanAxis), Tone: render.Good}}
	switch {
	case r.SafetyFactor != nil && *r.SafetyFactor < 1:
		lead = append(lead, render.Line{Text: fmt.Sprintf("The load makes it yield: safety factor %s.", quantity.Number(*r.SafetyFactor, 3)), Tone: render.Bad})
	case r.MaxStress == nil && r.YieldForce != nil:
		lead = append(lead, render.Line{Text: fmt.Sprintf("No load given: it yields at %s N. --load gives stress and deflection.", quantity.Number(*r.YieldForce, 3)), Tone: render.Caution})
	case r.MaxStress == nil:
		lead = append(lead, render.Line{Text: "No load given: --load gives stress and deflection.", Tone: render.Caution})
	}
	return lead
}

// values lists the numbers, those that were not computed left out.
func (r BeamReport) values() render.Table {
	t := render.Table{Header: []string{"measure", "value"}}
	add := func(name string, v *float64, digits int) {
		if v != nil {
			t.Rows = append(t.Rows, []string{name, quantity.Number(*v, digits)})
		}
	}
	t.Rows = append(t.Rows, []string{"held, load at (mm along " + r.SpanAxis + ")", r.heldAt()})
	add("Young's modulus, MPa", &r.YoungsModulus, 6)
	add("load, N", r.Load, 4)
	add("stiffness at the load, N/mm", r.Stiffness, 4)
	if r.Stiffness != nil {
		t.Rows = append(t.Rows, []string{"method's error, %", fmt.Sprintf("%s to +%s",
			quantity.Fixed(100*r.MethodError.Low, 1), quantity.Fixed(100*r.MethodError.High, 1))})
	}
	add("deflection at the load, mm", r.Deflection, 4)
	if r.MaxDeflection != nil && math.Abs(*r.MaxDeflection) > 1.0001*math.Abs(*r.Deflection) {
		add("largest deflection, mm", r.MaxDeflection, 4)
	}
	if r.SideDeflection != nil && math.Abs(*r.SideDeflection) > 1e-3*math.Abs(*r.Deflection) {
		add("deflection across the load, mm", r.SideDeflection, 3)
	}
	if r.Extension != nil && math.Abs(*r.Extension) > 1e-3*math.Abs(*r.Deflection) {
		add("extension, mm", r.Extension, 3)
	}
	if r.Twist != nil && math.Abs(*r.Twist) > 1e-3 {
		add("twist at the load, deg", r.Twist, 3)
	}
	r.addStress(&t)
	add("safety factor to yield", r.SafetyFactor, 3)
	add("yields at a load of, N", r.YieldForce, 3)
	add("first frequency along the load, Hz", r.Frequency, 4)
	add("second frequency along the load, Hz", r.SecondFrequency, 4)
	if r.LowestFrequency != nil && (r.Frequency == nil || *r.LowestFrequency < 0.999**r.Frequency) {
		add("lowest frequency in any direction, Hz", r.LowestFrequency, 4)
	}
	add("buckles at an axial load of, N", r.BucklingForce, 4)
	add("span over depth", &r.Slenderness, 3)
	return t
}

func (r BeamReport) heldAt() string {
	if r.Support == beam.Cantilever.String() {
		return quantity.Short(r.From, 5) + ", " + quantity.Short(r.LoadAt, 5)
	}
	return quantity.Short(r.From, 5) + " and " + quantity.Short(r.To, 5) + ", " + quantity.Short(r.LoadAt, 5)
}

func (r BeamReport) addStress(t *render.Table) {
	s := r.Stress
	if s == nil {
		return
	}
	place := "at (" + vector(coordinates(s.EquivalentAt), ", ") + ") mm"
	t.Rows = append(t.Rows,
		[]string{"largest equivalent stress, MPa", quantity.Number(s.Equivalent, 4) + " " + place},
		[]string{"bending and axial stress, MPa", quantity.Number(s.Bending, 4)},
		[]string{"shear stress, MPa", quantity.Number(s.Shear, 3)})
	if h := s.Hole; h != nil {
		t.Rows = append(t.Rows, []string{fmt.Sprintf("at hole %d: nominal stress x factor", h.Hole),
			quantity.Number(h.Nominal, 4) + " x " + quantity.Number(h.Factor, 3)})
	}
}

// instead lists what another material would do.
func (r BeamReport) instead() render.Table {
	i := r.Instead
	index := func(name string, old, new float64) []string {
		return []string{name, quantity.Number(new, 3) + " against " + quantity.Number(old, 3)}
	}
	return render.Table{
		Title:  "Of " + i.Material + " instead, loaded across its thickness",
		Header: []string{"measure", "value"},
		Rows: [][]string{
			{"stiffness at the same thickness (E t^3)", quantity.Number(i.StiffnessRatio, 3) + " times"},
			{"mass at the same thickness", quantity.Number(i.MassRatio, 3) + " times"},
			{"as stiff at a thickness of", quantity.Number(i.ThicknessRatio, 4) + " times: " + quantity.Number(i.Thickness, 3) + " mm for " + quantity.Short(r.Depth, 4) + " mm"},
			{"it then weighs", quantity.Number(i.MatchedMass, 3) + " times as much"},
			index("index of a light stiff tie, E/density", i.OldIndices.Tie, i.NewIndices.Tie),
			index("of a light stiff beam, E^(1/2)/density", i.OldIndices.Beam, i.NewIndices.Beam),
			index("of a light stiff panel, E^(1/3)/density", i.OldIndices.Panel, i.NewIndices.Panel),
		},
	}
}

// figures draw EI and the deflection along the span.
func (r BeamReport) figures(u quantity.System) (blocks []render.Block) {
	if len(r.Curve) == 0 {
		return nil
	}
	ei, deflection := figure.Curve{Name: "EI"}, figure.Curve{Name: "deflection"}
	for _, p := range r.Curve {
		ei.X, ei.Y = append(ei.X, p.At), append(ei.Y, p.EI*1e-6)
		if p.Deflection != nil {
			deflection.X = append(deflection.X, p.At)
			deflection.Y = append(deflection.Y, math.Abs(*p.Deflection))
		}
	}
	if drawn, err := figure.Rigidity(u, "Flexural rigidity along the span", r.SpanAxis+", mm", []figure.Curve{ei}); err == nil {
		blocks = append(blocks, render.Picture{Figure: drawn})
	}
	if len(deflection.X) == 0 {
		return blocks
	}
	if drawn, err := figure.Curves(u, "Deflection along the span", r.SpanAxis+", mm", "deflection, mm", []figure.Curve{deflection}); err == nil {
		blocks = append(blocks, render.Picture{Figure: drawn})
	}
	return blocks
}
