package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"
	"swapworth/mass"
	"swapworth/note"
)

// registerObserved registers the flags about what a person can see and feel.
func registerObserved(cmd *cobra.Command, o *mass.Observation) {
	f := cmd.Flags()
	f.Var(optional[bool]{&o.Magnet, mass.ParseYesNo, "yes|no"}, "magnet", "does a magnet hold on the part?")
	f.Var(colourFlag{&o.Colour}, "colour", "colour of the part where it is cut or scratched: "+
		strings.Join(mass.ColourNames(), ", "))
}

// colourFlag takes a colour group.
type colourFlag struct{ to *string }

func (c colourFlag) Set(text string) (err error) {
	*c.to, err = mass.ParseColour(text)
	return err
}

func (c colourFlag) String() string { return "" }
func (c colourFlag) Type() string   { return "colour" }

// newIdentify builds the command that asks what a part is made of.
func newIdentify() *cobra.Command {
	var in input
	var out output
	var own tables
	var on scale
	var seen mass.Observation
	var material string
	cmd := &cobra.Command{
		Use:   "identify PART.stl --weight MASS",
		Short: "Which materials fit a weighed mass",
		Long: "identify divides the weight by the volume of the mesh and lists the materials\n" +
			"that have such a density. Weigh one piece with its screws, nuts and bearings\n" +
			"taken out. A magnet and the colour of a scratch narrow the list. With --material\n" +
			"what somebody says the part is made of is held against the weight.",
		Example: "  swapworth identify part.stl --weight 65g --scale-resolution 1g\n" +
			"  swapworth identify part.stl --weight 64.8g --magnet no --colour grey\n" +
			"  swapworth identify part.stl --weight 65g --material S235",
		Args: usage(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if on.weight == nil {
				return usageError{errors.New("identify needs --weight, such as --weight 65g")}
			}
			p, err := own.measure(in, args[0], on, material)
			if err != nil {
				return err
			}
			r := mass.NewIdentification(p.loaded, p.properties, *p.weight, p.table, seen, p.material)
			return out.write(cmd, r, note.IdentifyDocument(r))
		},
	}
	cmd.Flags().StringVar(&material, "material", "", "`NAME` of what the part is said to be made of")
	on.register(cmd)
	registerObserved(cmd, &seen)
	own.register(cmd)
	in.register(cmd)
	out.register(cmd)
	return cmd
}
