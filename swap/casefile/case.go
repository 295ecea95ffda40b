package casefile

import (
	"errors"
	"fmt"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/repair"
	"swapworth/quantity"
	"swapworth/swap"
	"swapworth/swap/fit"
)

// Case loads the meshes and the materials that the file names and returns the
// question they make. With mend, meshes are repaired as they are read.
func (f File) Case(mend bool) (swap.Case, error) {
	return f.CaseWith(mesh.Options{Repair: repair.When(mend, 0)})
}

// CaseWith is Case with everything that can be told to the mesh reader; the unit
// is the file's.
func (f File) CaseWith(options mesh.Options) (swap.Case, error) {
	if len(f.Pairs) > 0 {
		return swap.Case{}, errPairs
	}
	options = f.options(options)
	table, err := materials.Open(f.Materials...)
	if err != nil {
		return swap.Case{}, err
	}
	c := swap.Case{Units: given(f.Units, quantity.Metric), Table: table, Count: int(given(f.Machine.Count, 1)), SameFrame: given(f.SameFrame, false), SameLot: given(f.SameLot, false)}
	if c.Count < 1 {
		return swap.Case{}, fmt.Errorf("--count %d: expected 1 or more parts", c.Count)
	}
	if c.Accept, err = fit.AcceptedIn(given(f.Accept, "")); err != nil {
		return swap.Case{}, err
	}
	if c.Limits, err = f.Criteria.limits(); err != nil {
		return swap.Case{}, err
	}
	if c.Old, err = f.side("old", f.Old, table, options); err != nil {
		return swap.Case{}, err
	}
	if c.New, err = f.side("new", f.New, table, options); err != nil {
		return swap.Case{}, err
	}
	if c.Machine, err = f.Machine.machine(); err != nil {
		return swap.Case{}, err
	}
	if c.Loading, err = f.loading(); err != nil {
		return swap.Case{}, err
	}
	if f.BoltedTo != nil {
		base, err := table.Find(*f.BoltedTo)
		if err != nil {
			return swap.Case{}, fmt.Errorf("--bolted-to: %w", err)
		}
		c.BoltedTo = &base
	}
	c.Making, err = f.making(table)
	return c, err
}

