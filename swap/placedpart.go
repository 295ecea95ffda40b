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

// moved is a part in another frame.
type moved struct {
	mesh     *mesh.Mesh
	features feature.Features
	solver   *solver
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

// elastic is the part's material with the density the part really has.
func (p placedPart) elastic() materials.Elastic {
	e := p.known.material.Elastic()
	e.Density = p.known.density.Nominal
	return e
}

// radius2 returns the square of the radius of gyration about a pivot, in mm2:
// (I_c + V d2)/V with I_c about the parallel axis through the centroid at
// distance d (Steiner).
func (p placedPart) radius2(pivot r3.Vec, axis mesh.Axis) float64 {
	arm := r3.Sub(p.onMachine.Centroid, pivot)
	along := axis.Of(arm)
	return p.onMachine.Inertia[axis][axis]/p.onMachine.Volume + r3.Norm2(arm) - along*along
}

// moved returns the part in the frame that a motion brings it to.
func (s *solver) moved(t mesh.Transform) moved {
	out, _ := remembered(&s.found, t, func() (moved, error) {
		m := s.mesh.Transformed(t)
		return moved{m, feature.Find(m), &solver{mesh: m}}, nil
	})
	return out
}
