package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"swapworth/mass"
	"swapworth/materials"
	"swapworth/note"
)

// observed holds the flags about what a person can see and feel of a part.
type observed struct {
	magnet *bool
	colour string
}

func (o *observed) register(cmd *cobra.Command) {
	f := cmd.Flags()
	f.Var(optional[bool]{&o.magnet, parseYesNo, "yes|no"}, "magnet", "does a magnet hold on the part?")
	f.Var(colourFlag{&o.colour}, "colour", "colour of the part where it is cut or scratched: "+
		strings.Join(colourNames(), ", "))
}

func parseYesNo(text string) (bool, error) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "yes", "y":
		return true, nil
	case "no", "n":
		return false, nil
	}
	return false, fmt.Errorf("%q: expected yes or no", text)
}

// colourFlag takes a colour group.
type colourFlag struct{ to *string }

func (c colourFlag) Set(text string) error {
	name := strings.ToLower(strings.TrimSpace(text))
	if name == "gray" {
		name = "grey"
	}
	if !slices.Contains(colourNames(), name) {
		return fmt.Errorf("%q: expected one of %s", text, strings.Join(colourNames(), ", "))
	}
	*c.to = name
	return nil
}

func (c colourFlag) String() string { return "" }
func (c colourFlag) Type() string   { return "colour" }

// colourNames are the groups that can be seen.
func colourNames() []string {
	return slices.DeleteFunc(slices.Clone(materials.Colours), func(c string) bool { return c == "any" })
}

func guessedResolution(w mass.Weighing) string {
	return fmt.Sprintf("scale resolution taken as %.3g g, the last digit typed: give --scale-resolution if the scale is coarser",
		w.Resolution)
}

// newIdentify builds the command that asks what a part is made of.
func newIdentify() *cobra.Command {
	var in input
	var out output
	var own tables
	var on scale
	var seen observed
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
			w, guessed := on.weighing()
			if w == nil {
				return usageError{fmt.Errorf("identify needs --weight, such as --weight 65g")}
			}
			table, err := own.open()
			if err != nil {
				return err
			}
			stated, err := findOptional(table, material)
			if err != nil {
				return err
			}
			l, err := in.load(args[0])
			if err != nil {
				return err
			}
			properties, err := mass.Measure(l)
			if err != nil {
				return err
			}
			if guessed {
				l.Warnings = append(l.Warnings, guessedResolution(*w))
			}
			r := mass.NewIdentification(l, properties, *w, table,
				mass.Observation{Magnet: seen.magnet, Colour: seen.colour}, stated)
			return out.write(cmd, r, note.IdentifyDocument(r))
		},
	}
	cmd.Flags().StringVar(&material, "material", "", "`NAME` of what the part is said to be made of")
	_ = cmd.RegisterFlagCompletionFunc("material", completeMaterial)
	on.register(cmd)
	seen.register(cmd)
	own.register(cmd)
	in.register(cmd)
	out.register(cmd)
	return cmd
}
