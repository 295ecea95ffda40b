package main

import (
	"github.com/spf13/cobra"

	"swapworth/note"
	"swapworth/swap"
)

// newCompare builds the main command: two parts in, a table with a verdict out.
func newCompare() *cobra.Command {
	var c caseFlags
	var out output
	cmd := &cobra.Command{
		Use:   "compare OLD.stl NEW.stl",
		Short: "The table and the verdict: is the redesign worth making?",
		Long: "compare weighs the stock part against the redesign: mass, stiffness, strength,\n" +
			"what the saving buys, whether it still bolts on, and which unchecked assumption\n" +
			"would turn the answer over. The verdict is swap, keep or check first.\n\n" +
			"Two meshes alone are enough to begin with: what was assumed is said, and so is\n" +
			"what each missing input would add.\n\n" + cautionText,
		Example: "  swapworth compare testdata/arm_old.stl testdata/arm_new.stl\n" +
			"  swapworth compare old.stl new.stl --old-material S235 --old-weight 65g \\\n" +
			"    --new-material 6061-T6 --moving-mass 1.2kg --load 20N\n" +
			"  swapworth compare --case arm.toml --format html -o note.html",
		Args: usage(cobra.MaximumNArgs(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			question, err := c.load(args)
			if err != nil {
				return err
			}
			result, err := swap.Decide(cmd.Context(), question)
			if err != nil {
				return err
			}
			return out.write(cmd, result, note.Compare(result, about(cmd, question)))
		},
	}
	c.register(cmd)
	out.register(cmd)
	return cmd
}
