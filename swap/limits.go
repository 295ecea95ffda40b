package swap

import "fmt"

// Limits are the criteria. Fractions: 0.01 is 1 %.
type Limits struct {
	MinGain           float64
	MinSaving         float64
	MinStiffnessRatio float64
	MinSafetyFactor   float64
	SavingAsked       bool // judge the saving even where a gain can be judged
	GainAsked         bool // leave no gain unsaid where the motion is unknown
	StiffnessAsked    bool // the person set MinStiffnessRatio
	SafetyAsked       bool // the person set MinSafetyFactor

	Goal    Goal
	Demands // beside those above, nil where nobody asked

	// Confidence is the probability from which all criteria together count as met,
	// and a missed one as missed; 0 is defaultConfidence.
	Confidence float64
}

// Demands are the limits that were asked for, nil for those that were not.
type Demands struct {
	MaxMass       *float64 `json:"max_mass_g"`        // of one redesign
	MaxDeflection *float64 `json:"max_deflection_mm"` // in every load case
	MinFrequency  *float64 `json:"min_frequency_hz"`  // the lowest as the part is held
	MaxCost       *float64 `json:"max_cost"`          // in the currency the person uses
	MaxHours      *float64 `json:"max_hours"`
}

// Goal is what the swap is for. It says which criteria hold where the person set none:
// every goal asks for stiffness and strength.
type Goal string

// The goals.
const (
	// Lighter asks for a gain of acceleration where the motion is known, or else for a
	// saving of mass.
	Lighter Goal = "lighter"

	// Stiffer asks for more than the stock part's stiffness. Mass may grow, up to what
	// the person sets.
	Stiffer Goal = "stiffer"

	// Cheaper asks for a cost below that of as many stock parts. Mass may grow, up to
	// what the person sets.
	Cheaper Goal = "cheaper"
)

// defaultConfidence is what is asked where the person set nothing: nine of ten such
// swaps keep what they promise.
const defaultConfidence = 0.90

// confidence returns what is asked.
func (l Limits) confidence() float64 {
	if l.Confidence == 0 {
		return defaultConfidence
	}
	return l.Confidence
}

// DefaultLimits returns the criteria that hold where the person set none.
func DefaultLimits() Limits {
	return Limits{MinGain: 0.01, MinSaving: 0.10, MinStiffnessRatio: 0.9, MinSafetyFactor: 2}
}

// UnmarshalText reads lighter, stiffer or cheaper.
func (g *Goal) UnmarshalText(text []byte) error {
	switch Goal(text) {
	case Lighter, Stiffer, Cheaper:
		*g = Goal(text)
		return nil
	}
	return fmt.Errorf("%q: expected lighter, stiffer or cheaper", text)
}

// Limits returns the criteria of a goal of which the person set none. A part is worth
// making for its stiffness where it gains a tenth, as for its mass where it saves one.
func (g Goal) Limits() Limits {
	l := DefaultLimits()
	if l.Goal = g; g == Stiffer {
		l.MinStiffnessRatio = 1.1
	}
	return l
}

// lighter reports whether the swap is for the sake of mass, as it is where nobody said.
func (l Limits) lighter() bool { return l.Goal == "" || l.Goal == Lighter }

// asksGain reports whether a gain that is known is judged.
func (l Limits) asksGain(m Machine) bool { return m.known() && (l.lighter() || l.GainAsked) }

// asksSaving reports whether the saving is judged.
func (l Limits) asksSaving(m Machine) bool { return l.SavingAsked || l.lighter() && !m.known() }
