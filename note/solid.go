package note

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mesh"
	"swapworth/note/figure"
	"swapworth/note/render"
	"swapworth/quantity"
	"swapworth/solid"
)

// SolidReport is what `solid` prints: the result with what it is about.
type SolidReport struct {
	File string `json:"file"`
	solid.Result
	Span        string   `json:"span"`
	Held        []string `json:"held"`
	Loaded      []string `json:"loaded"`
	Assumptions []string `json:"assumptions"`

	Mesh *mesh.Mesh `json:"-"` // for the picture
}

// MarshalJSON writes null for a stiffness that the first case has not.
func (r SolidReport) MarshalJSON() ([]byte, error) {
	type plain SolidReport
	out := struct {
		plain
		Stiffness *float64 `json:"stiffness_n_per_mm"`
	}{plain: plain(r)}
	if r.Stiffness != 0 {
		out.Stiffness = &r.Stiffness
	}
	return json.Marshal(out)
}

// Assume notes what was taken because nothing else was given.
func (r *SolidReport) Assume(format string, args ...any) {
	r.Assumptions = append(r.Assumptions, fmt.Sprintf(format, args...))
}

// Document lays the check out for reading.
func (r SolidReport) Document() render.Document {
	doc := render.Document{Title: "Solid check: " + r.File, Lead: r.lead()}
	doc.Blocks = append(doc.Blocks, r.cases())
	if t := r.peaks(); len(t.Rows) > 0 {
		doc.Blocks = append(doc.Blocks, t)
	}
	doc.Blocks = append(doc.Blocks, r.reactions(), r.grids(), r.values())
	doc.Blocks = append(doc.Blocks, saidBlocks(r.Assumptions, r.Warnings)...)
	if r.Mesh != nil {
		doc.Blocks = append(doc.Blocks, render.Later(func(u quantity.System) []render.Block {
			return []render.Block{render.Picture{Figure: figure.ThreeViews(u, []figure.PartView{{Name: "held and loaded, load case " + r.Cases[0].Name, Mesh: r.Mesh,
				Marks: holeMarks(r.Mesh), Signs: figure.SignsOf(r.Cases[0])}})}}
		}))
	}
	if r.Deflected != nil && r.Mesh != nil {
		doc.Blocks = append(doc.Blocks, render.Later(func(u quantity.System) []render.Block {
			return []render.Block{render.Picture{Figure: figure.StressViews(u, "The part under its first load", figure.LoadedPart{Mesh: r.Mesh, Shape: r.Deflected})}}
		}))
	}
	doc.Blocks = append(doc.Blocks, spareBlocks("Where the next gram is", r.Spare, r.Mesh, r.Deflected)...)
	doc.Blocks = append(doc.Blocks, checkCautions("linear elasticity on drawn shapes"))
	return doc
}

func (r SolidReport) lead() []render.Line {
	first := r.Cases[0]
	tone := render.Good
	if first.ErrorPercent > 5 {
		tone = render.Caution
	}
	lead := []render.Line{{Text: fmt.Sprintf("%s, within about %s %%, load case %s.",
		measured(first), quantity.Number(max(first.ErrorPercent, 0.1), 2), first.Name), Tone: tone}}
	for _, c := range r.Cases {
		if c.SafetyFactor != nil && *c.SafetyFactor < 1 {
			lead = append(lead, render.Line{Text: fmt.Sprintf("Load case %s makes it yield: safety factor %s.", c.Name, quantity.Number(*c.SafetyFactor, 3)), Tone: render.Bad})
		}
	}
	return lead
}

// measured is the stiffness of a case in words.
func measured(c solid.CaseResult) string {
	switch c.Kind {
	case solid.ByForce:
		return fmt.Sprintf("Stiffness %s N/mm", quantity.Number(c.Stiffness, 4))
	case solid.ByMoment:
		return fmt.Sprintf("Stiffness %s N mm/rad", quantity.Number(c.Angular, 4))
	}
	return fmt.Sprintf("Largest deflection %s mm", quantity.Number(c.Deflection, 4))
}

