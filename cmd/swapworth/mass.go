package main

import (
	"fmt"

	"github.com/spf13/cobra"
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/note"
	"swapworth/quantity"
)

// scale holds the flags about a weighed part.
type scale struct {
	weight     *quantity.Weight
	resolution *quantity.Mass
	off        *quantity.Fraction
}

func (s *scale) register(cmd *cobra.Command) {
	f := cmd.Flags()
	textFlag(f, &s.weight, "weight", "mass", "what the part weighs, hardware removed (default unit g)")
	textFlag(f, &s.resolution, "scale-resolution", "mass",
		"smallest step of the scale (default unit g; default the last digit typed)")
	textFlag(f, &s.off, "scale-error", "percent", "how far the scale itself may be off, of what it shows, such as 0.5% (default 0)")
}

// weighing returns nil when the part was not weighed. Guessed says that the
// resolution was read off the digits.
func (s *scale) weighing() (w *mass.Weighing, guessed bool) {
	if s.weight == nil {
		return nil, false
	}
	w = &mass.Weighing{Grams: s.weight.Grams, Resolution: s.weight.Step}
	if s.off != nil {
		w.Error = float64(*s.off)
	}
	if s.resolution == nil {
		return w, true
	}
	w.Resolution = float64(*s.resolution)
	return w, false
}

// newMass builds the command that measures a part.
func newMass() *cobra.Command {
	var in input
	var out output
	var own tables
	var on scale
	var material string
	cmd := &cobra.Command{
		Use:   "mass PART.stl",
		Short: "Volume, mass, centroid and inertia",
		Long: "mass measures what a closed mesh encloses. With --material it gives the mass as\n" +
			"an interval: the density varies from melt to melt, and flat faces on rounds hide\n" +
			"a little volume; centroid and moments of inertia carry the same range. With\n" +
			"--weight the mass is the weighed one, and a stated material that the weight\n" +
			"rules out leads the answer.",
		Example: "  swapworth mass part.stl --material 6061-T6\n" +
			"  swapworth mass part.stl --material S235 --weight 65g\n" +
			"  swapworth mass bracket.stl --material PLA@35% --format json",
		Args: usage(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := own.measure(in, args[0], on, material)
			if err != nil {
				return err
			}
			r := mass.NewWeighed(p.loaded, p.properties, p.material, p.weight)
			return out.write(cmd, r, note.MassDocument(r))
		},
	}
	cmd.Flags().StringVar(&material, "material", "", "`NAME` of the material, as in `swapworth materials`")
	on.register(cmd)
	own.register(cmd)
	in.register(cmd)
	out.register(cmd)
	return cmd
}

// measuredPart is a part that was read and measured, with what is said of it.
type measuredPart struct {
	loaded     *mesh.Loaded
	properties mass.Properties
	weight     *mass.Weighing      // nil: not weighed
	material   *materials.Material // nil: not stated
	table      *materials.Table
}

// measure reads a part and looks up the material that is stated of it.
func (t *tables) measure(in input, path string, on scale, material string) (p measuredPart, err error) {
	if p.table, err = t.open(); err != nil {
		return p, err
	}
	if p.material, err = findOptional(p.table, material); err != nil {
		return p, err
	}
	if p.loaded, err = in.load(path); err != nil {
		return p, err
	}
	if p.properties, err = mass.Measure(p.loaded); err != nil {
		return p, err
	}
	if e := on.off; e != nil && (*e < 0 || *e >= 1) {
		return p, fmt.Errorf("--scale-error %s: expected 0 or more, and less than 100 %%", *e)
	}
	var guessed bool
	if p.weight, guessed = on.weighing(); guessed {
		p.loaded.Warnings = append(p.loaded.Warnings, fmt.Sprintf("scale resolution taken as %.3g g, the last digit typed:"+
			" give --scale-resolution if the scale is coarser", p.weight.Resolution))
	}
	return p, nil
}

// findOptional returns nil for no name.
func findOptional(table *materials.Table, name string) (*materials.Material, error) {
	if name == "" {
		return nil, nil
	}
	m, err := table.Find(name)
	return &m, err
}
