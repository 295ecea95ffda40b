package swap

import (
	"context"
	"fmt"
	"slices"

	"swapworth/beam"
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/asmade"
	"swapworth/mesh/feature"
	"swapworth/swap/fit"
	"swapworth/swap/mill"
)

// situation is a case with both parts measured and everything the person left
// open settled by an assumption that is written down.
type situation struct {
	c        Case
	old, new part
	span     mesh.Axis
	support  beam.Support
	cases    []loadCase // at least one
	fit      *Fit
	fitted   fit.Result
	blocks   []string        // findings of the fit that forbid `swap`
	moved    *mesh.Transform // of the redesign into the stock part's file; nil: none
	straight *mesh.Transform // of the stock part's file into its own axes; nil: none
	variants []variant       // of the redesign as made, the drawn one first
	work     *mill.Work
	milling  *mill.Estimate
	millable *mill.Millable // nil: not milled, or not judged

	poissons [2]*once[poissonCurve] // by part

	hasty      bool // leave the stress open where the answer does not rest on it,
	firstLook  bool // which was so
	staticOnly bool // mechanics without frequencies, which nobody will see

	assumptions []string
	warnings    []string
}

// part is one measured side.
type part struct {
	loaded *mesh.Loaded
	known  knowledge
	volume Range // mm3
	sizes  sizes // what the mill's tolerance does to it

	deviations [3]float64 // that the tolerance permits, mm, along made.Square

	// In the frame of its file:
	made  asmade.Part
	props mass.Properties

	// In the stock part's file:
	placed mass.Properties

	// In the frame that both parts are solved in, which motion takes the part's own
	// file into:
	motion   mesh.Transform
	mesh     *mesh.Mesh
	features feature.Features
	solver   *solver
}

// defaultMaterial is taken for a part of which nothing is known: the alloy a
// bench-top mill cuts most (common practice).
const defaultMaterial = "6061-T6"