// cases lists the load cases side by side.
func (r SolidReport) cases() render.Table {
	t := render.Table{Header: []string{"load case"}}
	only := func(k solid.Kind, v float64, c solid.CaseResult) string {
		if c.Kind != k {
			return quantity.Missing
		}
		return quantity.Number(v, 4)
	}
	rows := []struct {
		name string
		of   func(c solid.CaseResult) string
	}{
		{"force, N", func(c solid.CaseResult) string { return stated(c.Load) }},
		{"moment, N mm", func(c solid.CaseResult) string { return stated(c.Moment) }},
		{"stiffness, N/mm", func(c solid.CaseResult) string { return only(solid.ByForce, c.Stiffness, c) }},
		{"stiffness, N mm/rad", func(c solid.CaseResult) string { return only(solid.ByMoment, c.Angular, c) }},
		{"its error, about, %", func(c solid.CaseResult) string { return quantity.Number(c.ErrorPercent, 2) }},
		{"deflection at the force, mm", func(c solid.CaseResult) string { return only(solid.ByForce, c.Deflection, c) }},
		{"rotation at the moment, rad", func(c solid.CaseResult) string { return only(solid.ByMoment, c.Rotation, c) }},
		{"largest displacement, mm", func(c solid.CaseResult) string { return quantity.Number(c.Largest, 4) }},
		{"largest equivalent stress, MPa", func(c solid.CaseResult) string { return stressText(c) }},
		{"at (mm)", func(c solid.CaseResult) string {
			return fmt.Sprintf("%s, %s, %s", quantity.Fixed(c.StressAt[0], 1), quantity.Fixed(c.StressAt[1], 1), quantity.Fixed(c.StressAt[2], 1))
		}},
		{"away from corners and places, MPa", func(c solid.CaseResult) string {
			if len(c.Peaks) > 0 {
				return quantity.Missing
			}
			return stated(c.AwayStress)
		}},
		{"safety factor to yield", func(c solid.CaseResult) string { return optional(c.SafetyFactor, 3) }},
		{"yields at a load of, N", func(c solid.CaseResult) string { return optional(c.YieldForce, 3) }},
		{"forces out of balance", func(c solid.CaseResult) string { return fmt.Sprintf("%.0e of the load", c.Imbalance) }},
	}
	for _, c := range r.Cases {
		t.Header = append(t.Header, c.Name)
	}
	for _, row := range rows {
		line := []string{row.name}
		said := false
		for _, c := range r.Cases {
			line = append(line, row.of(c))
			said = said || row.of(c) != quantity.Missing
		}
		if said {
			t.Rows = append(t.Rows, line)
		}
	}
	return t
}

func stated(v float64) string {
	if v == 0 {
		return quantity.Missing
	}
	return quantity.Number(v, 4)
}

// reactions lists what each hold does to the part, and that together they
// balance what loads it: each about its own centre, sums about the origin.
func (r SolidReport) reactions() render.Table {
	t := render.Table{Title: "Reactions", Align: "llrr",
		Header: []string{"load case", "hold", "force, N (x, y, z)", "moment, N mm (x, y, z)"}}
	for _, c := range r.Cases {
		var force, moment r3.Vec
		size := [2]float64{vec(c.Applied).size(), vec(c.Turning).size()}
		for _, h := range c.Reactions {
			size[0], size[1] = max(size[0], vec(h.Force).size()), max(size[1], vec(h.Moment).size())
		}
		add := func(name string, f, m [3]float64) {
			t.Rows = append(t.Rows, []string{c.Name, name, vec(f).text(size[0]), vec(m).text(size[1])})
		}
		for _, h := range c.Reactions {
			add(h.Place, h.Force, h.Moment)
			f := r3.Vec{X: h.Force[0], Y: h.Force[1], Z: h.Force[2]}
			force = r3.Add(force, f)
			moment = r3.Add(moment, r3.Add(r3.Vec{X: h.Moment[0], Y: h.Moment[1], Z: h.Moment[2]},
				r3.Cross(r3.Vec{X: h.Centre[0], Y: h.Centre[1], Z: h.Centre[2]}, f)))
		}
		add("all holds, about 0,0,0", [3]float64{force.X, force.Y, force.Z}, [3]float64{moment.X, moment.Y, moment.Z})
		add("all loads, about 0,0,0", c.Applied, c.Turning)
	}
	return t
}

