package swap

import (
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/feature"
)

// placedPart is a part in the frame that both are solved in.
type placedPart struct {
	part
	motion   mesh.Transform // from the frame of its file
	mesh     *mesh.Mesh
	features feature.Features
	solver   *solver

	onMachine mass.Properties // in the stock part's file, where the pivot is
}

// asFiled is a part in the frame of its own file.
func asFiled(p part) placedPart {
	return placedPart{
		part: p, motion: mesh.Identity(), mesh: p.made.Mesh, features: p.made.Features, solver: p.shape.solver, onMachine: p.props,
	}
}

// moved returns the part moved on; what it is measured to be keeps the coordinates of its
// own file.
func (p placedPart) moved(t mesh.Transform) placedPart {
	there := p.solver.moved(t)
	return placedPart{p.part, t.Compose(p.motion), there.mesh, there.features, there.solver, p.onMachine}
}

// movedOnMachine returns the part moved into the stock part's file.
func (p placedPart) movedOnMachine(t mesh.Transform) placedPart {
	there := p.moved(t)
	return placedPart{p.part, there.motion, there.mesh, there.features, there.solver, mass.Of(there.mesh)}
}

// shaped returns the part in another shape, in the same place and of the same material.
func (p placedPart) shaped(s shape) placedPart {
	out := asFiled(part{s, p.tolerance, p.known})
	if p.motion != mesh.Identity() {
		return out.moved(p.motion)
	}
	return out
}

// solvedAs returns the part with another mesh in its place, which has its features.
func (p placedPart) solvedAs(s *solver) placedPart {
	return placedPart{p.part, p.motion, s.mesh, p.features, s, p.onMachine}
}

// withPoisson returns the part in its material with another Poisson's ratio.
func (p placedPart) withPoisson(ratio float64) placedPart {
	known := p.known
	known.material.Poisson.Value = ratio
	return placedPart{part{p.shape, p.tolerance, known}, p.motion, p.mesh, p.features, p.solver, p.onMachine}
}

// elastic is the part's material with the density the part really has.
func (p placedPart) elastic() materials.Elastic {
	e := p.known.material.Elastic()
	e.Density = p.known.density.Nominal
	return e
}

// holes are the part's holes in its place, numbered as its own file has
// them and places such as hole:3 name them.
func (p placedPart) holes() (holes []feature.Hole) {
	for _, h := range p.made.Features.Holes {
		h.Centre, h.Axis = p.motion.Apply(h.Centre), p.motion.Turn(h.Axis)
		holes = append(holes, h)
	}
	return holes
}

// radius2 returns the square of the radius of gyration about a pivot, in mm2:
// (I_c + V d2)/V with I_c about the parallel axis through the centroid at
// distance d (Steiner).
func (p placedPart) radius2(pivot r3.Vec, axis mesh.Axis) float64 {
	arm := r3.Sub(p.onMachine.Centroid, pivot)
	along := axis.Of(arm)
	return p.onMachine.Inertia[axis][axis]/p.onMachine.Volume + r3.Norm2(arm) - along*along
}
