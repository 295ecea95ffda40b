package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"swapworth/beam"
	"swapworth/beam/section"
	"swapworth/mass"
	"swapworth/mesh"
	"swapworth/mesh/feature"
	"swapworth/note"
	"swapworth/quantity"
)

// newBeam builds the command that bends a part or a simple section as a beam.
func newBeam() *cobra.Command {
	var b beamFlags
	cmd := &cobra.Command{
		Use:   "beam [PART.stl]",
		Short: "Stiffness, stress and frequency of a part as a beam",
		Long: "beam cuts the part at every change of its section along the span and bends\n" +
			"the beam these sections make, shear included. --section bends a simple section\n" +
			"of the given --length instead, without a mesh.\n\n" +
			"Stiffness is force over displacement at the load: at the free end of a\n" +
			"cantilever, else at mid-span, or at the place --at names. A cantilever is\n" +
			"clamped on its whole section at the low end of the span, or at --from.\n" +
			"Places are coordinates along the span, or holes as fit numbers them: hole:1.\n\n" +
			"Simple sections:\n  " + strings.Join(section.Usage(), "\n  ") + "\n\n" + cautionText,
		Example: "  swapworth beam testdata/reference/tube.stl --material 6061-T6 --load 100N\n" +
			"  swapworth beam plate.stl --material S235 --from hole:1 --to hole:4 \\\n" +
			"    --support simply-supported --load 20N --attached-mass 200g\n" +
			"  swapworth beam --section \"rect 40x4mm\" --length 200mm --material 6061-T6",
		Args: usage(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error { return b.run(cmd, args) },
	}
	b.in.register(cmd)
	b.matter.register(cmd)
	b.register(cmd)
	b.out.register(cmd)
	b.out.registerFigures(cmd)
	return cmd
}

// beamFlags are the flags of beam.
type beamFlags struct {
	in      input
	out     output
	matter  elasticFlags
	section *section.Shape
	length  *quantity.Length

	span, along  *mesh.Axis
	support      *beam.Support
	force        *quantity.Force
	from, to, at *place
	attached     *quantity.Mass
	uniform      *quantity.Force
	axial        *quantity.Force
	couple       *quantity.Moment
	torque       *quantity.Moment
	ownWeight    bool
	instead      string
}

func (b *beamFlags) register(cmd *cobra.Command) {
	f := cmd.Flags()
	textFlag(f, &b.section, "section", "section", "a simple section instead of a part, such as \"rect 40x4mm\"")
	textFlag(f, &b.length, "length", "length", "length of the simple section (default unit mm)")
	textFlag(f, &b.span, "span", "axis", "axis along which the beam reaches: x, y or z (default the longest side)")
	textFlag(f, &b.along, "load-along", "axis", "axis along which the load acts (default the shortest side)")
	textFlag(f, &b.support, "support", "support", "cantilever, simply-supported, fixed-fixed or propped (default cantilever)")
	loadFlag(f, &b.force, "force at the load's place (default unit N)")
	textFlag(f, &b.at, "at", "place", "where the load acts: a coordinate along the span, or hole:N")
	textFlag(f, &b.from, "from", "place", "where the beam is held; a cantilever and a propped beam are clamped here")
	textFlag(f, &b.to, "to", "place", "where it is held at the other end, or where a cantilever reaches to")
	textFlag(f, &b.attached, "attached-mass", "mass", "mass at the load's place, for the frequency (default unit g)")
	textFlag(f, &b.uniform, "uniform-load", "force", "force spread evenly over the span, along the load (default unit N)")
	textFlag(f, &b.couple, "couple", "moment", "couple at the load's place, in the plane of the span and the load (default unit N mm)")
	textFlag(f, &b.torque, "torque", "moment", "torque about the span at the load's place (default unit N mm)")
	textFlag(f, &b.axial, "axial-load", "force", "force along the span at the load's place, tension positive (default unit N)")
	f.StringVar(&b.instead, "instead", "", "another material, `NAME`: how thick it must be to be as stiff, and what it then weighs")
	f.BoolVar(&b.ownWeight, "own-weight", false, "add the part's weight, along the load")
}

func (b *beamFlags) run(cmd *cobra.Command, args []string) error {
	if (b.section == nil) == (len(args) == 0) {
		return usageError{errors.New("give either PART.stl or --section with --length")}
	}
	if (b.section == nil) != (b.length == nil) {
		return usageError{errors.New("--length goes with --section, and --section needs it")}
	}
	if b.length != nil && !(*b.length > 0) {
		return usageError{fmt.Errorf("--length: %g mm, expected more than 0", float64(*b.length))}
	}
	for _, name := range []string{"unit", "repair"} {
		if b.section != nil && cmd.Flags().Changed(name) {
			return usageError{fmt.Errorf("--%s goes with a part; write units in the section, such as rect 1x0.125in", name)}
		}
	}
	m, err := b.matter.load()
	if err != nil {
		return err
	}
	report := note.BeamReport{Assumptions: m.assumed}
	if b.section != nil {
		err = b.ofSection(m, &report)
	} else {
		err = b.ofPart(args[0], m, &report)
	}
	if err != nil {
		return err
	}
	report.Material = m.name
	if b.instead != "" {
		if err := b.compareWith(m, &report); err != nil {
			return err
		}
	}
	report.Warnings = append(m.warnings, report.Warnings...)
	return b.out.write(cmd, report, report.Document())
}

// compareWith adds what another material would do in the part's place.
func (b *beamFlags) compareWith(m matter, report *note.BeamReport) error {
	table, err := b.matter.tables.open()
	if err != nil {
		return err
	}
	other, err := table.Find(b.instead)
	if err != nil {
		return fmt.Errorf("--instead: %w", err)
	}
	swap, err := beam.Instead(beam.Panel{Material: m.Elastic, Thickness: report.Depth}, other.Elastic())
	if err != nil {
		return fmt.Errorf("--instead: %w", err)
	}
	swap.Material = other.Name
	report.Instead = &swap
	return nil
}

func (b *beamFlags) ofSection(m matter, report *note.BeamReport) error {
	report.Section = b.section.String()
	setup := beam.Setup{Span: mesh.X, Load: mesh.Z}
	if b.span != nil && *b.span != mesh.X {
		return usageError{errors.New("--span: a simple section lies along x, with z up")}
	}
	if b.along == nil {
		report.Assume("load along z, across the section's height; --load-along y loads it sideways")
	} else {
		setup.Load = *b.along
	}
	if err := b.fill(&setup, nil, report); err != nil {
		return err
	}
	r, err := beam.OfShape(*b.section, float64(*b.length), m.Elastic, setup)
	report.Result = r
	return err
}

func (b *beamFlags) ofPart(path string, m matter, report *note.BeamReport) error {
	part, err := b.in.load(path)
	if err != nil {
		return err
	}
	if err := mass.CheckClosed(part); err != nil {
		return err
	}
	report.File = part.Path
	lies := straighten(part.Mesh, report.Assume)
	setup := b.axes(lies.mesh, report)
	found := lies.holes() // by the numbers of the file
	for _, h := range found {
		if h.Open {
			setup.Holes = append(setup.Holes, beam.RoundHole{Number: h.Number, Axis: h.Axis, Centre: h.Centre, Diameter: h.Diameter})
		}
	}
	if err := b.fill(&setup, found, report); err != nil {
		return err
	}
	report.Result, err = beam.OfPart(lies.mesh, m.Elastic, setup)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	report.Warnings = append(part.Warnings, report.Warnings...)
	return nil
}

// axes takes the axes given and completes them from the part's box.
func (b *beamFlags) axes(m *mesh.Mesh, report *note.BeamReport) beam.Setup {
	box := m.Bounds()
	span, load := beam.DefaultAxes(box)
	if b.span != nil {
		span = *b.span
		load = beam.ShortestBut(span, box)
	} else {
		if b.along != nil && *b.along == span {
			span = beam.LongestBut(*b.along, box)
		}
		report.Assume("span along %s, the longest side; --span changes it", span)
	}
	if b.along != nil {
		load = *b.along
	} else {
		report.Assume("load along %s, the shortest side; --load-along changes it", load)
	}
	return beam.Setup{Span: span, Load: load}
}

// fill adds support, places and loads.
func (b *beamFlags) fill(s *beam.Setup, holes []feature.Hole, report *note.BeamReport) error {
	if s.Span == s.Load {
		return usageError{fmt.Errorf("--load-along %s: the load must be at right angles to the span, which is along %s; solid pulls along it", s.Load, s.Span)}
	}
	if b.support == nil {
		report.Assume("held as a cantilever; --support changes it")
	} else {
		s.Support = *b.support
	}
	for _, p := range []struct {
		name string
		from *place
		to   **float64
	}{{"from", b.from, &s.From}, {"to", b.to, &s.To}, {"at", b.at, &s.At}} {
		if p.from == nil {
			continue
		}
		x, err := p.from.along(s.Span, holes)
		if err != nil {
			return fmt.Errorf("--%s: %w", p.name, err)
		}
		*p.to = &x
	}
	b.loads(s)
	return nil
}

func (b *beamFlags) loads(s *beam.Setup) {
	if b.force != nil {
		s.Force = float64(*b.force)
	}
	if b.attached != nil {
		s.AttachedMass = float64(*b.attached)
	}
	s.OwnWeight = b.ownWeight
	if b.uniform != nil {
		s.Loads = append(s.Loads, beam.Load{Kind: beam.SpreadForce, Value: float64(*b.uniform), Along: s.Load})
	}
	if b.couple != nil {
		s.Loads = append(s.Loads, beam.Load{Kind: beam.Couple, Value: float64(*b.couple), Along: s.Load})
	}
	if b.torque != nil {
		s.Loads = append(s.Loads, beam.Load{Kind: beam.Torque, Value: float64(*b.torque)})
	}
	if b.axial != nil {
		s.Loads = append(s.Loads, beam.Load{Kind: beam.AxialForce, Value: float64(*b.axial)})
	}
}

// place is a position along the span: a coordinate or a hole's centre.
type place struct {
	hole int // 0: a coordinate
	at   quantity.Length
}

// UnmarshalText reads "hole:2" or a length.
func (p *place) UnmarshalText(text []byte) error {
	word := strings.TrimSpace(string(text))
	number, isHole := strings.CutPrefix(strings.ToLower(word), "hole:")
	if !isHole {
		if err := p.at.Set(word); err != nil {
			return fmt.Errorf("%q: expected a coordinate such as 30mm, or hole:2", word)
		}
		return nil
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 {
		return fmt.Errorf("%q: expected a hole's number, such as hole:2", word)
	}
	p.hole = n
	return nil
}

// along returns the coordinate in mm.
func (p *place) along(span mesh.Axis, holes []feature.Hole) (float64, error) {
	if p.hole == 0 {
		return float64(p.at), nil
	}
	if p.hole > len(holes) {
		if len(holes) == 0 {
			return 0, fmt.Errorf("hole:%d: there are no round holes here; give a coordinate such as 30mm", p.hole)
		}
		return 0, fmt.Errorf("hole:%d: the part has %d round holes; fit lists them", p.hole, len(holes))
	}
	return span.Of(holes[p.hole-1].Centre), nil
}
