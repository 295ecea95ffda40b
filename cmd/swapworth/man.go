package main

import (
	"fmt"
	"os"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// newMan builds the command that writes the manual pages.
func newMan() *cobra.Command {
	return &cobra.Command{
		Use:     "man FOLDER",
		Short:   "Write the manual pages into a folder",
		Long:    "man writes one manual page a command into an existing folder, for man(1).",
		Example: "  swapworth man ~/.local/share/man/man1",
		Args:    usage(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			if info, err := os.Stat(args[0]); err != nil || !info.IsDir() {
				return fmt.Errorf("%s: expected an existing folder for the manual pages", args[0])
			}
			date := time.Unix(0, 0).UTC() // the same pages on every day
			header := &doc.GenManHeader{Title: "SWAPWORTH", Section: "1", Source: "swapworth " + version, Date: &date}
			return doc.GenManTree(cmd.Root(), header, args[0])
		},
	}
}
