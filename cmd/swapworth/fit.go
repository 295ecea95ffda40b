package main

import (
	"errors"

	"github.com/spf13/cobra"
	"swapworth/note"
	"swapworth/quantity"
	"swapworth/swap/fit"
)

// newFit builds the command that says whether two parts bolt on alike.
func newFit() *cobra.Command {
	var in input
	var out output
	var sameFrame bool
	position, diameter := quantity.Length(0.1), quantity.Length(0.1)
	cmd := &cobra.Command{
		Use:   "fit OLD.stl NEW.stl",
		Short: "Do the holes and faces still match?",
		Long: "fit finds the round holes of both parts, brings the parts into one frame and\n" +
			"says which holes moved, were resized, are missing or new, which screws they\n" +
			"suit, and whether the clamped thickness or the envelope changed.\n\n" +
			"Frames that already match are kept; otherwise the hole pattern decides, then\n" +
			"the principal axes; --same-frame keeps them as they are. A mirrored part is\n" +
			"refused.",
		Example: "  swapworth fit testdata/reference/carriage_old.stl \\\n" +
			"      testdata/reference/carriage_new.stl\n" +
			"  swapworth fit old.stl new.stl --position-tolerance 0.2mm --format json",
		Args: usage(cobra.ExactArgs(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			old, err := in.load(args[0])
			if err != nil {
				return err
			}
			new, err := in.load(args[1])
			if err != nil {
				return err
			}
			opt := fit.Options{Position: float64(position), Diameter: float64(diameter), SameFrame: sameFrame}
			if opt.Position <= 0 || opt.Diameter <= 0 {
				return usageError{errors.New("--position-tolerance and --diameter-tolerance must be above 0, such as 0.01mm")}
			}
			report := note.FitReport{
				OldFile: args[0], NewFile: args[1],
				Result: fit.Compare(old.Mesh, new.Mesh, opt),
			}
			return out.write(cmd, report, report.Document())
		},
	}
	f := cmd.Flags()
	f.Var(&position, "position-tolerance", "how far a hole may have moved (mm)")
	f.Var(&diameter, "diameter-tolerance", "how much a hole may have changed (mm)")
	f.BoolVar(&sameFrame, "same-frame", false, "the two meshes lie as the parts do on the machine: turn and shift nothing")
	in.register(cmd)
	out.register(cmd)
	return cmd
}
