package solid

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"swapworth/materials"
	"swapworth/mesh"
)

// Body is a closed part made ready for checks. What one check finds is kept for
// the next: the holes and faces of the part, its grids and the material in their
// cells wherever the same lines are wanted, the assembled and preconditioned
// system where the same places are held and Poisson's ratio is the same, and the
// solution where the same forces act, whatever the modulus and the density. A
// second check with more unknowns, or with Options.Finer, refines the first.
//
// A Body serves one goroutine at a time; two bodies may be checked side by side.
type Body struct {
	m       *mesh.Mesh
	where   *part
	volume  float64
	poses   []*pose // see frames
	layouts map[string]*layout
	systems []*keptSystem // the one used last at the end
}

// NewBody makes a part ready for checks. It fails when the mesh is open or
// encloses no volume.
func NewBody(m *mesh.Mesh) (*Body, error) {
	if report := mesh.Check(m); !report.Balanced {
		return nil, fmt.Errorf("solid: the mesh is not closed (%d open edges); close it with --repair or in the CAD program", report.OpenEdges)
	}
	b := &Body{m: m, volume: m.SignedVolume(), layouts: map[string]*layout{}}
	if !(b.volume > 0) {
		return nil, errors.New("solid: the mesh encloses no volume; is it inside out?")
	}
	b.where = &part{m: m, box: m.Bounds(), tol: tolerance(m.Bounds()), known: map[Place]spot{}}
	return b, nil
}

// Check solves the problem p for a body of material e. It fails when a place
// holds no material, the part is not held, the memory does not suffice, or ctx
// ends.
func (b *Body) Check(ctx context.Context, e materials.Elastic, p Problem, opt Options) (Result, error) {
	if parts := p.bySupports(); len(parts) > 1 {
		return b.checkEach(ctx, e, p, parts, opt)
	} else if len(parts) == 1 {
		p = parts[0]
	}
	return b.checkOne(ctx, e, p, opt)
}

// checkEach solves problems with different supports one after the other and
// lists their cases in the order of whole. Grids, frequencies and the deflected
// shape are those of the first.
func (b *Body) checkEach(ctx context.Context, e materials.Elastic, whole Problem, parts []Problem, opt Options) (Result, error) {
	start := time.Now()
	told := opt.Progress
	found := map[string]CaseResult{}
	var out Result
	for k, p := range parts {
		if told != nil {
			opt.Progress = func(share float64) { told((float64(k) + share) / float64(len(parts))) }
		}
		r, err := b.checkOne(ctx, e, p, opt)
		if err != nil {
			return out, err
		}
		for i, c := range r.Cases {
			found[fmt.Sprint(k, i)] = c
		}
		if k == 0 {
			out = r
			opt.Shape, opt.Modes = false, 0
			continue
		}
		for _, w := range r.Warnings {
			if !slices.Contains(out.Warnings, w) {
				out.Warnings = append(out.Warnings, w)
			}
		}
	}
	out.Cases = nil
	next := make([]int, len(parts))
	for _, c := range whole.Cases {
		for k, p := range parts {
			if slices.Equal(p.Supports, whole.holds(c)) {
				out.Cases = append(out.Cases, found[fmt.Sprint(k, next[k])])
				next[k]++
			}
		}
	}
	out.Seconds = time.Since(start).Seconds()
	return out, nil
}

// bySupports splits a problem into those whose cases share their supports, in
// the order in which these first appear.
func (p Problem) bySupports() (parts []Problem) {
	for _, c := range p.Cases {
		holds := p.holds(c)
		k := 0
		for k < len(parts) && !slices.Equal(parts[k].Supports, holds) {
			k++
		}
		if k == len(parts) {
			one := p
			one.Supports, one.Cases = holds, nil
			parts = append(parts, one)
		}
		c.Supports = nil
		parts[k].Cases = append(parts[k].Cases, c)
	}
	return parts
}
