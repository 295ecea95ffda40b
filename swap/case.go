package swap

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam"
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/quantity"
)

// Case is one question: two parts, the machine they move on, how they are
// loaded, and what the person asks of the swap. A pointer that is nil, a zero
// mass or a zero force means that the person did not say.
type Case struct {
	Old, New Side
	Count    int // parts of this kind on the machine; 0 means 1

	SameFrame bool     // both files lie as their parts do on the machine
	Accept    []string // findings of the fit that are meant to be so
	SameLot   bool     // both parts are cut from one delivery of their material

	// BoltedTo is what the part is bolted to; nil: steel. It decides how far heat moves
	// one against the other, and which of them corrodes.
	BoltedTo *materials.Material

	Machine Machine
	Loading Loading
	Limits  Limits
	Making  Making

	Remembered *Remembered // what of all this the machine file said; nil where it said nothing

	Units quantity.System // that the note is written in; everything is computed in metric ones

	// Explore tries what nobody said, too, for whoever asks the person on: see
	// Exploration.
	Explore bool

	Figures bool // find what only pictures and the table of spare material show, a second or two more

	// Progress is told which share of the mechanics is done; nil says nothing.
	Progress func(share float64)
	Table    *materials.Table
}

// Remembered names what a case took from the file that keeps the machine.
type Remembered struct {
	File   string   `json:"file"`
	Fields []string `json:"fields"` // each with its value, such as "moving-mass 1200g"
}

// Side is what is known of one part.
type Side struct {
	Loaded   *mesh.Loaded
	Material *materials.Material
	Weight   *mass.Weighing
	Observed mass.Observation // what a magnet and the eye say of the part

	StepFromDigits bool // the scale's resolution is the last digit typed
	Bar            bool // a simple section stands in for a mesh
}

// Machine is what the parts move with. A pivot makes it a swinging arm.
type Machine struct {
	MovingMass    float64 // g, everything that moves, stock parts included
	Pivot         *r3.Vec // mm, in the stock part's coordinates
	PivotAxis     mesh.Axis
	MovingInertia float64 // kg mm2 about the pivot, stock parts included
	Drive         Drive   // of a linear axis
}

// Method names how stiffness is found.
type Method string

// The methods: three-dimensional elasticity on the part itself, refined only as
// far as the answer needs; the same at the full budget; and beam theory on cuts
// of the part.
const (
	Auto    Method = "auto"
	BySolid Method = "solid"
	ByBeam  Method = "beam"
)

// Loading is how the parts are held and loaded.
type Loading struct {
	Span         *mesh.Axis // nil: the longest side of the stock part's box
	Along        []mesh.Axis
	Support      *beam.Support // nil: cantilever
	Force        float64       // N
	ForceRange   *Range        // N, around Force; nil: exactly that
	AttachedMass float64       // g
	Method       Method

	Places // of every case that names none of its own
	Loads  // beside a force along an axis
	Cases  []LoadCase
}

// Size is the force along an axis as a range, in N; zero where nobody said.
func (l Loading) Size() Range {
	if l.ForceRange != nil {
		return *l.ForceRange
	}
	return materials.Exactly(l.Force)
}

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
	// and a missed one as missed; 0 is DefaultConfidence.
	Confidence float64
}

// DefaultConfidence is what is asked where the person set nothing: nine of ten such
// swaps keep what they promise.
const DefaultConfidence = 0.90

// confidence returns what is asked.
func (l Limits) confidence() float64 {
	if l.Confidence == 0 {
		return DefaultConfidence
	}
	return l.Confidence
}

// DefaultLimits returns the criteria that hold where the person set none.
func DefaultLimits() Limits {
	return Limits{MinGain: 0.01, MinSaving: 0.10, MinStiffnessRatio: 0.9, MinSafetyFactor: 2}
}

func (c Case) count() float64 {
	if c.Count < 1 {
		return 1
	}
	return float64(c.Count)
}
