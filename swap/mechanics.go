package swap

import (
	"context"
	"fmt"
	"slices"

	"swapworth/beam"
	"swapworth/materials"
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
	parts := []struct {
		part
		name string
		to   func(*direction) *response
	}{
		{s.old, "stock part", ofStock},
		{s.new, "redesign", ofRedesign},
	}
	err := each(ctx, len(parts), s.c.Progress, func(ctx context.Context, i int) error {
		p := parts[i]
		bend := func() ([]response, error) { return s.respond(ctx, p.part, p.name, along, support) }
		if i == 0 {
			bend = s.stock.once(fmt.Sprint(along, support, s.staticOnly), bend)
		}
		responses, err := bend()
		for k := range responses {
			*p.to(&out[k]) = responses[k]
		}
		return err
	})
	return out, err
}

func ofStock(d *direction) *response    { return &d.old }
func ofRedesign(d *direction) *response { return &d.new }

func (s *situation) method() Method {
	if s.c.Loading.Method == "" {
		return ByBeam
	}
	return s.c.Loading.Method
}

// respond computes one part in every direction, under a unit of force where none
// is known, so that stress per force is known all the same.
func (s *situation) respond(ctx context.Context, p part, name string, along []mesh.Axis, support beam.Support) ([]response, error) {
	if s.method() == BySolid {
		return s.respondSolid(ctx, p, name, along, support)
	}
	return s.respondBeams(p, name, along, support)
}

func (s *situation) respondBeams(p part, name string, along []mesh.Axis, support beam.Support) ([]response, error) {
	out := make([]response, len(along))
	for i, a := range along {
		var err error
		if out[i], err = s.respondBeam(p, name, a, support); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// static returns the situation for mechanics of parts that are only tried: their
// frequencies are spared.
func (s *situation) static() *situation {
	quick := *s
	quick.staticOnly = true
	return &quick
}

func (s *situation) force() float64 {
	if f := s.c.Loading.Force; f > 0 {
		return f
	}
	return 1
}

func (s *situation) respondBeam(p part, name string, along mesh.Axis, support beam.Support) (response, error) {
	e, force := p.elastic(), s.force()
	r, err := beam.OfPart(p.mesh, e, beam.Setup{
		Span: s.span, Load: along, Support: support, Force: force,
		AttachedMass: s.c.Loading.AttachedMass, Holes: roundHoles(p.features.Holes), Slicer: p.slicer, StaticOnly: s.staticOnly,
	})
	if err != nil && e.YoungsModulus > 0 { // the rest of the comparison stands without a beam
		r.Refused = fmt.Sprintf("this is no beam along %s: %v; use the solid check", s.span, err)
		r.Warnings = []string{r.Refused}
	} else if err != nil {
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
	if r.MethodError.High > 0 {
		out.errorOwn = r.MethodError.Own / r.MethodError.High
	}
	out.frequency = r.Frequency
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

// respondSolid solves all directions in one set-up where the part is held the
// same way in all of them, which costs little more than one.
func (s *situation) respondSolid(ctx context.Context, p part, name string, along []mesh.Axis, support beam.Support) ([]response, error) {
	var problems []solid.Problem
	for _, a := range along {
		one, err := solid.EndProblem(p.mesh, s.span, a, support.String(), s.force())
		if err != nil {
			return nil, fmt.Errorf("%s, load along %s: %w", name, a, err)
		}
		if n := len(problems); n > 0 && slices.Equal(problems[n-1].Supports, one.Supports) {
			problems[n-1].Cases = append(problems[n-1].Cases, one.Cases...)
		} else {
			problems = append(problems, one)
		}
	}
	e := p.elastic()
	options := solid.Options{}
	if s.c.Loading.AttachedMass > 0 { // modes cost as much again, so only where they are asked for
		options.Modes = 1
	}
	var out []response
	for _, one := range problems {
		one.AttachedMass = s.c.Loading.AttachedMass
		r, err := solid.Check(ctx, p.mesh, e, one, options)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		for _, c := range r.Cases {
			band := c.ErrorPercent / 100
			out = append(out, response{
				warnings:   about(name, along[len(out)], r.Warnings),
				perModulus: c.Stiffness / e.YoungsModulus,
				frequency:  r.Frequency,
				errorLow:   -band, errorHigh: band,
				stressPerForce: c.MaxStress / s.force(),
			})
		}
	}
	return out, nil
}

// elastic is the part's material with the density the part really has.
func (p part) elastic() materials.Elastic {
	e := p.known.material.Elastic()
	e.Density = p.known.density.Nominal
	return e
}

// about says of every warning which part and direction it is about.
func about(name string, along mesh.Axis, warnings []string) []string {
	var out []string
	for _, w := range warnings {
		out = append(out, fmt.Sprintf("%s, load along %s: %s", name, along, w))
	}
	return out
}
