package beam

import (
	"encoding/json"

	"gonum.org/v1/gonum/spatial/r3"
)

// Result is what a beam answers, with its stable JSON keys: mm, N, MPa, Hz. A
// value is nil where it was not computed: without a load there is no stress,
// and a part too stubby for beam theory gets no stiffness.
type Result struct {
	Material      *string  `json:"material"`
	YoungsModulus float64  `json:"youngs_modulus_mpa"`
	Support       string   `json:"support"`
	Span          float64  `json:"span_mm"`
	Load          *float64 `json:"load_n"`
	Direction     string   `json:"direction"`
	Stiffness     *float64 `json:"stiffness_n_per_mm"` // force over displacement at the load's place, along the load
	Deflection    *float64 `json:"deflection_mm"`      // at the load's place, along the load, of all loads
	MaxStress     *float64 `json:"max_stress_mpa"`     // equivalent (von Mises), with concentration where its chart fits
	SafetyFactor  *float64 `json:"safety_factor"`      // to yield
	Frequency     *float64 `json:"frequency_hz"`       // lowest mode that moves mainly along the load
	Slenderness   float64  `json:"slenderness"`
	Warnings      []string `json:"warnings"`

	Refused         string       `json:"refused,omitempty"` // why beam theory does not apply
	SpanAxis        string       `json:"span_axis"`
	LoadAt          float64      `json:"load_at_mm"` // along the span axis, in the model's frame
	From            float64      `json:"from_mm"`
	To              float64      `json:"to_mm"`
	Depth           float64      `json:"depth_mm"` // largest connected extent along the load at any cut
	Width           float64      `json:"width_mm"` // largest extent across the load at any cut
	SecondFrequency *float64     `json:"second_frequency_hz"`
	LowestFrequency *float64     `json:"lowest_frequency_hz"` // in any direction
	MaxDeflection   *float64     `json:"max_deflection_mm"`   // anywhere, along the load
	SideDeflection  *float64     `json:"side_deflection_mm"`  // at the load's place, across the load
	Twist           *float64     `json:"twist_deg"`           // at the load's place
	Extension       *float64     `json:"extension_mm"`        // at the load's place, along the span
	Stress          *Stress      `json:"stress"`
	YieldForce      *float64     `json:"yield_force_n"` // Force at which the equivalent stress reaches yield
	BucklingForce   *float64     `json:"buckling_force_n"`
	MethodError     *MethodError `json:"method_error"`
	IntegrationPct  float64      `json:"integration_error_percent"`
	Cuts            int          `json:"cuts"`
	Curve           []Point      `json:"curve"`
}

// MethodError bounds what beam theory itself gets wrong: the true stiffness is
// expected between Stiffness*(1+Low) and Stiffness*(1+High).
type MethodError struct {
	Low  float64 `json:"low"`  // zero or negative
	High float64 `json:"high"` // zero or positive

	// Own is the part of High, and in proportion of Low, that comes from this
	// part's openings and shape; a like part shares only the rest.
	Own float64 `json:"own"`
}

// Stress is the worst of the beam's stresses, in MPa, and their places in the
// model's frame, in mm. Bending and shear are nominal; Equivalent includes the
// concentration factor where one applies.
type Stress struct {
	Bending      float64        `json:"bending_mpa"` // largest normal stress, axial force included
	BendingAt    r3.Vec         `json:"bending_at_mm"`
	Shear        float64        `json:"shear_mpa"` // mean over the width at the neutral axis, torsion included
	ShearAt      float64        `json:"shear_at_mm"`
	Equivalent   float64        `json:"equivalent_mpa"`
	EquivalentAt r3.Vec         `json:"equivalent_at_mm"`
	Nominal      float64        `json:"nominal_mpa"` // equivalent stress before concentration
	Hole         *Concentration `json:"hole"`        // the hole that governs, if one does
}

// MarshalJSON writes places as [x, y, z], as every other output does.
func (s Stress) MarshalJSON() ([]byte, error) {
	type fields Stress
	place := func(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
	return json.Marshal(struct {
		fields
		BendingAt    [3]float64 `json:"bending_at_mm"`
		EquivalentAt [3]float64 `json:"equivalent_at_mm"`
	}{fields(s), place(s.BendingAt), place(s.EquivalentAt)})
}

// Point is a place along the beam: the section there and how it moves.
type Point struct {
	At         float64  `json:"at_mm"` // along the span axis, in the model's frame
	EI         float64  `json:"ei_n_mm2"`
	Area       float64  `json:"area_mm2"`
	Deflection *float64 `json:"deflection_mm"`
	Moment     *float64 `json:"moment_n_mm"`
	Shear      *float64 `json:"shear_n"`
}
