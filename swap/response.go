package swap

import (
	"swapworth/beam"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/solid"
)

// response is what mechanics says of one part in one load case, free of the
// material: stiffness is perModulus x E and stress is perLoad x load.
type response struct {
	warnings   []string
	refused    string // why there is no stiffness; empty where there is one
	kind       solid.Kind
	perModulus float64           // stiffness in the sense of the kind over Young's modulus: mm for a force
	deflection float64           // times Young's modulus, over the load: N/mm for a force
	within     float64           // the true stiffness lies within this share of the estimate
	stress     stress            // von Mises, at its peak
	frequency  *float64          // Hz, the lowest as the part is held
	solvedAs   materials.Elastic // that the frequency was found with
	bent       Bent              // for figures; empty where the part is no beam
	reactions  []solid.Reaction  // of every hold, to the load as it was solved
}

// stress is the largest equivalent stress of a part over its load, 1/mm2 for a
// force in N. Its high end is infinite where no grid has shown that the peak has a
// limit; it is resolved where grids or submodels have settled it. Zero is unknown.
type stress struct {
	perLoad  Range
	resolved bool
}

// direction is one load case with the response of both parts.
type direction struct {
	loadCase
	method   Method
	old, new response
}

// Bent is a part as a beam loaded along one axis: its sections along the span,
// and the place on the span, in mm, where the stress is largest. Points is empty
// and WeakestAt nil where beam theory refused the part or was not used.
type Bent struct {
	Along     mesh.Axis
	Points    []beam.Point
	WeakestAt *float64
}

// stressError is the half-width of a peak stress that two grids agree on, and of
// a nominal beam stress at a plain section, as a fraction (common practice).
const stressError = 0.10

// of is the response of one part.
func (d direction) of(side int) response { return [2]response{d.old, d.new}[side] }

// nominalRatio is the stiffness ratio new/old, from nominal values of both parts' Young's
// modulus.
func (d direction) nominalRatio(oldModulus, newModulus float64) float64 {
	return d.new.perModulus * newModulus / (d.old.perModulus * oldModulus)
}