// Cases is Case for several redesigns, given as the paths of their meshes. The
// stock part and the materials are read once.
func (f File) Cases(redesigns []string, options mesh.Options) ([]swap.Case, error) {
	var out []swap.Case
	for i, path := range redesigns {
		f.New.Mesh = &path
		if i == 0 {
			c, err := f.CaseWith(options)
			if err != nil {
				return nil, err
			}
			out = append(out, c)
			continue
		}
		c := out[0]
		var err error
		if c.New, err = f.side("new", f.New, c.Table, f.options(options)); err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

// options sets the unit of the file.
func (f File) options(o mesh.Options) mesh.Options {
	o.Unit = given(f.Unit, mesh.Millimetre)
	return o
}

// side loads one part with everything that is known of it.
func (f File) side(name string, p Part, table *materials.Table, options mesh.Options) (swap.Side, error) {
	loaded, err := p.load(name, options)
	if err != nil {
		return swap.Side{}, err
	}
	s := swap.Side{Loaded: loaded, Bar: p.Section != nil}
	if p.Material != nil {
		m, err := table.Find(*p.Material)
		if err != nil {
			return swap.Side{}, fmt.Errorf("%s part: %w", name, err)
		}
		s.Material = &m
	}
	if p.Weight != nil {
		w, fromDigits, err := f.weighing(*p.Weight)
		if err != nil {
			return swap.Side{}, fmt.Errorf("%s part: %w", name, err)
		}
		s.Weight, s.StepFromDigits = &w, fromDigits
	}
	if s.Observed, err = p.observed(); err != nil {
		return swap.Side{}, fmt.Errorf("%s part: %w", name, err)
	}
	return s, nil
}

// weighing takes the scale's resolution from the file, or else from the last
// digit typed.
func (f File) weighing(w quantity.Weight) (mass.Weighing, bool, error) {
	step, fromDigits := w.Step, true
	if f.ScaleResolution != nil {
		step, fromDigits = float64(*f.ScaleResolution), false
	}
	if w.Grams <= step/2 || step < 0 {
		return mass.Weighing{}, false, fmt.Errorf("a weight of %g g on a scale that resolves %g g says nothing: expected a heavier reading or a finer scale", w.Grams, step)
	}
	off := float64(given(f.ScaleError, 0))
	if off < 0 || off >= 1 {
		return mass.Weighing{}, false, fmt.Errorf("--scale-error %s: expected 0 or more, and less than 100 %%", *f.ScaleError)
	}
	return mass.Weighing{Grams: w.Grams, Resolution: step, Error: off}, fromDigits, nil
}

func (p Part) observed() (o mass.Observation, err error) {
	if p.Magnet != nil {
		holds, err := mass.ParseYesNo(*p.Magnet)
		if err != nil {
			return o, fmt.Errorf("magnet %w", err)
		}
		o.Magnet = &holds
	}
	if p.Colour != nil {
		if o.Colour, err = mass.ParseColour(*p.Colour); err != nil {
			return o, fmt.Errorf("colour %w", err)
		}
	}
	return o, nil
}

func (m Machine) machine() (swap.Machine, error) {
	out := swap.Machine{
		MovingMass:    float64(given(m.MovingMass, 0)),
		PivotAxis:     given(m.PivotAxis, mesh.Z),
		MovingInertia: float64(given(m.MovingInertia, 0)),
		Drive: swap.Drive{
			Inertia: float64(given(m.DriveInertia, 0)), Travel: float64(given(m.TravelPerTurn, 0)), Limited: given(m.DriveLimited, ""),
		},
	}
	if m.Pulley != nil && m.TravelPerTurn == nil {
		out.Drive.Travel = float64(m.Pulley.Teeth) * float64(m.Pulley.Pitch)
	}
	if m.Pivot != nil {
		p := m.Pivot.Vec()
		out.Pivot = &p
	}
	switch {
	case m.MovingMass != nil && out.MovingMass <= 0:
		return out, fmt.Errorf("--moving-mass %s: expected more than nothing", *m.MovingMass)
	case m.MovingInertia != nil && out.MovingInertia <= 0:
		return out, fmt.Errorf("--moving-inertia %s: expected more than nothing", *m.MovingInertia)
	case out.Pivot != nil && m.DriveInertia != nil:
		return out, errors.New("--drive-inertia is for a linear axis: add what the drive of a swinging arm turns to --moving-inertia")
	case m.TravelPerTurn != nil && m.Pulley != nil:
		return out, errors.New("--travel-per-turn and --pulley exclude each other: give one")
	case m.TravelPerTurn != nil && *m.TravelPerTurn <= 0:
		return out, fmt.Errorf("--travel-per-turn %s: expected more than nothing", *m.TravelPerTurn)
	case m.Pulley != nil && m.Pulley.Pitch <= 0:
		return out, fmt.Errorf("--pulley %dx%s: expected a pitch of more than nothing", m.Pulley.Teeth, m.Pulley.Pitch)
	case m.DriveInertia != nil && out.Drive.Travel == 0:
		return out, errors.New("--drive-inertia: how far does a turn of the motor move the axis? give --travel-per-turn, or --pulley such as 20x2mm")
	case m.DriveInertia != nil && m.MovingMass == nil:
		return out, errors.New("--drive-inertia needs --moving-mass: what moves along the axis")
	case out.Pivot == nil && (m.PivotAxis != nil || m.MovingInertia != nil):
		return out, fmt.Errorf("a pivot axis or a moving inertia needs a pivot: give --pivot x,y,z")
	}
	return out, nil
}

func (c Criteria) limits() (swap.Limits, error) {
	l := given(c.Goal, swap.Lighter).Limits()
	l.MinGain = float64(given(c.MinGain, quantity.Fraction(l.MinGain)))
	l.MinSaving = float64(given(c.MinSaving, quantity.Fraction(l.MinSaving)))
	l.MinStiffnessRatio = float64(given(c.MinStiffnessRatio, quantity.Scalar(l.MinStiffnessRatio)))
	l.MinSafetyFactor = float64(given(c.MinSafetyFactor, quantity.Scalar(l.MinSafetyFactor)))
	l.SavingAsked, l.GainAsked = c.MinSaving != nil, c.MinGain != nil
	l.StiffnessAsked, l.SafetyAsked = c.MinStiffnessRatio != nil, c.MinSafetyFactor != nil
	if err := c.demands(&l.Demands); err != nil {
		return l, err
	}
	if c.Confidence != nil {
		if l.Confidence = float64(*c.Confidence); l.Confidence <= 0.5 || l.Confidence >= 1 {
			return l, fmt.Errorf("--confidence %s: expected above 50 %% and below 100 %%", *c.Confidence)
		}
	}
	if l.MinSaving >= 1 {
		return l, fmt.Errorf("--min-saving %s: expected below 100 %%", *c.MinSaving)
	}
	if err := notBelowZero("min-stiffness-ratio", c.MinStiffnessRatio); err != nil {
		return l, err
	}
	if l.MinSafetyFactor <= 0 {
		return l, fmt.Errorf("--min-safety-factor %s: expected more than 0", *c.MinSafetyFactor)
	}
	return l, nil
}
