package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"swapworth/beam"
	"swapworth/beam/section"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/mesh/cut"
	"swapworth/note"
	"swapworth/quantity"
)

// newSection builds the command that measures a cross section.
func newSection() *cobra.Command {
	var s sectionFlags
	cmd := &cobra.Command{
		Use:   "section PART.stl | section \"rect 40x4mm\"",
		Short: "A plane cut of a part, or a simple section, and its properties",
		Long: "section cuts a part by a plane and gives the section's area, moments, torsion\n" +
			"constant, shear areas, shear centre and warping constant. In a cut at right\n" +
			"angles to x the section's axes are y and z, to y they are z and x, to z x and y.\n\n" +
			"A name with sizes instead of a file gives a simple section:\n  " +
			strings.Join(section.Usage(), "\n  ") + "\n" +
			"Solid bars and tubes give the width first, open profiles the height. IPE 80 to\n" +
			"300, HEA and HEB 100 to 200 go by their designation: \"IPE 200\".",
		Example: "  swapworth section testdata/reference/tube.stl --at x=100\n" +
			"  swapworth section part.stl --at z=25% --material 6061-T6\n" +
			"  swapworth section part.stl --through 10,0,0 --normal 1,1,0 --format json\n" +
			"  swapworth section \"I 200x100x5.6x8.5 r12\"",
		Args: usage(cobra.MinimumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error { return s.run(cmd, strings.Join(args, " ")) },
	}
	s.register(cmd)
	return cmd
}

type sectionFlags struct {
	in       input
	out      output
	own      tables
	material string
	poisson  *float64
	at       *cutPlace
	through  *quantity.Point
	normal   *quantity.Point
}

func (s *sectionFlags) register(cmd *cobra.Command) {
	f := cmd.Flags()
	textFlag(f, &s.at, "at", "place", "where to cut: x=30, y=1.5in, or z=50% of the way through\n"+
		"(default half way along the longest side)")
	textFlag(f, &s.through, "through", "point", "a point `x,y,z` of an oblique cutting plane (default unit mm)")
	textFlag(f, &s.normal, "normal", "vector", "the direction `x,y,z` at right angles to an oblique cutting plane")
	f.StringVar(&s.material, "material", "", "`NAME` of the material whose Poisson's ratio counts in shear")
	floatFlag(f, &s.poisson, "poisson", "Poisson's ratio, instead of the material's (default 0.3 without a material)")
	s.own.register(cmd)
	s.in.register(cmd)
	s.out.register(cmd)
	s.out.registerFigures(cmd)
}

func (s *sectionFlags) run(cmd *cobra.Command, what string) error {
	report := note.SectionReport{Assumptions: []string{}}
	poisson, err := s.ratio(&report)
	if err != nil {
		return err
	}
	ofMaterial := report.Warnings
	shape, isFile, err := named(what)
	switch {
	case isFile:
		err = s.ofPart(what, poisson, &report)
	case err == nil:
		err = s.ofShape(cmd, shape, poisson, &report)
	}
	if err != nil {
		return err
	}
	report.Warnings = append(ofMaterial, report.Warnings...)
	return s.out.write(cmd, report, report.Document())
}

// named tells a simple section from a file: what exists or looks like a path
// is a file.
func named(what string) (shape section.Shape, isFile bool, err error) {
	if _, found := os.Stat(what); found == nil || what == "-" {
		return shape, true, nil
	}
	shape, err = section.ParseShape(what)
	if err == nil {
		return shape, false, nil
	}
	ext := strings.ToLower(filepath.Ext(what))
	if ext == ".stl" || ext == ".gz" {
		return shape, true, nil
	}
	return shape, false, fmt.Errorf("%w, or name a file that exists", err)
}

// ratio is Poisson's ratio as given, else the material's, else 0.3.
func (s *sectionFlags) ratio(report *note.SectionReport) (float64, error) {
	table, err := s.own.open()
	if err != nil {
		return 0, err
	}
	var m *materials.Material
	if m, err = findOptional(table, s.material); err != nil {
		return 0, err
	}
	if m != nil {
		report.Material = &m.Name
		if grain := m.GrainWarning(); grain != "" { // torsion and shear of it are no isotropic ones
			report.Warnings = append(report.Warnings, grain)
		}
	}
	switch {
	case s.poisson != nil:
		if !(*s.poisson >= 0 && *s.poisson <= 0.5) {
			return 0, usageError{errors.New("--poisson: expected a number from 0 to 0.5")}
		}
		return *s.poisson, nil
	case m != nil && m.Elastic().Poisson > 0:
		return m.Elastic().Poisson, nil
	}
	report.Assumptions = append(report.Assumptions, "Poisson's ratio 0.3; --material or --poisson changes it")
	return 0.3, nil
}

func (s *sectionFlags) ofShape(cmd *cobra.Command, shape section.Shape, poisson float64, report *note.SectionReport) error {
	for _, name := range []string{"at", "through", "normal", "unit", "repair"} {
		if cmd.Flags().Changed(name) {
			return usageError{fmt.Errorf("--%s goes with a part; write units in the section, such as rect 1x0.125in", name)}
		}
	}
	var err error
	report.Section, report.Region = shape.String(), shape.Region()
	report.Report, err = shape.Report(poisson)
	return err
}

func (s *sectionFlags) ofPart(path string, poisson float64, report *note.SectionReport) error {
	if (s.through == nil) != (s.normal == nil) || s.through != nil && s.at != nil {
		return usageError{errors.New("give --at, or --through and --normal together")}
	}
	part, err := s.in.load(path)
	if err != nil {
		return err
	}
	plane, err := s.plane(part.Mesh, report)
	if err != nil {
		return err
	}
	report.File = part.Path
	report.Region, err = cut.Section(part.Mesh, plane)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	report.Report, err = section.NewReport(report.Region, poisson)
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	report.Warnings = append(part.Warnings, report.Warnings...)
	return nil
}

func (s *sectionFlags) plane(m *mesh.Mesh, report *note.SectionReport) (mesh.Plane, error) {
	if s.through != nil {
		p, err := mesh.PlaneFromNormal(s.through.Vec(), s.normal.Vec())
		if err != nil {
			return p, usageError{fmt.Errorf("--normal: %w", err)}
		}
		report.Cut = note.ObliqueCut(p)
		return p, nil
	}
	at := s.at
	if at == nil {
		span, _ := beam.DefaultAxes(m.Bounds())
		at = &cutPlace{axis: span, share: 0.5}
		report.Assumptions = append(report.Assumptions, fmt.Sprintf("cut half way along %s, the longest side; --at changes it", span))
	}
	position := at.in(m.Bounds())
	report.Cut = note.AxisCut(at.axis, position)
	return mesh.AxisPlane(at.axis, position), nil
}

// cutPlace is a position along an axis: a coordinate in mm, or a share of the
// part's extent where share is not below zero.
type cutPlace struct {
	axis  mesh.Axis
	at    quantity.Length
	share float64
}

// UnmarshalText reads "x=30", "y=1.5in" or "z=50%".
func (c *cutPlace) UnmarshalText(text []byte) error {
	wrong := fmt.Errorf("%q: expected an axis and a place such as x=30, y=1.5in or z=50%%", text)
	name, place, ok := strings.Cut(string(text), "=")
	if !ok {
		return wrong
	}
	axis, err := mesh.ParseAxis(name)
	if err != nil {
		return wrong
	}
	c.axis, c.share = axis, -1
	if strings.HasSuffix(strings.TrimSpace(place), "%") {
		var f quantity.Fraction
		if f.Set(place) != nil || f < 0 || f > 1 {
			return wrong
		}
		c.share = float64(f)
		return nil
	}
	if c.at.Set(place) != nil {
		return wrong
	}
	return nil
}

func (c *cutPlace) in(box mesh.Box) float64 {
	if c.share < 0 {
		return float64(c.at)
	}
	low, high := c.axis.Of(box.Min), c.axis.Of(box.Max)
	return low + c.share*(high-low)
}
