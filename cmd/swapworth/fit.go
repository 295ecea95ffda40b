package main

import (
	"errors"

	"github.com/spf13/cobra"
	"swapworth/mass"
	"swapworth/mesh"
	"swapworth/note"
	"swapworth/quantity"
	"swapworth/swap/fit"
)

// newFit builds the command that says whether two parts bolt on alike.
func newFit() *cobra.Command {
	var in input
	var out output
	var sameFrame bool
	var accept, oldUnit, newUnit string
	position, diameter := quantity.Length(0.1), quantity.Length(0.1)
	cmd := &cobra.Command{
		Use:   "fit OLD.stl NEW.stl",
		Short: "Do the holes and faces still match?",
		Long: "fit finds what a part is bolted on and located by, brings both parts into one\n" +
			"frame and says what moved, was resized, tilted, is missing or new: round holes\n" +
			"with their heads and the faces around them, faces parallel to those, slots,\n" +
			"windows, bores with flats, spigots, outer sides and the envelope. Each finding\n" +
			"has its amount, and says whether it blocks. What was not compared is named.\n" +
			"Not told: flats in a bore over less than 32 degrees of it, and windows that\n" +
			"are no circle and turn by more than 31 degrees a chord.\n\n" +
			"The files' own frame is kept unless a motion matches more: then the motion is\n" +
			"told, and in how many positions the part fits as well. --same-frame keeps the\n" +
			"frame as it is. A mirror image is refused, with what tells it.\n\n" +
			"--accept FILE takes the JSON of an earlier fit: what blocked then is meant to be\n" +
			"so and blocks no more. Delete from its list of findings what is not.",
		Example: "  swapworth fit testdata/reference/carriage_old.stl \\\n" +
			"      testdata/reference/carriage_new.stl\n" +
			"  swapworth fit old.stl new.stl --position-tolerance 0.2mm --format json\n" +
			"  swapworth fit old.stl new.stl --accept meant.json",
		Args: usage(cobra.ExactArgs(2)),
		RunE: func(cmd *cobra.Command, args []string) error {
			old, err := in.loadClosed(args[0], oldUnit)
			if err != nil {
				return err
			}
			new, err := in.loadClosed(args[1], newUnit)
			if err != nil {
				return err
			}
			opt := fit.Options{Position: float64(position), Diameter: float64(diameter), SameFrame: sameFrame}
			if opt.Position <= 0 || opt.Diameter <= 0 {
				return usageError{errors.New("--position-tolerance and --diameter-tolerance must be above 0, such as 0.01mm")}
			}
			if opt.Accept, err = fit.AcceptedIn(accept); err != nil {
				return err
			}
			report := note.FitReport{
				OldFile: args[0], NewFile: args[1], AcceptFile: accept,
				Result: fit.Compare(old.Mesh, new.Mesh, opt),
			}
			return out.write(cmd, report, report.Document())
		},
	}
	f := cmd.Flags()
	f.Var(&position, "position-tolerance", "how far a hole may have moved (mm)")
	f.Var(&diameter, "diameter-tolerance", "how much a hole may have changed (mm)")
	f.StringVar(&oldUnit, "old-unit", "", "unit of OLD.stl alone: mm, cm, m or in (default that of --unit)")
	f.StringVar(&newUnit, "new-unit", "", "unit of NEW.stl alone (default that of --unit)")
	f.StringVar(&accept, "accept", "", "take the findings of an earlier fit, its JSON `FILE`, as meant")
	f.BoolVar(&sameFrame, "same-frame", false, "the two meshes lie as the parts do on the machine: turn and shift nothing")
	in.register(cmd)
	out.register(cmd)
	return cmd
}

// loadClosed reads a mesh in a unit of its own, that of --unit where it is empty,
// and refuses one that encloses no volume, as mass and compare do.
func (in input) loadClosed(path, unit string) (*mesh.Loaded, error) {
	if unit != "" {
		in.unit = unit
	}
	l, err := in.load(path)
	if err != nil {
		return nil, err
	}
	return l, mass.CheckClosed(l)
}
