package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"
	"gonum.org/v1/gonum/spatial/r3"

	"swapworth/beam"
	"swapworth/mass"
	"swapworth/mesh"
	"swapworth/note"
	"swapworth/quantity"
	"swapworth/solid"
)

// newSolid builds the command that checks a part in three dimensions.
func newSolid() *cobra.Command {
	var s solidFlags
	cmd := &cobra.Command{
		Use:   "solid PART.stl",
		Short: "Stiffness, stress and frequency in three dimensions",
		Long: "solid solves three-dimensional elasticity on the mesh as it is. Nobody has to\n" +
			"mesh the inside: the part is laid into a grid of bricks whose lines follow its\n" +
			"flat faces, and three grids give the stiffness with an estimate of its error.\n\n" +
			"Stiffness is force over the mean displacement of the loaded place along the\n" +
			"force. A cantilever is the whole flat face at the low end of the span clamped,\n" +
			"and the force spread evenly over the whole flat face at the high end. The other\n" +
			"supports hold both end faces and load the middle.\n\n" +
			"--force, --moment, --pressure and --acceleration act together, and with --load\n" +
			"where that is given. A moment without a force gives the stiffness over rotation;\n" +
			"pressure and acceleration alone give the largest deflection. Every hold tells\n" +
			"the force and the moment that it takes.\n\n" +
			"Places for --fix and --load-at:\n" +
			"  end:low  end:high        the flat face at an end of the span\n" +
			"  hole:3                   bolted at hole 3 (as fit numbers them): a washer on\n" +
			"                           each flat mouth, 1.8 times as wide as the hole\n" +
			"  washer:3:12mm            the same, with the washer's diameter\n" +
			"  bore:3                   the wall of hole 3\n" +
			"  rim:1                    an outer round wall, as of a disc\n" +
			"  face:10,20,6             the flat face at a point; face:10,20,6:0,0,1 names\n" +
			"                           the direction it looks, too\n" +
			"  box:0,0,0:10,20,6        all material between two corners\n" +
			"  section:60               a thin slice across the span\n\n" + cautionText,
		Example: "  swapworth solid testdata/reference/tube.stl --material 6061-T6 --load 100N\n" +
			"  swapworth solid plate.stl --material S235 --fix hole:1 --fix hole:2 \\\n" +
			"    --load-at hole:5 --load-along z --load 20N --attached-mass 200g\n" +
			"  swapworth solid disc.stl --material 6061-T6 --fix rim:1 \\\n" +
			"    --load-at face:0,0,4:0,0,1 --pressure 0.2MPa\n" +
			"  swapworth solid arm.stl --youngs-modulus 70000MPa --poisson 0.33 \\\n" +
			"    --load-along y --load-along z --load 50N --format json",
		Args: usage(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error { return s.run(cmd, args[0]) },
	}
	s.in.register(cmd)
	s.matter.register(cmd)
	s.register(cmd)
	s.out.register(cmd)
	s.out.registerFigures(cmd)
	return cmd
}

// solidFlags are the flags of solid.
type solidFlags struct {
	in     input
	out    output
	matter elasticFlags

	span     *mesh.Axis
	along    []mesh.Axis
	support  *beam.Support
	force    *quantity.Force
	loads    loadFlags
	lies     straightened
	fix      []string
	loadAt   []string
	attached *quantity.Mass
	unknowns int
	grids    int
	modes    int
	spare    bool
	cutter   *quantity.Length
}

func (s *solidFlags) register(cmd *cobra.Command) {
	f := cmd.Flags()
	textFlag(f, &s.span, "span", "axis", "axis along which the part reaches: x, y or z (default the longest side)")
	f.Var(repeated[mesh.Axis]{&s.along, mesh.ParseAxis, "axis"}, "load-along",
		"axis along which the load acts, once for each load case (default the shortest side)")
	textFlag(f, &s.support, "support", "support", "cantilever, simply-supported, fixed-fixed or propped (default cantilever)")
	loadFlag(f, &s.force, "force, spread over the loaded places (default unit N; default 1 N)")
	s.loads.register(cmd)
	f.StringArrayVar(&s.fix, "fix", nil, "clamp a `PLACE` instead of the usual support; repeatable")
	f.StringArrayVar(&s.loadAt, "load-at", nil, "load a `PLACE` instead of the usual one; repeatable, shares the force")
	textFlag(f, &s.attached, "attached-mass", "mass", "mass at the first loaded place, for the frequencies and with --acceleration (default unit g)")
	f.IntVar(&s.unknowns, "unknowns", 0, "about how many `UNKNOWNS` on the finest grid (default 200000, more where the error estimate asks for it)")
	f.IntVar(&s.grids, "grids", 3, "number of grids, each with cells half as long as the one before")
	f.BoolVar(&s.spare, "spare", false, "say where material carries little: its share, and regions that could be pocketed")
	textFlag(f, &s.cutter, "cutter", "length", "diameter of the smallest cutter that pockets, for --spare (default 3 mm)")
	f.IntVar(&s.modes, "modes", 3, "natural frequencies wanted, where the density is known")
}

func (s *solidFlags) run(cmd *cobra.Command, path string) error {
	if err := s.check(); err != nil {
		return err
	}
	m, err := s.matter.load()
	if err != nil {
		return err
	}
	part, err := s.in.load(path)
	if err != nil {
		return err
	}
	if err := mass.CheckClosed(part); err != nil {
		return err
	}
	report := note.SolidReport{File: part.Path, Assumptions: m.assumed}
	s.lies = straighten(part.Mesh, report.Assume)
	s.loads.turn, report.Mesh = s.lies.turn, s.lies.mesh
	p, err := s.problem(s.lies.mesh, &report)
	if err != nil {
		return err
	}
	bar := newProgress(cmd, "solving")
	opt := solid.Options{Unknowns: s.unknowns, Grids: s.grids, Shape: true, Peaks: true, Spare: s.spare, Progress: bar.set}
	if s.cutter != nil {
		opt.Cutter = float64(*s.cutter)
	}
	if m.Density > 0 {
		opt.Modes = s.modes
	}
	report.Result, err = solid.Check(cmd.Context(), s.lies.mesh, m.Elastic, p, opt)
	bar.done()
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	report.Result = s.lies.result(report.Result)
	report.Material = m.name
	report.Warnings = append(append(append([]string{}, m.warnings...), part.Warnings...), report.Warnings...)
	return s.out.write(cmd, report, report.Document())
}

// check refuses numbers that make no sense.
func (s *solidFlags) check() error {
	switch {
	case s.unknowns != 0 && (s.unknowns < 1000 || s.unknowns > 50_000_000):
		return usageError{fmt.Errorf("--unknowns %d: expected 1000 to 50000000", s.unknowns)}
	case s.grids < 2 || s.grids > 5:
		return usageError{fmt.Errorf("--grids %d: expected 2 to 5", s.grids)}
	case s.modes < 0 || s.modes > 20:
		return usageError{fmt.Errorf("--modes %d: expected 0 to 20", s.modes)}
	case s.cutter != nil && !(*s.cutter > 0):
		return usageError{fmt.Errorf("--cutter %s: expected a length above zero", *s.cutter)}
	case s.cutter != nil && !s.spare:
		return usageError{errors.New("--cutter says what pockets of --spare are milled with; give --spare too")}
	case len(s.fix) > 0 && s.support != nil:
		return usageError{errors.New("--fix and --support exclude each other")}
	case s.support != nil && *s.support == beam.Propped && s.loads.any():
		return usageError{errors.New("--support propped holds the high end along --load-along; name what holds the part with --fix")}
	}
	return s.loads.check(s.force != nil || len(s.along) > 0, len(s.loadAt) > 0)
}

// problem builds the supports and one load case for each direction, or one of
// all the loads that no direction belongs to.
func (s *solidFlags) problem(m *mesh.Mesh, report *note.SolidReport) (solid.Problem, error) {
	span, along := s.axes(m, report)
	force := 1.0
	alone := s.loads.any() && s.force == nil && len(s.along) == 0
	switch {
	case s.force != nil:
		force = float64(*s.force)
	case !alone:
		report.Assume("a load of 1 N, with which deflection and stress scale; --load gives the real one")
	}
	support := beam.Cantilever
	if s.support != nil {
		support = *s.support
	} else if len(s.fix) == 0 {
		report.Assume("held as a cantilever; --support or --fix changes it")
	}
	var p solid.Problem
	for i, axis := range along {
		one, err := solid.EndProblem(m, span, axis, support.String(), force)
		if err != nil {
			return p, err
		}
		if i == 0 {
			p = one
			continue
		}
		p.Cases = append(p.Cases, one.Cases...)
		p.Supports = one.Supports
	}
	if support == beam.Propped && len(along) > 1 {
		return p, usageError{errors.New("--support propped holds the high end along the load: give one --load-along")}
	}
	at, err := s.places(&p, span)
	if err != nil {
		return p, err
	}
	if s.attached != nil {
		p.AttachedMass = float64(*s.attached)
	}
	for i, axis := range along {
		p.Cases[i] = s.loads.on(p.Cases[i], at, r3.Scale(force, axis.Unit()), p.AttachedMass)
	}
	if alone {
		p.Cases = []solid.Case{s.loads.on(solid.Case{Name: s.loads.name()}, at, r3.Vec{}, p.AttachedMass)}
	}
	s.tell(report, p, span, at)
	return p, nil
}

// tell writes into the report what holds and loads the part.
func (s *solidFlags) tell(report *note.SolidReport, p solid.Problem, span mesh.Axis, at []solid.Place) {
	report.Span = span.String()
	for _, h := range p.Supports {
		report.Held = append(report.Held, h.String())
	}
	if len(p.Cases[0].Loads) == 0 && len(p.Cases[0].Masses) == 0 {
		report.Loaded = []string{"the whole part, by its own acceleration"}
		return
	}
	for _, place := range at {
		report.Loaded = append(report.Loaded, place.String())
	}
}

func (s *solidFlags) axes(m *mesh.Mesh, report *note.SolidReport) (mesh.Axis, []mesh.Axis) {
	box := m.Bounds()
	span, load := beam.DefaultAxes(box)
	if s.span != nil {
		span = *s.span
		load = beam.ShortestBut(span, box)
	} else {
		report.Assume("span along %s, the longest side; --span changes it", span)
	}
	if len(s.along) > 0 {
		return span, s.along
	}
	if s.loads.any() && s.force == nil {
		return span, []mesh.Axis{load}
	}
	report.Assume("load along %s, the shortest side; --load-along changes it", load)
	return span, []mesh.Axis{load}
}

// places puts what a person fixed in place of the usual supports and returns the
// places that are loaded.
func (s *solidFlags) places(p *solid.Problem, span mesh.Axis) ([]solid.Place, error) {
	if len(s.fix) > 0 {
		p.Support, p.Supports = "", nil
		for _, text := range s.fix {
			place, err := s.placeOf("fix", text, span)
			if err != nil {
				return nil, err
			}
			p.Supports = append(p.Supports, solid.Clamped(place))
		}
	}
	if len(s.loadAt) == 0 {
		return []solid.Place{p.Cases[0].Loads[0].Place}, nil
	}
	var places []solid.Place
	for _, text := range s.loadAt {
		place, err := s.placeOf("load-at", text, span)
		if err != nil {
			return nil, err
		}
		places = append(places, place)
	}
	return places, nil
}

// placeOf reads a place of the part's file and takes it to the part as it is judged.
func (s *solidFlags) placeOf(flag, text string, span mesh.Axis) (solid.Place, error) {
	place, err := solid.ParsePlace(text, span)
	if err != nil {
		return place, usageError{fmt.Errorf("--%s: %w", flag, err)}
	}
	there, err := s.lies.place(place)
	if err != nil {
		return place, fmt.Errorf("--%s %s: %w", flag, text, err)
	}
	return there, nil
}