// settle measures both parts and settles what the case leaves open.
func settle(c Case, old, new *shared) (*situation, error) {
	s := &situation{c: c, poissons: [2]*once[poissonCurve]{{}, {}}}
	err := each(context.Background(), 2, nil, func(_ context.Context, i int) (err error) {
		if i == 0 {
			s.old, err = old.measured(c.Old)
		} else {
			s.new, err = new.measured(c.New)
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	if err := s.checkLengths(); err != nil {
		return nil, err
	}
	s.settleMaking()
	if err := s.settleMaterials(); err != nil {
		return nil, err
	}
	s.settleMillable()
	s.settleFrame()
	if err := s.settleLoading(); err != nil {
		return nil, err
	}
	s.settleDrive()
	s.settleGoal()
	return s, s.checkMotion()
}

// measure refuses an open mesh: without an inside it has no volume.
func measure(side Side) (part, error) {
	l := side.Loaded
	if err := mass.CheckClosed(l); err != nil {
		return part{}, err
	}
	return partOf(l, l.Mesh, 0), nil
}

// partOf measures a mesh that was read from a file, or made from one with a
// volume known to +- volumeError mm3.
func partOf(l *mesh.Loaded, m *mesh.Mesh, volumeError float64) part {
	p := part{loaded: l, made: asmade.Read(m), props: mass.Of(m).Union(l.Report), mesh: m, solver: &solver{mesh: m}}
	p.placed, p.features, p.motion = p.props, p.made.Features, mesh.Identity()
	p.volume = mass.VolumeRange(p.props, l.Repairs)
	p.volume.Low, p.volume.High = p.volume.Low-volumeError, p.volume.High+volumeError
	return p
}

// settleMaterials knows the stock part first; a redesign of which no material
// was stated is taken to be made of the same.
func (s *situation) settleMaterials() error {
	fallback, err := s.fallback()
	if err != nil {
		return err
	}
	s.measureSizes()
	s.old.known = know("The stock part", s.c.Old, s.old, s.c.Table, fallback)
	s.new.known = know("The redesign", s.c.New, s.new, s.c.Table, s.old.known.material)
	if s.c.New.Material != nil && s.c.New.Weight != nil {
		s.new.known.keepStated(*s.c.New.Material)
	}
	switch k := s.old.known; {
	case k.basis == Assumed && s.c.Old.Weight != nil:
		s.assume("The stock part is bent as %s, for its weight fits no material: give --old-material", k.material.Name)
	case k.basis == Assumed:
		s.assume("The stock part is taken as %s: give --old-material, or better its weight with --old-weight", k.material.Name)
	}
	if s.new.known.basis == Assumed {
		s.assume("The redesign is taken as %s: give --new-material", s.new.known.material.Name)
	}
	if w := s.c.Old.Weight; w != nil && s.c.Old.StepFromDigits {
		s.assume("The scale is taken to resolve %s g, the last digit typed: give --scale-resolution", number(w.Resolution))
	}
	if k := s.old.known; k.basis == Identified {
		s.assume("A weight gives a density, not an alloy: the stock part is computed as %s and its strength stays open", k.material.Name)
	}
	for _, m := range []materials.Material{s.old.known.material, s.new.known.material} {
		s.warnings = append(s.warnings, m.Warnings()...)
		if grain := m.GrainWarning(); grain != "" {
			s.warnings = append(s.warnings, grain)
		}
	}
	return nil
}

// fallback returns the material taken for a stock part of which nothing is
// stated: that of the redesign, so that the shapes alone are compared.
func (s *situation) fallback() (materials.Material, error) {
	if s.c.New.Material != nil {
		return *s.c.New.Material, nil
	}
	return s.c.Table.Find(defaultMaterial)
}

// settleLoading takes the span along the longest side of the stock part's box
// and the load along its shortest, unless the person said otherwise. A load along
// the span bends nothing and is refused.
func (s *situation) settleLoading() error {
	size := s.old.mesh.Bounds().Size()
	longest, shortest := mesh.X, thinnestAxis(s.old.mesh)
	for _, a := range []mesh.Axis{mesh.Y, mesh.Z} {
		if a.Of(size) > longest.Of(size) {
			longest = a
		}
	}
	l := s.c.Loading
	along := l.Along
	s.span, s.support = longest, beam.Cantilever
	if l.Span != nil {
		s.span = *l.Span
	} else if l.usesEnds() {
		s.assume("The span runs along %s, the longest side of the stock part: give --span", s.span)
	}
	if len(along) == 0 {
		if shortest == s.span {
			shortest = s.span.Next()
		}
		along = []mesh.Axis{shortest}
		if !l.named() {
			s.assume("The load acts along %s, the shortest side of the stock part: give --load-along", shortest)
		}
	}
	if l.Support != nil {
		s.support = *l.Support
	} else if l.supportOpen() {
		s.assume("The part is held as a %s: give --support, or --fix where it is bolted", s.support)
	}
	for _, p := range []part{s.old, s.new} {
		if m := p.known.material; m.Directional != nil {
			s.assumeOnce("Fibres or grain of %s are taken to run along %s, as strong as they are there: across them it has less", m.Name, s.span)
		}
	}
	if slices.Contains(along, s.span) && l.supportOpen() {
		return fmt.Errorf("the load along %s lies along the span: give another --load-along or --span", s.span)
	}
	return s.settleCases(along)
}

// across is the axis at right angles to the span and the first load.
func (s *situation) across() mesh.Axis {
	a := s.span.Next()
	if a == s.cases[0].along {
		a = a.Next()
	}
	return a
}

// checkMotion refuses a moving mass that is less than the parts that move.
func (s *situation) checkMotion() error {
	m, in := s.c.Machine, s.inputs(nil)
	alone := func(one, many string) string {
		if in.count == 1 {
			return "the stock part alone " + one
		}
		return fmt.Sprintf("the %s stock parts alone %s", number(in.count), many)
	}
	if parts := in.count * in.old.mass(); m.MovingMass > 0 && m.MovingMass <= parts {
		return fmt.Errorf("--moving-mass %s g: %s %s g; give the mass of everything that moves, stock parts included",
			number(m.MovingMass), alone("weighs", "weigh"), number(parts))
	}
	if parts := in.count * in.old.inertia(in.old.mass()); m.swinging() && m.MovingInertia <= parts {
		return fmt.Errorf("--moving-inertia %s kg mm2: %s %s kg mm2 about the pivot; give that of everything that swings, stock parts included",
			number(m.MovingInertia), alone("has", "have"), number(parts))
	}
	return nil
}

func (s *situation) assume(format string, args ...any) {
	s.assumptions = append(s.assumptions, fmt.Sprintf(format, args...))
}

// inputs gathers the numbers the judgement rests on.
func (s *situation) inputs(directions []direction) inputs {
	return inputs{
		old:        s.old.inputs(s.c.Old, s.c.Machine),
		new:        s.new.inputs(s.c.New, s.c.Machine),
		count:      s.c.count(),
		machine:    s.c.Machine,
		directions: directions,
		force:      s.c.Loading.Size(),
		limits:     s.c.Limits,
		sameLot:    s.c.SameLot,
		attached:   s.c.Loading.AttachedMass > 0,
		blocks:     s.blocks,
		draws:      new(sampler),
	}
}
