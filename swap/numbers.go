package swap

import (
	"cmp"
	"math"

	"swapworth/mass"
	"swapworth/solid"
)

// Part is one side of the comparison: its computed mass properties and, where
// it was put on a scale, its weighed mass in g.
type Part struct {
	mass.Report
	Weighed        *Range  `json:"weighed_g"`
	StatedMaterial *string `json:"stated_material"`
	Basis          Basis   `json:"material_basis"`
	Contradiction  *string `json:"contradiction"` // what the scale or a magnet says against the statement
}

// reportOf states a part with the mass it was compared with: the weighed one
// where there is one.
func reportOf(p part, side Side, in partInputs) Part {
	m := p.known.material
	m.Density = p.known.density
	report := Part{Report: mass.NewReport(p.loaded, p.props, &m), Basis: p.known.basis, Weighed: in.weighed}
	used := in.massRange()
	report.Mass = &used
	if side.Material != nil {
		report.StatedMaterial = &side.Material.Name
	}
	if against := p.known.contradiction; against != "" {
		report.Contradiction = &against
	}
	return report
}

// Stiffness compares both parts in one load case. Stiffness is force over the
// mean displacement of the loaded place in N/mm, for a moment that over the
// rotation in N mm/rad, and for a pressure or an acceleration left out: there the
// ratio is that of the largest deflections, old over new. A value is nil where
// the method refused the part, or where the load is not known. Direction is the
// axis of a force along one, empty for a case with loads of its own.
type Stiffness struct {
	Case            string   `json:"case"`
	Direction       string   `json:"direction"`
	Method          string   `json:"method"`
	Old             *float64 `json:"old_n_per_mm"`
	New             *float64 `json:"new_n_per_mm"`
	OldTurn         *float64 `json:"old_nmm_per_rad"`
	NewTurn         *float64 `json:"new_nmm_per_rad"`
	OldDeflection   *float64 `json:"old_deflection_mm"`
	NewDeflection   *float64 `json:"new_deflection_mm"`
	OldError        *float64 `json:"old_error_percent"`
	NewError        *float64 `json:"new_error_percent"`
	Ratio           *Range   `json:"ratio"`
	OldSafetyFactor *float64 `json:"old_safety_factor"`
	NewSafetyFactor *float64 `json:"new_safety_factor"`
	OldYieldForce   *float64 `json:"old_yield_force_n"`
	NewYieldForce   *float64 `json:"new_yield_force_n"`
	OldFrequency    *float64 `json:"old_frequency_hz"` // the lowest as the part is held, attached mass included
	NewFrequency    *float64 `json:"new_frequency_hz"`
	OldRefused      string   `json:"old_refused,omitempty"`
	NewRefused      string   `json:"new_refused,omitempty"`
}

// Among names the case beside others: "along z", "in case pull".
func (s Stiffness) Among() string {
	if s.Direction != "" {
		return "along " + s.Direction
	}
	return "in case " + s.Case
}

// stiffnessesOf are the stiffnesses of both parts, with the ratio in every load case.
func stiffnessesOf(in inputs, ratios []*Range) (out []Stiffness) {
	for i, d := range in.directions {
		out = append(out, stiffnessOf(in, d, ratios[i]))
	}
	return out
}

func stiffnessOf(in inputs, d direction, ratio *Range) Stiffness {
	s := Stiffness{
		Case: d.name, Direction: d.direction(), Method: string(d.method), Ratio: ratio,
		OldSafetyFactor: in.old.safetyFactor(d.old, in.load(d)),
		NewSafetyFactor: in.new.safetyFactor(d.new, in.load(d)),
		OldYieldForce:   in.old.yieldForce(d, d.old),
		NewYieldForce:   in.new.yieldForce(d, d.new),
		OldFrequency:    d.old.frequency,
		NewFrequency:    d.new.frequency,
		OldRefused:      d.old.refused,
		NewRefused:      d.new.refused,
	}
	s.Old, s.OldTurn, s.OldDeflection, s.OldError = measures(in, d.old, in.old.modulus.Nominal, in.load(d))
	s.New, s.NewTurn, s.NewDeflection, s.NewError = measures(in, d.new, in.new.modulus.Nominal, in.load(d))
	return s
}

