package swap

import (
	"context"
	"fmt"

	"swapworth/beam"
	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/solid"
)

// directions finds how both parts respond in every load direction.
func (s *situation) directions(ctx context.Context, along []mesh.Axis, support beam.Support) ([]direction, error) {
	out := make([]direction, len(along))
	for i, a := range along {
		out[i] = direction{name: a.String(), method: s.method()}
	}
	err := each(ctx, 2*len(along), nil, func(ctx context.Context, i int) (err error) {
		d, a := &out[i/2], along[i/2]
		if i%2 == 0 {
			d.old, err = s.respond(ctx, s.old, "stock part", a, support)
		} else {
			d.new, err = s.respond(ctx, s.new, "redesign", a, support)
		}
		return err
	})
	return out, err
}

func (s *situation) method() Method {
	if s.c.Loading.Method == "" {
		return ByBeam
	}
	return s.c.Loading.Method
}

// respond computes one part in one direction under a unit of force where none
// is known, so that stress per force is known all the same.
func (s *situation) respond(ctx context.Context, p part, name string, along mesh.Axis, support beam.Support) (response, error) {
	if s.method() == BySolid {
		return s.respondSolid(ctx, p, name, along, support, s.force())
	}
	return s.respondBeam(p, name, along, support, s.force())
}

func (s *situation) force() float64 {
	if f := s.c.Loading.Force; f > 0 {
		return f
	}
	return 1
}

func (s *situation) respondBeam(p part, name string, along mesh.Axis, support beam.Support, force float64) (response, error) {
	e := p.known.material.Elastic()
	r, err := beam.OfPart(p.mesh, e, beam.Setup{
		Span: s.span, Load: along, Support: support, Force: force,
		AttachedMass: s.c.Loading.AttachedMass, Holes: roundHoles(p.features.Holes), Slicer: p.slicer,
	})
	if err != nil {
		return response{}, fmt.Errorf("%s, load along %s: %w", name, along, err)
	}
	warnings := about(name, along, r.Warnings)
	if r.Stiffness == nil {
		return response{refused: r.Refused, warnings: warnings}, nil
	}
	out := response{
		warnings:   warnings,
		perModulus: *r.Stiffness / e.YoungsModulus,
		errorLow:   r.MethodError.Low, errorHigh: r.MethodError.High,
	}
	if r.MaxStress != nil {
		out.stressPerForce = *r.MaxStress / force
	}
	out.bent = Bent{Along: along, Points: r.Curve}
	if r.Stress != nil {
		at := s.span.Of(r.Stress.EquivalentAt)
		out.bent.WeakestAt = &at
	}
	return out, nil
}

// roundHoles hands the part's through holes to the beam, for the concentration
// of stress beside them.
func roundHoles(holes []feature.Hole) []beam.RoundHole {
	var out []beam.RoundHole
	for _, h := range holes {
		if h.Open {
			out = append(out, beam.RoundHole{Number: h.Number, Axis: h.Axis, Centre: h.Centre, Diameter: h.Diameter})
		}
	}
	return out
}

func (s *situation) respondSolid(ctx context.Context, p part, name string, along mesh.Axis, support beam.Support, force float64) (response, error) {
	e := p.known.material.Elastic()
	problem, err := solid.EndProblem(p.mesh, s.span, along, support.String(), force)
	if err != nil {
		return response{}, fmt.Errorf("%s, load along %s: %w", name, along, err)
	}
	r, err := solid.Check(ctx, p.mesh, e, problem, solid.Options{})
	if err != nil {
		return response{}, fmt.Errorf("%s, load along %s: %w", name, along, err)
	}
	band := r.ErrorPercent / 100
	return response{
		warnings:   about(name, along, r.Warnings),
		perModulus: r.Stiffness / e.YoungsModulus,
		errorLow:   -band, errorHigh: band,
		stressPerForce: r.MaxStress / force,
	}, nil
}

// about says of every warning which part and direction it is about.
func about(name string, along mesh.Axis, warnings []string) []string {
	var out []string
	for _, w := range warnings {
		out = append(out, fmt.Sprintf("%s, load along %s: %s", name, along, w))
	}
	return out
}