type vec [3]float64

func (v vec) size() float64 { return max(math.Abs(v[0]), math.Abs(v[1]), math.Abs(v[2])) }

// text writes the components with the decimals that four digits of a size have.
func (v vec) text(size float64) string {
	decimals := min(quantity.Decimals(size, 4), 6)
	return fmt.Sprintf("%s, %s, %s", quantity.Fixed(v[0], decimals), quantity.Fixed(v[1], decimals), quantity.Fixed(v[2], decimals))
}

// stressText is the largest stress with what the grids leave open.
func stressText(c solid.CaseResult) string {
	text := quantity.Number(c.MaxStress, 3)
	switch {
	case len(c.Peaks) == 0 && c.GridBound:
		return text + " (grid-dependent)"
	case len(c.Peaks) == 0:
		return text
	case math.IsInf(c.Stress.High, 1):
		return text + " (open)"
	}
	return fmt.Sprintf("%s (%s to %s)", text, quantity.Number(c.Stress.Low, 3), quantity.Number(c.Stress.High, 3))
}

// peaks lists the hottest places and how their stress went on finer grids.
func (r SolidReport) peaks() render.Table {
	t := render.Table{Title: "Hottest places, each in finer cells of its own", Align: "llrl",
		Header: []string{"load case", "at (mm)", "MPa", "from grid to grid, MPa"}}
	for _, c := range r.Cases {
		for _, p := range c.Peaks {
			var steps []string
			for _, l := range p.Levels {
				steps = append(steps, quantity.Number(l.Stress, 3))
			}
			how := strings.Join(steps, ", ")
			switch {
			case p.NoLimit != "":
				how += "; no limit: " + p.NoLimit + "; judged: " + p.Judged
			case !p.Settled:
				how += "; not settled"
			}
			t.Rows = append(t.Rows, []string{c.Name,
				fmt.Sprintf("%s, %s, %s", quantity.Fixed(p.At[0], 1), quantity.Fixed(p.At[1], 1), quantity.Fixed(p.At[2], 1)),
				quantity.Number(p.Stress.Nominal, 3), how})
		}
	}
	if len(r.Cases) == 1 { // the case needs no column
		t.Header, t.Align = t.Header[1:], t.Align[1:]
		for i := range t.Rows {
			t.Rows[i] = t.Rows[i][1:]
		}
	}
	return t
}

// grids shows how the stiffness settles.
func (r SolidReport) grids() render.Table {
	first := r.Cases[0]
	name, of, last := "stiffness, N/mm", func(g solid.Grid) float64 { return g.Stiffness }, first.Stiffness
	if first.Kind != solid.ByForce {
		name, of, last = "deflection, mm", func(g solid.Grid) float64 { return g.Deflection }, first.Deflection
	}
	t := render.Table{Title: "Grids", Header: []string{"cell, mm", "cells", "unknowns", name, "iterations"}, Align: "rrrrr"}
	for _, g := range r.Grids {
		t.Rows = append(t.Rows, []string{quantity.Number(g.Cell, 3), fmt.Sprint(g.Cells), fmt.Sprint(g.Unknowns), quantity.Number(of(g), 5), fmt.Sprint(g.Iterations)})
	}
	t.Rows = append(t.Rows, []string{"0", "", "extrapolated", quantity.Number(last, 5), ""})
	return t
}

func (r SolidReport) values() render.Table {
	t := render.Table{Title: "Set-up", Header: []string{"measure", "value"}, Align: "ll"}
	add := func(name, value string) { t.Rows = append(t.Rows, []string{name, value}) }
	if r.Material != nil {
		add("material", *r.Material)
	}
	add("Young's modulus, MPa", quantity.Number(r.YoungsModulus, 6))
	add("Poisson's ratio", quantity.Number(r.Poisson, 3))
	for _, h := range r.Held {
		add("held", h)
	}
	for _, l := range r.Loaded {
		add("loaded", l)
	}
	for i, hz := range r.Frequencies {
		add(fmt.Sprintf("natural frequency %d, Hz", i+1), quantity.Number(hz, 4))
	}
	return t
}