// measures are the stiffness of a part over displacement or over rotation, its
// deflection under a load, where that is known, and the error of each in percent.
func measures(in inputs, r response, modulus, load float64) (stiffness, turn, deflection, percent *float64) {
	if r.refused != "" {
		return nil, nil, nil, nil
	}
	k, off := r.perModulus*modulus, 100*r.within
	switch r.kind {
	case solid.ByForce:
		stiffness = &k
	case solid.ByMoment:
		turn = &k
	}
	if load > 0 {
		moved := r.deflection * load / modulus
		deflection = &moved
	}
	return stiffness, turn, deflection, &off
}

// direction is the axis of the force, empty where the case has its own loads.
func (c loadCase) direction() string {
	if c.loads == nil {
		return c.name
	}
	return ""
}

// massRange returns the bounds of the mass in g, without probabilities: of a part that
// was not weighed those of density, mesh and sizes as milled together.
func (p partInputs) massRange() Range {
	if p.weighed != nil {
		return *p.weighed
	}
	return Range{
		Low:     p.density.Low * p.volume.Low * 1e-6 * math.Exp(-p.sizes.mass.loose()),
		Nominal: p.mass(),
		High:    p.density.High * p.volume.High * 1e-6 * math.Exp(p.sizes.mass.loose()),
	}
}

// yieldForce returns the force in N at which the part yields, nil where strength
// or stress is unknown or the case is none of a force along an axis.
func (p partInputs) yieldForce(d direction, r response) *float64 {
	if d.loads != nil || !p.strengthJudged(r, 1) {
		return nil
	}
	v := p.strength.Nominal / r.stress.perLoad.Nominal
	return &v
}

// Motion is what the saved mass buys on the machine. Kind is "linear" or
// "swinging".
type Motion struct {
	Kind             string   `json:"kind"`
	MovingMass       *float64 `json:"moving_mass_g"`
	MovingInertia    *float64 `json:"moving_inertia_kg_mm2"`
	DriveMass        *float64 `json:"drive_mass_g"` // what the drive turns, as mass that moves
	DriveLimited     Limited  `json:"drive_limited"`
	AccelerationGain *Range   `json:"acceleration_gain_percent"`
	ForceSaved       *Range   `json:"drive_force_saved_percent"` // at the same acceleration
	FrequencyGain    *Range   `json:"frequency_gain_percent"`
	OldInertia       *float64 `json:"old_inertia_kg_mm2"` // of one stock part about the pivot
	NewInertia       *float64 `json:"new_inertia_kg_mm2"`
}

// motionOf is what the saving buys on the machine, nil where no motion is known.
func motionOf(in inputs, g gained) *Motion {
	m := in.machine
	if m.MovingMass == 0 && m.Pivot == nil {
		return nil
	}
	out := &Motion{
		Kind: "linear", AccelerationGain: percent(g.acceleration), FrequencyGain: percent(g.frequency), ForceSaved: percent(g.eased),
		DriveLimited: cmp.Or(m.Drive.Limited, LimitUnknown),
	}
	if grams := m.Drive.mass(); grams > 0 {
		out.DriveMass = &grams
	}
	if m.MovingMass > 0 {
		out.MovingMass = &m.MovingMass
	}
	if m.Pivot != nil {
		out.Kind = "swinging"
		oldInertia, newInertia := in.old.inertia(in.old.mass()), in.new.inertia(in.new.mass())
		out.OldInertia, out.NewInertia = &oldInertia, &newInertia
	}
	if m.MovingInertia > 0 {
		out.MovingInertia = &m.MovingInertia
	}
	return out
}

func percent(fraction *Range) *Range {
	if fraction == nil {
		return nil
	}
	p := fraction.Scale(100)
	return &p
}

// Reaction is the force and the moment that one hold does to a part, by the stock
// part's axes, the moment about the middle of what is held.
type Reaction struct {
	Part   string     `json:"part"` // old or new
	Case   string     `json:"case"`
	Place  string     `json:"place"`
	Force  [3]float64 `json:"force_n"`
	Moment [3]float64 `json:"moment_nmm"`
	Pull   float64    `json:"pull_n"` // off a flat seat
}

// reactions lists what every hold takes, in every case whose load is known.
func reactionsOf(p placed, in inputs) []Reaction {
	out := []Reaction{}
	back := p.old.motion.Inverse()
	for side, name := range sideKeys {
		for _, d := range in.directions {
			if in.load(d) <= 0 {
				continue
			}
			as := d.on[side].heldAs
			for i, r := range d.of(side).reactions {
				place := r.Place
				if i < len(as) {
					place = as[i].String()
				}
				out = append(out, Reaction{name, d.name, place, array(back.Turn(vec(r.Force))), array(back.Turn(vec(r.Moment))), r.Pull})
			}
		}
	}
	return out
}
