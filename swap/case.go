package swap

import (
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/quantity"
	"swapworth/swap/fit"
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

// fitting is how the redesign is fitted onto the place of the stock part.
func (c Case) fitting() fit.Options { return fit.Options{SameFrame: c.SameFrame, Accept: c.Accept} }

func (c Case) count() float64 {
	if c.Count < 1 {
		return 1
	}
	return float64(c.Count)
}
