package note

import (
	"fmt"

	"swapworth/mesh"
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

// Assume notes what was taken because nothing else was given.
func (r *SolidReport) Assume(format string, args ...any) {
	r.Assumptions = append(r.Assumptions, fmt.Sprintf(format, args...))
}

// Document lays the check out for reading.
func (r SolidReport) Document() Document {
	doc := Document{Title: "Solid check: " + r.File, Lead: r.lead()}
	doc.Blocks = append(doc.Blocks, r.cases(), r.grids(), r.values())
	doc.Blocks = append(doc.Blocks, saidBlocks(r.Assumptions, r.Warnings)...)
	if r.Deflected != nil && r.Mesh != nil {
		doc.Blocks = append(doc.Blocks, DeflectedPart("The part under its first load", r.Mesh, r.Deflected))
	}
	doc.Blocks = append(doc.Blocks, checkCautions("linear elasticity on drawn shapes"))
	return doc
}

func (r SolidReport) lead() []Line {
	first := r.Cases[0]
	tone := Good
	if first.ErrorPercent > 5 {
		tone = Caution
	}
	lead := []Line{{fmt.Sprintf("Stiffness %s N/mm, within about %s %%, load case %s.",
		quantity.Number(first.Stiffness, 4), quantity.Number(max(first.ErrorPercent, 0.1), 2), first.Name), tone}}
	for _, c := range r.Cases {
		if c.SafetyFactor != nil && *c.SafetyFactor < 1 {
			lead = append(lead, Line{fmt.Sprintf("Load case %s makes it yield: safety factor %s.", c.Name, quantity.Number(*c.SafetyFactor, 3)), Bad})
		}
	}
	return lead
}

// cases lists the load cases side by side.
func (r SolidReport) cases() Table {
	t := Table{Header: []string{"load case"}}
	rows := []struct {
		name string
		of   func(c solid.CaseResult) string
	}{
		{"load, N", func(c solid.CaseResult) string { return quantity.Number(c.Load, 4) }},
		{"stiffness, N/mm", func(c solid.CaseResult) string { return quantity.Number(c.Stiffness, 4) }},
		{"its error, about, %", func(c solid.CaseResult) string { return quantity.Number(c.ErrorPercent, 2) }},
		{"deflection at the load, mm", func(c solid.CaseResult) string { return quantity.Number(c.Deflection, 4) }},
		{"largest displacement, mm", func(c solid.CaseResult) string { return quantity.Number(c.Largest, 4) }},
		{"largest equivalent stress, MPa", func(c solid.CaseResult) string { return quantity.Number(c.MaxStress, 3) + gridMark(c) }},
		{"at (mm)", func(c solid.CaseResult) string {
			return fmt.Sprintf("%s, %s, %s", quantity.Fixed(c.StressAt[0], 1), quantity.Fixed(c.StressAt[1], 1), quantity.Fixed(c.StressAt[2], 1))
		}},
		{"away from corners and places, MPa", func(c solid.CaseResult) string { return quantity.Number(c.AwayStress, 3) }},
		{"safety factor to yield", func(c solid.CaseResult) string { return Optional(c.SafetyFactor, 3) }},
		{"yields at a load of, N", func(c solid.CaseResult) string { return Optional(c.YieldForce, 3) }},
		{"forces out of balance", func(c solid.CaseResult) string { return fmt.Sprintf("%.0e of the load", c.Imbalance) }},
	}
	for _, c := range r.Cases {
		t.Header = append(t.Header, c.Name)
	}
	for _, row := range rows {
		line := []string{row.name}
		for _, c := range r.Cases {
			line = append(line, row.of(c))
		}
		t.Rows = append(t.Rows, line)
	}
	return t
}

// gridMark flags a stress that depends on the grid.
func gridMark(c solid.CaseResult) string {
	if c.GridBound {
		return " (grid-dependent)"
	}
	return ""
}

// grids shows how the stiffness settles.
func (r SolidReport) grids() Table {
	t := Table{Title: "Grids", Header: []string{"cell, mm", "cells", "unknowns", "stiffness, N/mm", "iterations"}, Align: "rrrrr"}
	for _, g := range r.Grids {
		t.Rows = append(t.Rows, []string{quantity.Number(g.Cell, 3), fmt.Sprint(g.Cells), fmt.Sprint(g.Unknowns), quantity.Number(g.Stiffness, 5), fmt.Sprint(g.Iterations)})
	}
	t.Rows = append(t.Rows, []string{"0", "", "extrapolated", quantity.Number(r.Stiffness, 5), ""})
	return t
}

func (r SolidReport) values() Table {
	t := Table{Title: "Set-up", Header: []string{"measure", "value"}, Align: "ll"}
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
