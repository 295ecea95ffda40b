package swap

import (
	"context"
	"sync"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/solid"
)

// solver is a part made ready to be solved. Its grids are built once and serve
// every way of holding and loading it. What was asked once is not solved again.
type solver struct {
	lock sync.Mutex
	mesh *mesh.Mesh
	body *solid.Body

	found memo
}

// check solves a problem; one at a time, for the problems share the grids.
func (s *solver) check(ctx context.Context, e materials.Elastic, p solid.Problem, o solid.Options) (solid.Result, error) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if err := s.prepare(); err != nil {
		return solid.Result{}, err
	}
	return s.body.Check(ctx, e, p, o)
}

// locate finds the places of a problem without solving it.
func (s *solver) locate(e materials.Elastic, p solid.Problem) error {
	s.lock.Lock()
	defer s.lock.Unlock()
	if err := s.prepare(); err != nil {
		return err
	}
	return s.body.Locate(e, p)
}

func (s *solver) prepare() (err error) {
	if s.body == nil {
		s.body, err = solid.NewBody(s.mesh)
	}
	return err
}
