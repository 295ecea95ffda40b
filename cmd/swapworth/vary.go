package main

import (
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"swapworth/materials"
	"swapworth/mesh"
	"swapworth/note"
	"swapworth/quantity"
	"swapworth/swap"
)

// newVary builds the command that trades thickness and material.
func newVary() *cobra.Command {
	var c caseFlags
	var v varyFlags
	var out output
	cmd := &cobra.Command{
		Use:   "vary OLD.stl NEW.stl",
		Short: "Thickness and material of the redesign against mass and stiffness",
		Long: "vary stretches the redesign's own mesh along its thickness, holes across it\n" +
			"kept round, and compares every thickness in every material with the stock part\n" +
			"as compare does, by the same criteria. It marks what nothing else beats, and\n" +
			"solves for the thinnest of each material, and the lightest of them, that\n" +
			"compare calls swap; the thickness that nominal values would give stands beside.",
		Example: "  swapworth vary testdata/arm_old.stl testdata/arm_new.stl --old-material S235 \\\n" +
			"    --new-material 6061-T6 --try-thickness 4mm,5mm,6mm --try-material 7075-T6",
		Args: usage(cobra.MaximumNArgs(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			question, err := c.load(cmd.Context(), args)
			if err != nil {
				return err
			}
			variation, err := v.variation(question.Table)
			if err != nil {
				return err
			}
			bar := newProgress(cmd, "varying")
			variation.Progress = bar.set
			result, err := swap.Vary(cmd.Context(), question, variation)
			bar.done()
			if err != nil {
				return err
			}
			return out.write(cmd, result, note.Vary(result, question))
		},
	}
	v.register(cmd.Flags())
	c.register(cmd)
	out.register(cmd)
	out.registerFigures(cmd)
	return cmd
}

// varyFlags say what is tried.
type varyFlags struct {
	axis      *mesh.Axis
	thickness []quantity.Length
	materials []string
}

func (v *varyFlags) register(f *pflag.FlagSet) {
	textFlag(f, &v.axis, "thickness-axis", "axis", "direction of the thickness: x, y or z (default the redesign's shortest side)")
	f.Var(repeated[quantity.Length]{&v.thickness, parseText[quantity.Length], "length"}, "try-thickness", "a thickness to try; may be repeated (default seven around the drawn one)")
	f.StringSliceVar(&v.materials, "try-material", nil, "a material to try; may be repeated (default the redesign's)")
}

// variation finds the materials in the table.
func (v *varyFlags) variation(table *materials.Table) (swap.Variation, error) {
	out := swap.Variation{Axis: v.axis}
	for _, t := range v.thickness {
		out.Thickness = append(out.Thickness, float64(t))
	}
	for _, name := range v.materials {
		m, err := table.Find(name)
		if err != nil {
			return swap.Variation{}, err
		}
		out.Materials = append(out.Materials, m)
	}
	return out, nil
}
