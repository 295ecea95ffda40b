package main

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"swapworth/note/render"
	"swapworth/swap/casefile"
	"swapworth/swap/mill"
)

// newInit builds the command that writes a commented case file.
func newInit() *cobra.Command {
	var overwrite, profile bool
	var named string
	cmd := &cobra.Command{
		Use:   "init [FILE.toml]",
		Short: "Write a commented case file to fill in",
		Long: "init writes a case file with every key explained; without a name it is called\n" +
			"swap.toml. Fill it in and run: swapworth compare --case swap.toml\n\n" +
			"With --mill it writes the profile of a bench-top mill instead, to be changed to\n" +
			"yours: speeds, feeds, cutters, plate thicknesses and the times around the cut.",
		Example: "  swapworth init\n  swapworth init arm.toml\n  swapworth init --mill mine.toml",
		Args:    usage(cobra.MaximumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			path, text, use := "swap.toml", []byte(casefile.Template), "--case"
			if profile {
				path, text, use = "mill.toml", mill.BenchTopTOML(), "OLD.stl NEW.stl --mill-profile"
			}
			for _, name := range append(args, named) {
				if name != "" {
					path = name
				}
			}
			if ending := filepath.Ext(path); ending != "" && !strings.EqualFold(ending, ".toml") && !strings.HasPrefix(path, "/dev/") {
				return usageError{fmt.Errorf("%s: %s is no ending of a case file: expected .toml", path, ending)}
			}
			if path == "-" {
				_, err := cmd.OutOrStdout().Write(text)
				return err
			}
			if err := render.WriteFile(path, text, overwrite); err != nil {
				return err
			}
			fmt.Fprintf(cmd.OutOrStdout(), "wrote %s: fill it in and run\n  swapworth compare %s %s\n", path, use, render.CommandLine(path))
			return nil
		},
	}
	cmd.Flags().BoolVar(&profile, "mill", false, "write the profile of a bench-top mill instead")
	cmd.Flags().StringVarP(&named, "output", "o", "", "write to `FILE`, as naming it does; - is the terminal")
	cmd.Flags().BoolVar(&overwrite, "overwrite", false, "replace FILE if it exists")
	return cmd
}
