package swap

import (
	"fmt"

	"swapworth/beam"
	"swapworth/mesh"
)

// placed is both parts in one frame, on the machine, and how they are held and loaded.
type placed struct {
	old, new placedPart
	fit      *Fit
	span     mesh.Axis
	support  beam.Support
	cases    []loadCase // at least one
	blocks   []string   // what of the fit forbids `swap`
	remarks
}

func (p placed) part(side int) placedPart { return [2]placedPart{p.old, p.new}[side] }

// place lays both parts together, says whether the redesign bolts on, and settles what
// the case leaves open of how they are held, loaded and moved. It refuses a moving mass
// that is less than the parts that move.
func place(c Case, m measured) (placed, error) {
	on := layTogether(m.old, m.new, c.fitting())
	bolts, blocks := fitOf(on.fitted)
	l, err := holdAndLoad(c, on)
	if err != nil {
		return placed{}, err
	}
	if err := checkMotion(c.Machine, c.count(), partInputsOf(on.old, c.Old, c.Machine)); err != nil {
		return placed{}, err
	}
	return placed{
		old: on.old, new: on.new, fit: bolts, span: l.span, support: l.support, cases: l.cases, blocks: blocks,
		remarks: on.remarks.and(l.remarks, driveOf(c.Machine), goalOf(c.Limits)),
	}, nil
}

// driveOf writes down what is taken of the drive.
func driveOf(m Machine) (r remarks) {
	if m.Drive.unsaid() && m.known() {
		r = r.assuming("The drive is taken to be limited by its force; one whose controller sets speed and acceleration gains nothing in acceleration: give --drive-limited")
	}
	return r
}

// goalOf writes down what a goal other than mass leaves free.
func goalOf(l Limits) (r remarks) {
	if !l.lighter() && l.MaxMass == nil && !l.SavingAsked && !l.GainAsked {
		r = r.assuming("The redesign may weigh what it likes, for the goal is %s: give --max-mass, --min-gain or --min-saving", l.Goal)
	}
	return r
}

// checkMotion refuses a moving mass that is less than the stock parts that move.
func checkMotion(m Machine, count float64, stock partInputs) error {
	alone := func(one, many string) string {
		if count == 1 {
			return "the stock part alone " + one
		}
		return fmt.Sprintf("the %s stock parts alone %s", number(count), many)
	}
	if parts := count * stock.mass(); m.MovingMass > 0 && m.MovingMass <= parts {
		return fmt.Errorf("--moving-mass %s g: %s %s g; give the mass of everything that moves, stock parts included",
			number(m.MovingMass), alone("weighs", "weigh"), number(parts))
	}
	if parts := count * stock.inertia(stock.mass()); m.swinging() && m.MovingInertia <= parts {
		return fmt.Errorf("--moving-inertia %s kg mm2: %s %s kg mm2 about the pivot; give that of everything that swings, stock parts included",
			number(m.MovingInertia), alone("has", "have"), number(parts))
	}
	return nil
}
