package solid

import (
	"context"

	"swapworth/materials"
	"swapworth/mesh"
)

// Options tune a check. The zero value suits most parts.
type Options struct {
	Unknowns int     // about how many on the finest grid; 0 means 200 000, or up to four times that where the error asks for it
	Grids    int     // number of grids, each halving the cells; 0 means 3
	Finer    int     // grids beyond those, each of about eight times the unknowns
	Modes    int     // natural frequencies wanted; 0 means none
	Memory   int64   // bytes that may be used; 0 means what the machine has free
	Shape    bool    // keep the deflected shape of the first case
	Spare    bool    // look for material that carries little, a second or two
	Cutter   float64 // diameter of the smallest cutter that pockets, mm; 0 means 3
	NoStress bool    // stiffness alone is wanted: stresses stay 0
	Peaks    bool    // look closely at the three hottest places of each case, about a second a place
	LookAt   []Spot  // places to look at closely beside the hottest, in every case

	// Progress is told from time to time which share of the work is done.
	Progress func(share float64)
}

// Quick is the small budget with which a decision starts: two grids, the finer of
// about 25 000 unknowns. Stiffness is within a percent or two for most parts.
func Quick() Options { return Options{Unknowns: quickUnknowns, Grids: quickGrids} }

// Refined asks for one more grid than o does. On the same body the grids that are
// there, and what was solved on them, are used again.
func (o Options) Refined() Options {
	o.Finer++
	return o
}

const (
	usualUnknowns = 200_000
	usualGrids    = 3
	quickUnknowns = 25_000
	quickGrids    = 2
	poor          = 5.0 // percent of error above which the usual size is not enough
)

// Check solves the problem p for the closed mesh m of material e. It fails when
// the mesh is open, a place holds no material, the part is not held, the memory
// does not suffice, or ctx ends. For several problems on one part make a Body.
func Check(ctx context.Context, m *mesh.Mesh, e materials.Elastic, p Problem, opt Options) (Result, error) {
	b, err := NewBody(m)
	if err != nil {
		return Result{}, err
	}
	return b.Check(ctx, e, p, opt)
}
