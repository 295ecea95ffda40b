package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"swapworth/note"
	"swapworth/swap/casefile"
)

// newInit builds the command that writes a commented case file.
func newInit() *cobra.Command {
	var overwrite bool
	cmd := &cobra.Command{
		Use:   "init [FILE.toml]",
		Short: "Write a commented case file to fill in",
		Long: "init writes a case file with every key explained; without a name it is called\n" +
			"swap.toml. Fill it in and run: swapworth compare --case swap.toml",
		Example: "  swapworth init\n  swapworth init arm.toml",
		Args:    usage(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			path := "swap.toml"
			if len(args) > 0 {
				path = args[0]
			}
			if err := note.WriteFile(path, []byte(casefile.Template), overwrite); err != nil {
				return err
			}
			fmt.Fprintf(cmd.OutOrStdout(), "wrote %s: fill it in and run\n  swapworth compare --case %s\n", path, quoted([]string{path}))
			return nil
		},
	}
	cmd.Flags().BoolVar(&overwrite, "overwrite", false, "replace FILE if it exists")
	return cmd
}
