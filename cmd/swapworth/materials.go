package main

import (
	"github.com/spf13/cobra"
	"swapworth/materials"
	"swapworth/note"
)

// tables holds the flag that every command which names a material shares.
type tables struct{ files []string }

func (t *tables) register(cmd *cobra.Command) {
	cmd.Flags().StringArrayVar(&t.files, "materials", nil, "add a table of your own materials from a TOML `FILE`")
}

// open returns the built-in table with the person's own tables laid over it.
func (t *tables) open() (*materials.Table, error) { return materials.Open(t.files...) }

// newMaterials builds the command that shows the material table.
func newMaterials() *cobra.Command {
	var own tables
	var out output
	var family string
	cmd := &cobra.Command{
		Use:   "materials [NAME]",
		Short: "The material table, or one material with its sources",
		Long: "materials lists the table that every command takes materials from; with NAME it\n" +
			"shows one material with the source of every value. Names and aliases go in any\n" +
			"case: 6061-T6, EN AW-6061, s235jr, stainless, POM. A printed plastic takes its\n" +
			"fill after an @: PLA@40%.\n\n" +
			"Your own materials go into a TOML file of the same form as the built-in table,\n" +
			"named with --materials or kept here:\n  " + userFile(),
		Example: "  swapworth materials\n" +
			"  swapworth materials 7075-T6\n" +
			"  swapworth materials --family aluminium --format csv\n" +
			"  swapworth materials --materials shop.toml --format json",
		Args: usage(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			table, err := own.open()
			if err != nil {
				return err
			}
			if len(args) == 1 {
				m, err := table.Find(args[0])
				if err != nil {
					return err
				}
				return out.write(cmd, m, note.MaterialDocument(m))
			}
			list := note.MaterialList{Materials: table.All()}
			if family != "" {
				m, err := table.Find(family)
				if err != nil {
					return err
				}
				list.Materials = table.OfFamily(m.Family)
			}
			return out.write(cmd, list, list.Document())
		},
		ValidArgsFunction: completeMaterial,
	}
	cmd.Flags().StringVar(&family, "family", "", "list one family only, such as aluminium")
	own.register(cmd)
	out.register(cmd)
	return cmd
}

func userFile() string {
	path, err := materials.UserFile()
	if err != nil {
		return "materials.toml in the swapworth folder of your configuration folder"
	}
	return path
}
